"""What holds for all tests: nothing skipped counts as passed, and what is slow is shared in one process."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

BROWSER = "tests/browser/"
#: half of the browser's tests, by their shares of processor time, for a second browser
SECOND_BROWSER = tuple(
    f"{BROWSER}test_{name}"
    for name in (
        "explore", "focus", "hosts", "measure", "old_results", "papers", "prepare", "printed", "revise",
        "take_away", "workshop",
    )
)  # fmt: skip
#: what mostly waits, for servers and browsers; everything else computes
WAITING = ("tests/serving/", "tests/engines/", "tests/speed/")
#: whose tests look at what is made of runs, not at running: the same cell is run once for all
ABOUT_RUNS = ("tests/lesson/", "tests/views/", "tests/test_doctests.py")
#: what is slow to start or to work out, by those whose tests share it: they stay in one process
SHARED = {
    SECOND_BROWSER: "another browser and its servers",
    BROWSER: "a browser and its servers",
    **dict.fromkeys(ABOUT_RUNS, "runs"),
    "tests/serving/test_hub.py": "an environment as a host builds it",
    "tests/serving/test_shared_link.py": "an environment as a host builds it",
}

settings.register_profile("untimed", deadline=None)  # a slow machine is no failure
settings.load_profile("untimed")


@pytest.fixture(autouse=True)
def each_cell_is_run_once(request):
    """Let tests of lessons, views and docstrings look at a run that an earlier one made of the same cell."""
    if request.node.nodeid.startswith(ABOUT_RUNS):
        from fizzplate.cell import known_runs

        with known_runs.store_new_runs():
            yield
    else:
        yield


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


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Give what shares something to one process, where several share the work, and each other file to one."""
    from xdist.scheduler import LoadScopeScheduling

    class ByWhatIsShared(LoadScopeScheduling):
        def _split_scope(self, nodeid):
            shared = (what for where, what in SHARED.items() if nodeid.startswith(where))
            return next(shared, nodeid.partition("::")[0])

    return ByWhatIsShared(config, log)


def pytest_collection_modifyitems(config, items):
    """Where several share the work, begin with the browser's tests, and small files even out the end.

    Beside the browser, which needs a processor, those come first that wait; then the largest share.
    """
    if hasattr(config, "workerinput"):
        for first in (ABOUT_RUNS, WAITING, (BROWSER,)):
            items.sort(key=lambda item: not item.nodeid.startswith(first))


def pytest_configure(config):
    """Register it as a plugin, so that it holds for the notebooks and the README as well."""
    if os.environ.get("FIZZPLATE_NO_SKIPS"):
        config.pluginmanager.register(SkipsFail(), "skips-fail")
