"""What holds for all tests: what was not run did not pass, and two browsers do not share a machine."""

from __future__ import annotations

import os
from pathlib import Path

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


BROWSER = Path(__file__).parent / "browser"


@pytest.hookimpl(tryfirst=True)  # before the distribution reads the mark
def pytest_collection_modifyitems(items):
    """Give the browser's tests to one process, where several share the work, and each other file to one."""
    for item in items:
        group = "browser" if BROWSER in item.path.parents else str(item.path)
        item.add_marker(pytest.mark.xdist_group(group))


def pytest_configure(config):
    """Register it as a plugin, so that it holds for the notebooks and the README as well."""
    if os.environ.get("FIZZPLATE_NO_SKIPS"):
        config.pluginmanager.register(SkipsFail(), "skips-fail")
