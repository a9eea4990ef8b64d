"""Who reaches a room, and who steers it: not without its key, not from another site, not past the teacher."""

from __future__ import annotations

import asyncio
import socket
import sys
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from tornado.httpclient import AsyncHTTPClient, HTTPClientError

sys.path.insert(0, str(Path(__file__).parent))
from apart import run_apart
from opened_rooms import in_room
from phones import (
    bare,
    fetch,
    phone,
    request,
    teacher,
)
from servers import fizzplate

from fizzplate.share.room import listener

WORKED_OUT_AHEAD = "revise"


def test_before_the_room_is_opened_nothing_listens_beside_the_server(site):
    async def act():
        page = await teacher(site)
        page.close()
        return (await fetch(f"{site}room")).body

    own = urlsplit(site).port
    assert b"127.0.0.1" in run_apart(act())
    with socket.socket() as probe:
        hosts = [h for h in socket.gethostbyname_ex(socket.gethostname())[2] if h != "127.0.0.1"]
        assert all(probe.connect_ex((host, own)) != 0 for host in hosts)


@pytest.mark.parametrize(
    "path", ["", "judge.js", "answers", "revise", "room", "voila/static/voila.js"]
)
@pytest.mark.parametrize("query", ["", "?key=wrong", "?key={key}&key={key}", "?key={key}x"])
def test_without_the_rooms_key_a_stranger_gets_nothing(site, path, query):
    async def act(page, link):
        parts = urlsplit(link)
        key = parts.query.partition("=")[2]
        got = await fetch(f"http://{parts.netloc}/{path}{query.format(key=key)}")
        return got, key

    got, key = in_room(site, act)
    assert got.code == 403
    assert "needs its link" in got.body.decode()
    assert key not in got.body.decode()


@pytest.mark.parametrize(
    "path",
    ["revise", "demonstrate", "room", "room/steering", "api/kernels", "voila/static/voila.js"],
)
def test_with_the_key_there_is_the_phones_page_and_nothing_else_of_the_server(site, path):
    async def act(page, link):
        parts = urlsplit(link)
        return await fetch(f"http://{parts.netloc}/{path}?{parts.query}"), await fetch(link)

    other, own = in_room(site, act)
    assert other.code == 404
    assert own.code == 200
    assert "Answer with your class" in own.body.decode()
    for name, value in listener.HEADERS.items():
        assert own.headers[name] == other.headers[name] == value
    assert "default-src 'none'" in own.headers["Content-Security-Policy"]
    assert "Set-Cookie" not in own.headers


@pytest.mark.parametrize("target", ["http://elsewhere.example/", "*", "revise"])
def test_an_address_of_another_form_is_refused_like_any_other(site, target):
    async def act(page, link):
        opened = bare(link, request(link).replace(b"GET /", f"GET {target}".encode(), 1))
        opened.setblocking(False)
        return await asyncio.wait_for(
            asyncio.get_running_loop().sock_recv(opened, 65_536), listener.IDLE_S
        )

    got = in_room(site, act).decode()
    assert got.split()[1] == "404"
    assert "tornado" not in got.lower()
    assert "Cache-Control: no-store" in got


def refusal_of(opening):
    """The status with which a channel is refused."""

    async def tried():
        try:
            (await opening).close()
        except HTTPClientError as refused:
            return refused.code
        return 101

    return tried()


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://elsewhere.example"},
        {"Origin": "null"},
        {"Host": "elsewhere.example"},
        {"Host": "elsewhere.example", "Origin": "http://elsewhere.example"},
    ],
    ids=str,
)
def test_a_page_of_another_site_opens_no_channel(site, headers):
    async def act(page, link):
        return await refusal_of(phone(link, headers=headers)), await refusal_of(
            teacher(site, headers=headers)
        )

    assert in_room(site, act) == (403, 403)


@pytest.mark.parametrize("mark", ["x", "A" * 32, "0" * 31, "../../" + "0" * 26])
def test_a_mark_is_of_the_form_that_the_page_makes(site, mark):
    async def act(page, link):
        return await refusal_of(phone(link, mark))

    assert in_room(site, act) == 403


@pytest.fixture(scope="module")
def class_links():
    """A class's server: its address here, and the teacher's own link."""
    with fizzplate("--class", "3", page="revise") as (process, address):
        for line in process.stdout:
            if "teacher=" in line:
                yield address, line.strip()
                break


def test_through_a_proxy_nobody_is_at_this_computer(class_links):
    address, _ = class_links
    for name in ("X-Forwarded-For", "Forwarded", "Via", "X-Real-Ip"):
        assert run_apart(refusal_of(teacher(address, {name: "192.0.2.5"}))) == 403
    assert run_apart(refusal_of(teacher(address))) == 101


def test_the_class_key_does_not_steer_from_elsewhere_but_the_teachers_key_does(class_links):
    address, teachers = class_links
    key = urlsplit(address).query
    there = urlsplit(teachers)
    if there.hostname == "127.0.0.1":
        pytest.fail("this computer has no network")
    site = f"http://{there.netloc}/"

    async def played():
        told = await fetch(f"{site}room?{key}")
        refused = await refusal_of(teacher(f"{site}?{key}"))
        opened = await AsyncHTTPClient(force_instance=True).fetch(
            teachers.replace("/revise", "/class-link"), follow_redirects=False, raise_error=False
        )
        cookies = [each.split(";")[0] for each in opened.headers.get_list("Set-Cookie")]
        allowed = await refusal_of(teacher(f"{site}?{key}", {"Cookie": "; ".join(cookies)}))
        return told, refused, opened, allowed

    told, refused, opened, allowed = run_apart(played())
    assert b"Only the person at the computer" in told.body
    assert refused == 403
    assert opened.code == 302
    assert "teacher" not in opened.headers["Location"]
    kept = next(
        c for c in opened.headers.get_list("Set-Cookie") if c.startswith("fizzplate-teacher")
    )
    assert "HttpOnly" in kept
    assert "SameSite=Strict" in kept
    assert allowed == 101


def test_a_wrong_teachers_key_opens_the_page_and_gives_no_right(class_links):
    address, _ = class_links

    async def played():
        return await AsyncHTTPClient(force_instance=True).fetch(
            f"{address}&teacher=2222222222222222", follow_redirects=False, raise_error=False
        )

    got = run_apart(played())
    assert got.code == 302
    assert not any("teacher" in each for each in got.headers.get_list("Set-Cookie"))
