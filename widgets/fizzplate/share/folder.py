"""A private folder for what a server writes; it is removed when the server ends, however that happens."""

from __future__ import annotations

import errno
import os
import shutil
import stat
import sys
import tempfile
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from fizzplate.share.places import template_folder

if TYPE_CHECKING:
    from collections.abc import Iterator

PREFIX = "fizzplate-"
#: a file in the folder that the server holds locked for as long as it runs: no other sign tells in each
#: container that shares the temporary folder, and none is given up so surely
OWNER = "owner"
#: what Jupyter and IPython would otherwise write into, and read from, the reader's home
PRIVATE_FOLDERS = {
    "JUPYTER_RUNTIME_DIR": "",
    "JUPYTER_DATA_DIR": "data",
    "JUPYTER_CONFIG_DIR": "config",
    "IPYTHONDIR": "ipython",
}


@contextmanager
def private_folder() -> Iterator[Path]:
    """Keep connection files, sockets, history and signatures in a folder that is removed at the end.

    The reader's own Jupyter settings stay out of the page for the same reason. Matplotlib's list
    of fonts is left where matplotlib keeps it: making it again takes seconds.
    """
    try:
        tempfile.gettempdir()
    except FileNotFoundError as problem:  # none that can be written into
        raise OSError(errno.ENOSPC, "no usable temporary folder") from problem
    remove_stale_folders()
    kept = tempfile.TemporaryDirectory(prefix=PREFIX)
    folder = Path(kept.name)
    with _owned(folder), kept:
        for variable, name in PRIVATE_FOLDERS.items():
            os.environ[variable] = str(folder / name)
        search = [str(template_folder()), os.environ.get("JUPYTER_PATH", "")]
        os.environ["JUPYTER_PATH"] = os.pathsep.join(part for part in search if part)
        yield folder


@contextmanager
def _owned(folder: Path) -> Iterator[None]:
    """Hold a folder's lock file, named only once it is locked: others may start at the same time."""
    if sys.platform == "win32":  # which removes no file that is open, and no folder with one
        yield
        return
    with (folder / f"{OWNER}-to-be").open("w") as owner:
        _locks(owner.fileno())
        Path(owner.name).rename(folder / OWNER)
        yield


def remove_stale_folders() -> None:
    """Remove the folders of our own servers that were killed before they could do so.

    Only folders of this user whose server has gone; no link is followed.
    """
    for folder in Path(tempfile.gettempdir()).glob(f"{PREFIX}*"):
        with suppress(OSError):  # another server's, another user's, or gone meanwhile
            found = folder.lstat()
            if sys.platform == "win32" or not stat.S_ISDIR(found.st_mode):
                continue
            if found.st_uid != os.geteuid():
                continue
            owner = os.open(folder / OWNER, os.O_RDWR | os.O_NOFOLLOW)
            try:
                if _locks(owner):
                    shutil.rmtree(folder, ignore_errors=True)
            finally:
                os.close(owner)


def _locks(file: int) -> bool:
    """Lock a file, and tell whether that could be done."""
    if sys.platform == "win32":
        return False
    import fcntl

    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True
