"""The shared link: its files are sound, and what they build shows our pages and nothing else."""

from __future__ import annotations

import http.client
import json
import os
import re
import subprocess
import sys
from html import unescape
from pathlib import Path
from types import SimpleNamespace

import pytest
import websocket
from jupyter_server.services.kernels.connection.base import deserialize_msg_from_ws_v1
from tests.browser.visit import LOADING_MS
from tests.pages import for_every_page
from tests.serving.conftest import WIDGET, printed
from tests.serving.shared_host import (
    BINDER,
    answers_at,
    environment,
    free_port,
    in_chromium,
    wait_for,
)

sys.path.insert(0, str(Path(__file__).parent))
from malformed import ENDLESS, HEADER, sound

from fizzplate.share.handlers.frames import PROTOCOL
from fizzplate.share.network import LOOPBACK, Place
from fizzplate.share.settings import SECURITY_HEADERS, settings

# on each page: what is pressed once its program has drawn it, and the words that then appear
PRESSED = for_every_page(
    {
        "demonstrate": ("button", "Switch on", "Switch off"),
        "explore": ("button", "Switch on", "Switch off"),
        "measure": ("button", "Try an invented class", "Invented for trying the page"),
        "revise": ("button", "Next question", "Question 2 of 10"),
        "prepare": ("tab", "Technician's order", "g of Na₂SO₄"),
    }
)
LINKS = {"prepare": "?cells=Na2SO4", "revise": "?set=1"}  # one sheet is as good as four
LAPTOP = {"width": 1280, "height": 800}
KERNEL = re.compile(r"/api/kernels/([0-9a-f-]{36})")


def test_the_files_are_those_that_binder_reads():
    assert sorted(path.name for path in BINDER.iterdir()) == [
        "hub",
        "jupyter_server_config.py",
        "postBuild",
        "requirements.txt",
        "runtime.txt",
        "start",
        "voila.json",
    ]
    assert (BINDER / "requirements.txt").read_text().split() == ["."]
    version = re.fullmatch(r"python-3\.(\d+)\n", (BINDER / "runtime.txt").read_text())[1]
    assert int(version) >= 11


def test_the_shared_link_has_the_settings_of_the_command():
    shared = json.loads((BINDER / "voila.json").read_text())["VoilaConfiguration"]
    command = dict(settings(Path("unused"), Place(LOOPBACK, 0), 1).VoilaConfiguration)
    # the shared machine holds one environment, and its server keeps its own kernels
    del command["kernel_spec_manager_class"], command["multi_kernel_manager_class"]
    assert shared == command


@pytest.mark.parametrize("script", ["postBuild", "start"])
def test_scripts_are_sound(script):
    assert os.access(BINDER / script, os.X_OK)
    subprocess.run(["bash", "-n", BINDER / script], check=True)


@pytest.fixture(scope="module")
def shared(tmp_path_factory):
    """Build the environment, start a Jupyter server in it as Binder does, and look at each page."""
    built = environment(tmp_path_factory.getbasetemp())
    port, log = free_port(), tmp_path_factory.mktemp("shared") / "log"
    server = [built.python, "-m", "jupyter_server", f"--port={port}", "--ServerApp.ip=127.0.0.1"]
    server += ["--no-browser", "--allow-root", "--IdentityProvider.token="]
    with built.running(log, BINDER / "start", *server) as process:
        wait_for(answers_at(port, "/api"), process, log)
        seen = in_chromium(lambda browser: look_at_all(browser, port))
        yield SimpleNamespace(port=port, seen=seen)


def look_at_all(browser, port):
    """Look at each page as one reader who goes from page to page."""
    context = browser.new_context(viewport=LAPTOP)
    return {name: look(context.new_page(), port, name) for name in PRESSED}


def look(page, port, name):
    """Open a page, press what it offers, and tell what was seen, complained of and asked for."""
    errors, requested_urls, kernels = [], [], []
    page.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("request", lambda request: requested_urls.append(request.url))
    page.on("websocket", lambda socket: kernels.extend(KERNEL.findall(socket.url)))
    served = page.goto(
        f"http://127.0.0.1:{port}/voila/render/{name}.ipynb{LINKS.get(name, '')}"
    ).text()
    role, pressed, words = PRESSED[name]
    page.get_by_role(role, name=pressed, exact=True).first.click(timeout=LOADING_MS)
    page.get_by_text(words).filter(visible=True).first.wait_for(timeout=LOADING_MS)
    text, said = page.content(), page.locator("body").inner_text()
    page.close()
    return SimpleNamespace(
        errors=errors,
        requested_urls=requested_urls,
        kernels=kernels,
        served=unescape(served),
        text=text,
        said=said,
    )


@pytest.mark.parametrize("name", PRESSED)
def test_each_page_works_without_an_error(shared, name):
    assert shared.seen[name].errors == []
    assert "Traceback" not in shared.seen[name].text
    assert "import fizzplate" not in shared.seen[name].text


@pytest.mark.parametrize("name", PRESSED)
def test_what_a_notebook_prints_stays_in_the_notebook(shared, name):
    seen = shared.seen[name]
    assert WIDGET in seen.served
    assert [line for line in printed(name) if line in seen.served + seen.said] == []


@pytest.mark.parametrize("name", PRESSED)
def test_no_page_asks_another_host_for_anything(shared, name):
    own = re.compile(rf"(http|ws)://127\.0\.0\.1:{shared.port}/|(blob|data):")
    assert shared.seen[name].requested_urls
    assert [address for address in shared.seen[name].requested_urls if not own.match(address)] == []


def ask(port, path, method="GET", body=None):
    """Ask the server for something as a stranger does; follow nothing."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    connection.request(method, path, body=body)
    answer = connection.getresponse()
    text = answer.read().decode()
    connection.close()
    return answer, text


@pytest.mark.parametrize(
    "path",
    [
        "/api/contents",
        "/api/contents/demonstrate.ipynb",
        "/api/kernels",
        "/api/kernelspecs",
        "/api/sessions",
        "/api/terminals",
        "/api/config/common",
        "/files/demonstrate.ipynb",
        "/nbconvert/html/demonstrate.ipynb",
        "/view/demonstrate.ipynb",
        "/voila/files/demonstrate.ipynb",
        "/voila/render/../../pyproject.toml",
        "/voila/render/..%2F..%2Fpyproject.toml",
        "/voila/render/%2Fetc%2Fpasswd",
    ],
)
def test_nothing_else_is_served(shared, path):
    answer, text = ask(shared.port, path)
    if answer.status == 302:  # what is no notebook is sent to where files would be
        answer, text = ask(shared.port, answer.headers["Location"])
    assert answer.status in {403, 404}
    assert "hatchling" not in text
    assert "root:" not in text


@pytest.mark.parametrize("folder", ["", "/notebooks", "/.ipynb_checkpoints"])
def test_no_folder_is_listed(shared, folder):
    answer, text = ask(shared.port, f"/voila/api/contents{folder}")
    assert answer.status == 404 or json.loads(text)["content"] == []


def test_the_first_address_leads_to_the_pages(shared):
    answer, _ = ask(shared.port, "/")
    assert answer.status == 302
    assert answer.headers["Location"].rstrip("?") == "/voila"
    answer, text = ask(shared.port, "/voila")
    assert answer.status == 200
    for name in PRESSED:
        assert f'href="/voila/render/{name}.ipynb"' in text


def test_no_program_is_started_or_ended_from_outside(shared):
    assert ask(shared.port, "/api/kernels", "POST", "{}")[0].status == 403
    running = f"/api/kernels/{shared.seen['demonstrate'].kernels[0]}"
    assert ask(shared.port, running)[0].status == 200
    for method, path in [("DELETE", running), ("POST", running + "/restart")]:
        assert ask(shared.port, path, method)[0].status == 403
    assert ask(shared.port, running)[0].status == 200


def message(kind, **content):
    """Return a message to a kernel, as a browser writes it."""
    return sound(HEADER | {"msg_id": kind, "msg_type": kind}, json.dumps(content).encode())


def test_code_from_a_browser_is_not_run(shared):
    kernel = shared.seen["demonstrate"].kernels[0]
    address = f"ws://127.0.0.1:{shared.port}/api/kernels/{kernel}/channels"
    socket = websocket.create_connection(address, timeout=60, subprotocols=[PROTOCOL])
    socket.send_binary(message("execute_request", code="print('was run')", silent=False))
    socket.send_binary(message("kernel_info_request"))
    answers, parents = [], []
    while len(answers) < 2 or "kernel_info_request" not in parents:
        answers.append(deserialize_msg_from_ws_v1(socket.recv())[1])
        parents.append(json.loads(answers[-1][1]).get("msg_id"))
    socket.send_binary(ENDLESS)
    while socket.recv_data_frame(control_frame=True)[0] != websocket.ABNF.OPCODE_CLOSE:
        pass
    socket.close()
    assert b"was run" not in b"".join(part for parts in answers for part in parts)
    assert "execute_request" not in parents
    assert ask(shared.port, f"/api/kernels/{kernel}")[0].status == 200
    with pytest.raises(websocket.WebSocketBadStatusException, match="400"):
        websocket.create_connection(address, timeout=60)


def test_another_site_cannot_talk_to_a_program(shared):
    kernel = shared.seen["demonstrate"].kernels[0]
    address = f"ws://127.0.0.1:{shared.port}/api/kernels/{kernel}/channels"
    with pytest.raises(websocket.WebSocketBadStatusException, match="403"):
        websocket.create_connection(
            address, timeout=60, origin="http://elsewhere.example", subprotocols=[PROTOCOL]
        )


def test_the_headers_are_those_of_the_command(shared):
    answer, _ = ask(shared.port, "/voila")
    assert {name: answer.headers[name] for name in SECURITY_HEADERS} == SECURITY_HEADERS
