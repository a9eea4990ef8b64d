"""A hub as `binder/hub/jupyterhub_config.py` sets it up, on this machine, and learners who open it.

By itself it measures: ``python tests/serving/hub_host.py --learners 30 --at-once 30`` prints how long
each waited for the page and how much memory a learner takes.
"""

from __future__ import annotations

import argparse
import asyncio
import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import aiohttp
import psutil
from jupyter_server.services.kernels.connection.base import (
    deserialize_msg_from_ws_v1,
    serialize_msg_to_ws_v1,
)

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.serving.apart import run_apart
from tests.serving.kernel_socket import SUBPROTOCOL
from tests.serving.shared_host import ROOT, Environment, answers_at, free_port, wait_for

#: where the proxy may have been installed already, with what the JavaScript tests need
JAVASCRIPT = Path(os.environ.get("FIZZPLATE_JAVASCRIPT", ROOT / "tests" / "javascript"))
PROXY = Path("node_modules", "configurable-http-proxy", "bin", "configurable-http-proxy")
LINK = "/hub/user-redirect/voila/render/demonstrate.ipynb"
MAX_WAIT_S = 180
# what a test puts in place of the real sign-in and of systemd, which a test machine may lack
FOR_A_TEST = """
load_subconfig({config!r}, path={folder!r})
c = get_config()
c.JupyterHub.authenticator_class = "dummy"
c.JupyterHub.spawner_class = "simple"
c.JupyterHub.hub_bind_url = "http://127.0.0.1:{hub_port}"
c.JupyterHub.cookie_secret = {secret!r}
c.JupyterHub.pid_file = ""
c.ConfigurableHTTPProxy.api_url = "http://127.0.0.1:{proxy_port}"
c.ConfigurableHTTPProxy.command = {proxy!r}
c.ConfigurableHTTPProxy.pid_file = {proxy_pid!r}
c.SimpleLocalProcessSpawner.home_dir_template = {homes!r}
c.Spawner.args = ["--allow-root"]
c.Spawner.environment.update({variables!r})
"""


def proxy_command(folder):
    """Return the command of the proxy: that of the JavaScript tests, or one installed now."""
    if not (JAVASCRIPT / PROXY).is_file():
        for name in ("package.json", "package-lock.json"):
            shutil.copy(JAVASCRIPT / name, folder)
        quiet = ["--silent", "--no-audit", "--no-fund", "--ignore-scripts"]
        subprocess.run(["npm", "ci", *quiet], cwd=folder, check=True)
        return ["node", str(folder / PROXY)]
    return ["node", str(JAVASCRIPT / PROXY)]


@contextmanager
def hub(environment, folder):
    """Start the hub; give its address and its process."""
    port, log = free_port(), folder / "log"
    settings = folder / "jupyterhub_config.py"
    settings.write_text(
        FOR_A_TEST.format(
            config="jupyterhub_config.py",
            folder=str(ROOT / "binder" / "hub"),
            hub_port=free_port(),
            proxy_port=free_port(),
            proxy=proxy_command(folder),
            proxy_pid=str(folder / "proxy.pid"),
            secret=os.urandom(32),
            homes=str(folder / "homes" / "{username}"),
            variables={k: v for k, v in environment.variables.items() if k == "JUPYTER_PATH"},
        )
    )
    command = [environment.python, "-m", "jupyterhub", "-f", settings]
    bind = f"http://127.0.0.1:{port}"
    with environment.running(log, *command, FIZZPLATE_BIND=bind) as process:
        wait_for(answers_at(port, "/hub/health"), process, log)
        yield bind, process


@dataclass
class Learner:
    """What one learner met: the page, the widgets that live behind it, and how long that took."""

    name: str
    page: str = ""
    widgets: int = 0
    waited_s: float = 0.0
    others: int = 0


async def open_page(address, name, another, gate):
    """Sign in, have a server started, read the page, and ask its program for its widgets."""
    learner = Learner(name)
    jar = aiohttp.CookieJar(unsafe=True)  # for an address without a name
    async with gate, aiohttp.ClientSession(address, cookie_jar=jar) as session:
        started = time.monotonic()
        async with session.get("/hub/login") as answer:
            token = re.search(r'name="_xsrf" value="([^"]+)"', await answer.text())[1]
        form = {"username": name, "password": "", "_xsrf": token}
        async with session.post("/hub/login", data=form, params={"next": LINK}) as answer:
            await answer.read()  # led on to the page that waits for the server
        async with session.get("/hub/home") as answer:
            token = re.search(r'xsrf_token: "([^"]+)"', await answer.text())[1]
        progress = f"/hub/api/users/{name}/server/progress"
        async with session.get(progress, params={"_xsrf": token}) as answer:
            answer.raise_for_status()
            async for line in answer.content:
                if line.startswith(b"data:") and json.loads(line[5:]).get("ready"):
                    break
        async with session.get(LINK) as answer:
            learner.page = await answer.text()
        learner.waited_s = time.monotonic() - started
        kernel = re.search(r'"kernelId": "([0-9a-f-]{36})"', learner.page)[1]
        channels = f"/user/{name}/api/kernels/{kernel}/channels"
        async with session.ws_connect(channels, protocols=[SUBPROTOCOL], max_msg_size=0) as socket:
            await socket.send_bytes(question("comm_info_request"))
            async for said in socket:
                _, (header, _, _, content, *_) = deserialize_msg_from_ws_v1(said.data)
                if json.loads(header)["msg_type"] == "comm_info_reply":
                    learner.widgets = len(json.loads(content)["comms"])
                    break
        async with session.get(f"/user/{another}/voila/render/demonstrate.ipynb") as answer:
            learner.others = answer.status  # the first learner's own server, to all but them
    return learner


def question(kind):
    """Return a message to a kernel, as a page writes it."""
    header = {"msg_id": kind, "msg_type": kind, "session": "test", "username": "", "version": "5.3"}
    message = {"header": header, "parent_header": {}, "metadata": {}, "content": {}}
    return serialize_msg_to_ws_v1(message, "shell", lambda part: json.dumps(part).encode())


def open_all(address, names, at_once):
    """Have learners open the page, some of them at once; return what each met."""

    async def everyone():
        gate = asyncio.Semaphore(at_once)
        opened = (open_page(address, name, names[0], gate) for name in names)
        return await asyncio.wait_for(asyncio.gather(*opened), MAX_WAIT_S + len(names) * 20)

    return run_apart(everyone())


def memory_MB(process):
    """Return the proportional share of memory of a process, MB."""
    text = Path(f"/proc/{process.pid}/smaps_rollup").read_text()
    return int(re.search(r"^Pss:\s+(\d+)", text, re.MULTILINE)[1]) * 1024 / 1e6


def servers(process):
    """Return each learner's processes: the server and its kernels."""
    return [
        [each, *each.children(recursive=True)]
        for each in process.children()
        if "jupyterhub.singleuser" in each.cmdline()
    ]


def tell(met, process, at_once):
    """Print what a class met that is still there, and what it takes."""
    whole = psutil.Process(process.pid)
    waited = sorted(each.waited_s for each in met)
    own = [[memory_MB(each) for each in group] for group in servers(whole)]
    hub_MB = memory_MB(whole) + sum(
        memory_MB(each)
        for each in whole.children()
        if "jupyterhub.singleuser" not in each.cmdline()
    )
    print(f"{len(met)} learners, {at_once} at once")
    print(f"page after, s: median {statistics.median(waited):.1f}, last {waited[-1]:.1f}")
    print(f"a server, MB: {statistics.median(group[0] for group in own):.0f}")
    print(f"its kernels, MB: {statistics.median(sum(group[1:]) for group in own):.0f}")
    print(f"a learner, MB: {statistics.median(sum(group) for group in own):.0f}")
    print(f"hub, proxy and culler, MB: {hub_MB:.0f}")


def main():
    """Measure a class, and print what it met and what it takes."""
    chosen = argparse.ArgumentParser(description=__doc__)
    chosen.add_argument("--learners", type=int, default=30)
    chosen.add_argument("--at-once", type=int, default=30)
    options = chosen.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        environment = Environment(folder / "environment")
        with hub(environment, folder) as (address, process):
            names = [f"learner{k}" for k in range(options.learners)]
            tell(open_all(address, names, options.at_once), process, options.at_once)


if __name__ == "__main__":
    main()
