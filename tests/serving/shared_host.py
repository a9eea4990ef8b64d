"""An environment as a shared host builds it, its server, and a browser to look at it with."""

from __future__ import annotations

import functools
import http.client
import os
import shutil
import socket
import subprocess
import sys
import sysconfig
import time
import venv
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

import psutil
from playwright.sync_api import sync_playwright
from tests.browser.conftest import BROWSERS, CHROMIUM_FLAGS, HOW_TO_INSTALL

ROOT = Path(__file__).parents[2]
BINDER = ROOT / "binder"
LOCK = BINDER / "hub" / "requirements.lock"
PATIENCE_S = 120  # for a server to listen, on a machine that does other work too
FULL = "FIZZPLATE_FULL_ENVIRONMENT"


def free_port():
    """Return a port of the loopback address that is free now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Environment:
    """A virtual environment that holds the wheel and what `binder/postBuild` put there.

    Its packages are those of the environment that runs the tests, lent through a `.pth` file: that
    takes seconds. With FIZZPLATE_FULL_ENVIRONMENT set they are installed anew from the container's
    lock file, hashes checked, and nothing is lent.
    """

    def __init__(self, folder):
        self.folder = Path(folder)
        self.python = self.folder / "bin" / "python"
        self.full = bool(os.environ.get(FULL))
        venv.create(self.folder, with_pip=False, symlinks=True)
        if self.full:
            self._install("--require-hashes", "--requirement", str(LOCK))
            self._install("jupyterhub-idle-culler")  # the hub's, where one machine holds both
        else:
            site = sysconfig.get_path("purelib", vars={"base": str(self.folder)})
            Path(site, "lent.pth").write_text(sysconfig.get_path("purelib"))
        self._install(self._wheel())
        home = self.folder / "home"
        home.mkdir()
        self.variables = {
            **{name: os.environ[name] for name in ("LANG", "TMPDIR") if name in os.environ},
            "PATH": f"{self.folder / 'bin'}{os.pathsep}{os.environ['PATH']}",
            "HOME": str(home),
        }
        if not self.full:  # the widgets' front ends are lent too
            self._enable_voila()
            self.variables["JUPYTER_PATH"] = str(Path(sys.prefix, "share", "jupyter"))
        subprocess.run([BINDER / "postBuild"], check=True, cwd=ROOT, env=self.variables)

    def _install(self, *what):
        pip = [sys.executable, "-m", "pip", "--python", self.python]
        subprocess.run([*pip, "install", "-q", "--no-deps", *what], check=True)

    def _enable_voila(self):
        """Do what installing Voila here would do; other extensions that lie around stay out."""
        enabled = Path("etc", "jupyter", "jupyter_server_config.d", "voila.json")
        (self.folder / enabled).parent.mkdir(parents=True)
        shutil.copy(Path(sys.prefix, enabled), self.folder / enabled)

    def _wheel(self):
        if built := os.environ.get("FIZZPLATE_WHEEL"):
            return built
        folder = self.folder / "wheel"
        pip = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", folder, ROOT]
        subprocess.run(pip, check=True)
        return next(folder.glob("fizzplate-*.whl"))

    @contextmanager
    def running(self, log, *command, **variables):
        """Run a command of this environment from the top of the checkout; end it afterwards."""
        with Path(log).open("wb") as said:
            process = subprocess.Popen(
                command,
                cwd=ROOT,
                env={**self.variables, **variables},
                stdout=said,
                stderr=subprocess.STDOUT,
            )
            try:
                yield process
            except BaseException:  # where all went well, ending what it started is its own task
                for each in psutil.Process(process.pid).children(recursive=True):
                    each.kill()
                raise
            finally:
                process.terminate()
                process.wait(timeout=60)


@functools.cache
def environment(temporary):
    """Build the environment in a folder once, for all tests that ask for it."""
    return Environment(temporary / "environment")


def wait_for(answers, process, log):
    """Wait until a server answers; a process that ends before that says why in its log."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end and process.poll() is None:
        if answers():
            return
        time.sleep(0.2)  # what is asked answers at once
    raise AssertionError(f"the server does not answer:\n{Path(log).read_text()}")


def answers_at(port, path):
    """Return a question that is true once a server on the loopback address serves a path."""

    def answers():
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        try:
            connection.request("GET", path)
            return connection.getresponse().status < 400
        except OSError:
            return False
        finally:
            connection.close()

    return answers


def in_chromium(work):
    """Do some work with the system's Chromium, in a thread of its own.

    Two of playwright's drivers cannot share a thread, and other tests keep theirs open.
    """

    def run():
        path = next(filter(None, map(shutil.which, BROWSERS)), None)
        assert path, HOW_TO_INSTALL
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=path, args=CHROMIUM_FLAGS)
            try:
                return work(browser)
            finally:
                browser.close()

    with ThreadPoolExecutor(1) as pool:
        return pool.submit(run).result()
