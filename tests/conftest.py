"""What holds for all tests: in CI nothing is skipped, and the installed wheel is what is tested."""

from __future__ import annotations

import os

import pytest


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_makereport(item, call):
    """Turn a skip into a failure where FIZZPLATE_NO_SKIPS is set: what was not run did not pass."""
    outcome = yield
    report = outcome.get_result()
    if report.skipped and os.environ.get("FIZZPLATE_NO_SKIPS") and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = (
            f"{item.nodeid} was skipped, which counts as a failure here: {report.longrepr}"
        )
