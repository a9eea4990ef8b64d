"""Whatever is refused is refused in plain words, and the terminal is told nothing of who asked for what."""

from __future__ import annotations

import asyncio
import contextlib
import json
import re
import resource
import socket
import subprocess
import sys
import tempfile
from pathlib import Path
from urllib.parse import urlsplit

import pytest
import zmq
from tornado.httpclient import HTTPClientError
from tornado.web import HTTPError
from tornado.websocket import WebSocketClosedError

sys.path.insert(0, str(Path(__file__).parent))
from apart import run_apart
from faults import fill, small_disk
from learners import Learner, RefusedError
from malformed import sound
from memory import Family
from servers import fizzplate, wait_until

from fizzplate.share.command import MAX_CLASS_SIZE, SPARE, main
from fizzplate.share.handlers.channels import MAX_CONNECTIONS, TOO_MUCH
from fizzplate.share.kernel_pool import ClassKernels
from fizzplate.share.limits import raise_open_files, set_ceiling

WORKED_OUT_AHEAD = "revise"
NOBODY = "00000000-0000-0000-0000-000000000000"
FAILING = """
from fizzplate.share.handlers import channels, closing, files, pages
from fizzplate.share.command import main

def fail(*_, **__):
    raise ValueError("about /home/somebody and 0123456789abcdef0123456789abcdef")

pages.Home.get = pages.ClassLink.get = channels.Program.get = closing.ClosingPage.post = fail
channels.Channels.pre_get = files.FrontEnd._content = fail
main()
"""
ANYWHERE = (
    *("", "revise", "class-link", "nothing", "%ff", "revise?x=%ff"),
    *("voila/static/voila.js", "voila/static/none.js", "voila/static/%00"),
    *("voila/templates/fizzplate/static/none.css", "voila/labextensions/none.js"),
    *(f"api/kernels/{NOBODY}", f"api/kernels/{NOBODY}/channels", f"voila/api/shutdown/{NOBODY}"),
)
UPGRADE = {
    "Connection": "Upgrade",
    "Upgrade": "websocket",
    "Sec-WebSocket-Version": "13",
    "Sec-WebSocket-Key": "AAAAAAAAAAAAAAAAAAAAAA==",
    "Sec-WebSocket-Protocol": "v1.kernel.websocket.jupyter.org",
}
METHODS = ("GET", "HEAD", "POST", "DELETE", "PATCH", "OPTIONS")


@pytest.fixture(scope="module")
def log():
    with tempfile.TemporaryFile("w+", encoding="utf-8") as file:
        yield file


@pytest.fixture(scope="module")
def served(log):
    with fizzplate("--class", "4", page="revise", log=log) as process_and_address:
        yield process_and_address


@pytest.fixture(scope="module")
def link(served):
    return served[1]


async def ask_everywhere(link):
    """Ask for everything in every way, as somebody who has the link; give what was answered."""
    learner = Learner(link)
    site, _, query = link.partition("revise")
    query = query.lstrip("?")
    answers = {}
    for path in ANYWHERE:
        for method in METHODS:
            if (path, method) == ("revise", "GET"):
                continue  # a page
            joined = f"{site}{path}{'&' if '?' in path else '?'}{query}"
            body = "" if method in {"POST", "PATCH"} else None
            headers = {"Origin": site.rstrip("/"), "Accept-Encoding": "gzip"}
            answers[path, method] = await learner.ask(joined, method, headers, body)
    return answers


def test_every_handler_refuses_in_plain_words(link):
    for request, answer in run_apart(ask_everywhere(link)).items():
        text = (answer.body or b"").decode(errors="replace")
        assert answer.code < 500, request
        if answer.code >= 400 and request[1] != "HEAD":
            for unwanted in ("Traceback", ".py", "Error", "Exception", "tornado", NOBODY):
                assert unwanted not in text, request
            assert re.search(r"[a-z]+ [a-z]+ [a-z]+", text), request
        if "/none." in request[0] and request[1] == "GET":  # not "needs the class's link"
            assert answer.code == 404, request


def test_what_fails_is_told_in_plain_words_and_the_terminal_is_told_of_nobody():
    with tempfile.TemporaryFile("w+", encoding="utf-8") as log:
        command = [sys.executable, "-c", FAILING]
        with fizzplate("--class", "4", page="revise", command=command, log=log) as (_, address):
            answers = run_apart(ask_everywhere(address))
            failed = [answer for answer in answers.values() if answer.code == 500]
            key = address.partition("key=")[2]
        log.seek(0)
        lines = log.read().partition("network that you trust.\n")[2].strip().splitlines()
    assert len(failed) >= 5
    for answer in failed:
        assert b"Traceback" not in (answer.body or b"")
        assert b"ValueError" not in (answer.body or b"")
    assert len(lines) >= len(failed)
    for line in lines:
        assert "ValueError" in line  # what failed, and in which line of the program
        assert "__main__" in line
        for telling in (key, "/", "?", "0123456789abcdef", NOBODY, "Traceback"):
            assert telling not in line


def test_another_visitors_program_is_out_of_reach_even_if_its_name_is_known(link):
    async def attempt():
        owner, other = Learner(link), Learner(link)
        await owner.open_quietly()
        await other.open_quietly()
        path = f"/api/kernels/{owner.kernel}"
        with pytest.raises(HTTPClientError) as refused:
            await other.new_socket().open(*other.channels(owner.kernel))
        token = other.own_token()
        codes = [
            refused.value.code,
            (await other.ask(path)).code,
            (await other.ask(path, "DELETE", token)).code,
            (await other.ask(f"/voila/api/shutdown/{owner.kernel}", "POST", token, "")).code,
        ]
        await owner.socket.reach_kernel()  # it runs
        await owner.new_socket().open(*owner.channels())  # and its own visitor may come again
        codes.append((await owner.ask(path, "DELETE", owner.own_token())).code)
        await other.close()
        return codes

    assert run_apart(attempt()) == [404, 404, 404, 404, 204]


def test_a_session_or_a_protocol_that_no_page_has_is_refused(link):
    async def attempt():
        learner = Learner(link)
        await learner.load()
        address, headers = learner.channels()
        codes = []
        for request, protocols in (
            (address, None),
            (address, ["v2.kernel.websocket.jupyter.org"]),
        ):
            with pytest.raises(HTTPClientError) as refused:
                await learner.new_socket().open(request, headers, protocols)
            codes.append(refused.value.code)
        for session in ("x" * 300, "%C3%A9", "a%20b"):
            plain = f"{address}?session_id={session}"
            codes.append((await learner.ask(plain, headers=headers | UPGRADE)).code)
        await learner.close()
        return codes

    assert run_apart(attempt()) == [400] * 5


def test_a_page_has_so_many_connections_and_no_more(link):
    async def attempt():
        learner = Learner(link)
        await learner.open_quietly()
        further = [learner.new_socket() for _ in range(MAX_CONNECTIONS + 3)]
        opening = (each.open(*learner.channels()) for each in further)
        answers = await asyncio.gather(*opening, return_exceptions=True)
        open_ = [k for k, answer in enumerate(answers) if answer is None]
        codes = {answers[k].code for k in range(len(answers)) if k not in open_}
        await learner.socket.reach_kernel()  # none was closed for those that are too many
        further[open_[0]].drop()
        async with asyncio.timeout(30):
            while True:  # until the server has seen that one has gone
                try:
                    await learner.new_socket().open(*learner.channels())
                    break
                except HTTPClientError:
                    continue
        await learner.close()
        return 1 + len(open_), codes

    assert run_apart(attempt()) == (MAX_CONNECTIONS, {400})


def test_a_connection_that_is_given_up_while_it_opens_is_no_failure_and_not_counted(link, log):
    async def attempt():
        learner = Learner(link)
        await learner.open_quietly()
        address, headers = learner.channels()
        parts = urlsplit(address)
        lines = {"Host": parts.netloc, **headers, **UPGRADE}
        asking = "".join(f"{name}: {value}\r\n" for name, value in lines.items())
        for _ in range(5):
            with socket.create_connection((parts.hostname, parts.port)) as given_up:
                given_up.sendall(f"GET {parts.path} HTTP/1.1\r\n{asking}\r\n".encode())
        further = learner.new_socket()
        await further.open(address, headers)  # by then the server has come to the others
        await further.reach_kernel()
        counted = json.loads((await learner.ask(f"/api/kernels/{learner.kernel}")).body)
        await learner.close()
        return counted["connections"]

    assert run_apart(attempt()) == 2
    log.seek(0)
    assert "Channels" not in log.read()


def test_what_a_program_does_not_take_does_not_pile_up_in_the_server(served):
    process, address = served
    frame = sound(buffers=[bytes(1_000_000)])

    async def attempt():
        learner = Learner(address)
        await learner.open_quietly()
        Family(process.pid).of_kernel(learner.kernel).suspend()
        with contextlib.suppress(WebSocketClosedError):
            for _ in range(200):
                await learner.socket.send_raw(frame)
        with pytest.raises(ConnectionError):
            await learner.socket.until(lambda: False)
        await learner.close()
        return learner.socket.ended

    assert run_apart(attempt()) == (TOO_MUCH, "more than the program takes")


def test_a_visitor_opens_no_widget(link):
    button = {
        "_model_module": "@jupyter-widgets/controls",
        "_model_module_version": "2.0.0",
        "_model_name": "ButtonModel",
        "_view_module": "@jupyter-widgets/controls",
        "_view_module_version": "2.0.0",
        "_view_name": "ButtonView",
        "description": "not wanted",
    }
    opening = {"comm_id": "mine", "target_name": "jupyter.widget", "data": {"state": button}}

    async def attempt():
        learner = Learner(link)
        await learner.open_quietly()
        before = len(learner.models)
        learner.socket.send("comm_open", opening, {"version": "2.1.0"})
        learner.socket.models.clear()
        await learner.socket.fetch_widgets()
        await learner.close()
        return before, len(learner.models), "mine" in learner.models

    before, after, opened = run_apart(attempt())
    assert before == after > 0
    assert not opened


def test_as_many_files_may_be_opened_as_the_system_allows_and_then_a_visitor_is_told_that_it_is_full():
    """And the server lives on, however few are left, until there are enough again."""
    program = (
        "import resource; _, most = resource.getrlimit(resource.RLIMIT_NOFILE);"
        "resource.setrlimit(resource.RLIMIT_NOFILE, (256, most));"
        "from fizzplate.share.command import main; main()"
    )
    command = [sys.executable, "-c", program]

    async def attempt(address, family):
        pid = family.head.pid
        _, hard = resource.prlimit(pid, resource.RLIMIT_NOFILE)
        async with Learner(address) as learner:
            await learner.load()  # whatever is loaded late is loaded
            await learner.close()
        await asyncio.to_thread(wait_until, lambda: family.kernels() == 0, 30)
        refused = []
        for left in (3, 5, 8, 40):
            resource.prlimit(pid, resource.RLIMIT_NOFILE, (family.files() + left, hard))
            refused.append(await Learner(address, patience_s=30).ask(address))
        resource.prlimit(pid, resource.RLIMIT_NOFILE, (hard, hard))
        return refused, await Learner(address, patience_s=30).ask(address)

    with fizzplate(page="revise", command=command) as (process, address):
        soft, hard = resource.prlimit(process.pid, resource.RLIMIT_NOFILE)
        refused, opened = run_apart(attempt(address, Family(process.pid)))
    assert soft == hard > 256
    assert [answer.code for answer in refused] == [503] * 4
    assert all("All places are taken" in answer.body.decode() for answer in refused)
    assert opened.code == 200


def test_the_largest_class_has_connections_for_all_its_pages():
    async def most_sockets():
        return ClassKernels().context.get(zmq.MAX_SOCKETS)

    each = 8  # a page's four, and what the server asks and watches its program by
    assert run_apart(most_sockets()) >= each * MAX_CLASS_SIZE * (1 + SPARE)


def test_when_as_many_programs_run_as_there_are_places_the_next_is_refused():
    async def one_more():
        kernels = ClassKernels(max_kernels=2)
        kernels._kernels |= dict.fromkeys(("one", "two"))
        kernels._kernel_connections |= {"one": 1, "two": 1}  # both have their pages
        await kernels.start_kernel()

    with pytest.raises(HTTPError) as refused:
        run_apart(one_more())
    assert refused.value.status_code == 503


def test_what_a_page_that_went_did_not_take_and_whose_it_was_is_not_kept_once_its_program_has_ended():
    async def ended():
        kernels = ClassKernels()
        kernels._visitors["one"] = "somebody"
        kernels._kernels["one"] = None  # a program that has just ended
        kernels.start_buffering("one", "one:page", {})  # as the library does when a page goes
        assert "one" in kernels._kernel_buffers
        kernels.remove_kernel("one")
        return [*kernels._kernel_buffers, *kernels._visitors]

    assert run_apart(ended()) == []


def test_where_the_system_grants_fewer_files_than_it_says_the_server_starts(monkeypatch):
    granted = []

    def grant(_, limits):  # as macOS does
        if limits[0] == resource.RLIM_INFINITY or limits[0] > 10_240:
            raise ValueError("current limit exceeds maximum limit")
        granted.append(limits)

    endless = resource.RLIM_INFINITY
    monkeypatch.setattr("resource.getrlimit", lambda _: (256, endless))
    monkeypatch.setattr("resource.setrlimit", grant)
    raise_open_files()
    assert granted == [(10_240, endless)]


def test_a_programs_ceiling_is_only_lowered_and_one_that_has_ended_needs_none():
    with subprocess.Popen(["cat"], stdin=subprocess.PIPE) as program:
        set_ceiling(program.pid)
        ceiling = resource.prlimit(program.pid, resource.RLIMIT_DATA)
        lower = (ceiling[0] // 2, ceiling[1] // 2)
        resource.prlimit(program.pid, resource.RLIMIT_DATA, lower)
        set_ceiling(program.pid)
        assert resource.prlimit(program.pid, resource.RLIMIT_DATA) == lower
    set_ceiling(program.pid)


def test_a_full_temporary_folder_says_that_it_is_full(tmp_path):
    async def attempt(address):
        with pytest.raises(RefusedError) as refused:
            await Learner(address, patience_s=60).load()
        return refused.value

    command = small_disk(tmp_path, 16)
    assert command, "a small file system could not be mounted here"
    with (
        tempfile.TemporaryFile("w+", encoding="utf-8") as log,
        fizzplate(page="revise", command=command, log=log, TMPDIR=str(tmp_path)) as served,
    ):
        process, address = served
        filling = fill(Path(f"/proc/{process.pid}/root{tmp_path}"))
        refusal = run_apart(attempt(address))
        filling.unlink()
        log.seek(0)
        said = log.read()
    assert refusal.status == 507
    assert "disk of the computer that serves this page is full" in refusal.text
    assert "the temporary folder is full" in said
    assert "Traceback" not in said


def test_a_start_without_room_is_refused_in_words(monkeypatch, capsys):
    def full(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("tempfile.mkdtemp", full)
    assert main(["--no-browser", "--port", "0"]) == 1
    assert "temporary folder is full" in capsys.readouterr().err
