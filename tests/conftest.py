"""What holds for all tests: where FIZZPLATE_NO_SKIPS is set, what was not run did not pass."""

from __future__ import annotations

import os

import pytest


class SkipsFail:
    """Turn every skip, of a test or of a whole file, into a failure that names it."""

    @pytest.hookimpl(wrapper=True, tryfirst=True)
    def pytest_runtest_makereport(self):
        report = yield
        return self._failed(report) if not hasattr(report, "wasxfail") else report

    @pytest.hookimpl(wrapper=True, tryfirst=True)
    def pytest_make_collect_report(self):
        return self._failed((yield))

    @staticmethod
    def _failed(report):
        if report.skipped:
            report.longrepr = f"{report.nodeid} was skipped, and that counts: {report.longrepr}"
            report.outcome = "failed"
        return report


def pytest_configure(config):
    """Register it as a plugin, so that it holds for the notebooks and the README as well."""
    if os.environ.get("FIZZPLATE_NO_SKIPS"):
        config.pluginmanager.register(SkipsFail(), "skips-fail")
