"""Kernels are forked where that works; where it does not, they start one by one, and that is said once."""

from __future__ import annotations

import fcntl
import os
import select
import subprocess
import sys
import uuid

import psutil
import pytest
from tests.serving.apart import run_apart
from tests.serving.conftest import WIDGET

from fizzplate.share.forking import WarmParent
from fizzplate.share.forking.warming import ONLY

NO_PARENT = """
import sys

if "fizzplate.share.forking.parent" in sys.orig_argv:
    raise SystemExit(3)
"""


WARM_UP = """
import os, threading
from fizzplate.cell.known_runs import known_runs
from fizzplate.lesson import CORE, CellSetup
from fizzplate.share.forking import warming

warming.CORE = warming.CORE[:1]  # one solution that the teacher may choose is as good as four
warming.load()
for task in warming.tasks():
    task()
assert threading.active_count() == 1
known = [CellSetup(solution).cell().run(minutes=5) for solution in CORE]
again = [CellSetup(solution).cell().run(minutes=5) for solution in CORE]
same = [one is other for one, other in zip(known, again)]
assert all(same), same
"""


@pytest.fixture(scope="module")
def parent():
    warm = WarmParent()
    warm.start()
    yield warm
    warm.close()


def fork(warm, folder):
    file = folder / f"kernel-{uuid.uuid4()}.json"
    return run_apart(warm.fork(str(file), dict(os.environ), str(folder)))


def test_a_forked_kernel_is_named_and_ends_when_it_is_told(parent, tmp_path):
    kernel = fork(parent, tmp_path)
    assert kernel.poll() is None
    kernel.kill()
    assert kernel.wait() == 0
    kernel.kill()  # once more does no harm
    assert kernel.poll() == 0


def test_a_kernel_is_watched_where_very_many_files_are_open(parent, tmp_path):
    kernel = fork(parent, tmp_path)
    low, high = kernel._descriptor, 1500  # above 1023, which not every way of waiting takes
    kernel._descriptor = fcntl.fcntl(low, fcntl.F_DUPFD_CLOEXEC, high)
    os.close(low)
    assert kernel.poll() is None
    kernel.kill()
    assert kernel.wait() == 0


def test_kernels_outlive_their_parent_and_the_next_has_a_new_one(parent, tmp_path):
    first = fork(parent, tmp_path)
    before = parent.pid
    psutil.Process(before).kill()
    second = fork(parent, tmp_path)
    assert parent.pid != before
    assert (first.poll(), second.poll()) == (None, None)
    first.kill()
    second.kill()
    assert (first.wait(), second.wait()) == (0, 0)


def test_kernels_end_with_the_server(tmp_path):
    warm = WarmParent()
    warm.start()
    kernel = fork(warm, tmp_path)
    warm.close()
    assert select.select([kernel._descriptor], [], [], 30)[0]


def test_where_forking_fails_pages_open_all_the_same(tmp_path, started, read_page, capfd):
    """As on other systems; and below a folder with a space and letters of another language."""
    folder = tmp_path / "Größe und Maß 電解"
    folder.mkdir()
    (folder / "sitecustomize.py").write_text(NO_PARENT)
    places = dict.fromkeys(("PYTHONPATH", "HOME", "TMPDIR"), str(folder))
    if before := os.environ.get("PYTHONPATH"):
        places["PYTHONPATH"] += os.pathsep + before
    with started(**places) as process:
        address = process.stdout.readline().strip()
        for _ in range(2):
            assert WIDGET in read_page(address)[1]
        names = {child.name() for child in psutil.Process(process.pid).children(recursive=True)}
    assert not any(name.startswith("kernel-") for name in names)
    assert capfd.readouterr().err.count("started one by one") == 1


def test_what_is_worked_out_ahead_leaves_no_thread_and_is_known_afterwards():
    """In a process of its own, as the parent does it: a failure there would only start it anew, unseen."""
    environment = {name: value for name, value in os.environ.items() if name != ONLY}
    subprocess.run([sys.executable, "-c", WARM_UP], env=environment, check=True)
