"""A class served on a network: the link lets in, nothing else does, and nobody reaches another's program."""

from __future__ import annotations

import asyncio
import contextlib
import re
import sys
from pathlib import Path

import pytest
from tornado.httpclient import HTTPClientError

sys.path.insert(0, str(Path(__file__).parent))
from apart import run_apart
from learners import Learner, RefusedError
from servers import HASTY_COMMAND, fizzplate

from fizzplate.share.settings import SECURITY_HEADERS

CLASS_OF = 8
MAX_AT_ONCE = 11  # with the places that are spared
FORGED = (
    {},
    {"Origin": "http://elsewhere.example"},
    {"Origin": "null"},
    {"Origin": "{site}", "Sec-Fetch-Site": "cross-site"},
    {"Origin": "{site}", "Sec-Fetch-Site": "same-site"},
)

WORKED_OUT_AHEAD = "revise"


@pytest.fixture(scope="module")
def link():
    """The link of a class whose pages are served on all networks of this machine."""
    with fizzplate("--class", str(CLASS_OF), page="revise") as (_, address):
        yield address


@pytest.fixture(scope="module")
def site(link):
    return link.partition("revise")[0]


def response_to(address, path, method="GET", headers=None, body=None):
    """Ask as somebody who has opened nothing yet."""
    return run_apart(Learner(address).ask(path, method, headers, body))


def test_the_link_carries_a_key_and_the_key_opens_the_page(link):
    assert re.fullmatch(r"http://127\.0\.0\.1:\d+/revise\?key=[2-9a-z]{16}", link)
    answer = response_to(link, link)
    assert answer.code == 200
    assert b"There was an error" not in answer.body


@pytest.mark.parametrize("key", ["", "?key=", "?key=wrong", "?key={key}x", "?token={key}"])
@pytest.mark.parametrize("path", ["", "revise", "class-link"])
def test_without_the_key_a_visitor_is_told_what_to_do_and_gets_nothing(link, site, path, key):
    right = link.partition("key=")[2]
    answer = response_to(site, site + path + key.format(key=right))
    assert answer.code == 403
    assert "needs its link" in answer.body.decode()
    assert right not in answer.body.decode()
    assert "username" not in str(answer.headers.get_list("Set-Cookie"))


def test_whoever_has_opened_the_link_need_not_bring_the_key_again(link, site):
    async def twice():
        learner = Learner(link)
        return (await learner.ask(site + "?" + link.partition("?")[2])).code, (
            await learner.ask(site)
        ).code

    assert run_apart(twice()) == (200, 200)


def test_a_cookie_that_was_made_elsewhere_opens_nothing(site):
    port = site.rpartition(":")[2].strip("/")
    forged = f"username-127-0-0-1-{port}=2|1:0|10:1|4:name|4:eyJ9|{'0' * 64}"
    assert response_to(site, site, headers={"Cookie": forged}).code == 403


@pytest.mark.parametrize(
    "path", ["", "revise", "nothing", "voila/static/voila.js", "voila/labextensions/x.js"]
)
def test_every_answer_has_the_security_headers(link, site, path):
    answer = response_to(site, f"{site}{path}?{link.partition('?')[2]}")
    for name, value in SECURITY_HEADERS.items():
        assert answer.headers[name] == value


def test_cookies_end_with_the_session_and_stay_at_home(link):
    cookies = response_to(link, link).headers.get_list("Set-Cookie")
    assert cookies
    for cookie in cookies:
        assert "expires" not in cookie.lower()
        assert "samesite=lax" in cookie.lower()


def test_a_program_ends_by_its_own_page_only(link):
    async def attempts():
        owner, other = Learner(link), Learner(link)
        await owner.load()
        await other.ask(link)
        path = f"/voila/api/shutdown/{owner.kernel}"
        forged = [
            {name: value.format(site=owner.site) for name, value in headers.items()}
            for headers in FORGED
        ]
        codes = [(await owner.ask(path, "POST", headers, "")).code for headers in forged]
        codes.append((await other.ask(path, "POST", {"Origin": other.site}, "")).code)
        runs = (await owner.ask(f"/api/kernels/{owner.kernel}")).code
        ended = await owner.close()
        gone = (await owner.ask(f"/api/kernels/{owner.kernel}")).code
        await other.close()
        return codes, runs, ended, gone

    codes, runs, ended, gone = run_apart(attempts())
    assert codes == [403] * len(FORGED) + [404]
    assert (runs, ended, gone) == (200, 204, 404)


def test_a_page_of_another_site_cannot_talk_to_a_program(link):
    async def attempt():
        learner = Learner(link)
        await learner.load()
        there = f"{learner.site}/api/kernels/{learner.kernel}/channels"
        try:
            with pytest.raises(HTTPClientError) as refused:
                await learner.socket.open(
                    there, learner._headers({"Origin": "http://elsewhere.example"})
                )
            return refused.value.code
        finally:
            await learner.close()

    assert run_apart(attempt()) == 403


def test_no_code_of_a_browser_is_carried_out(link, tmp_path):
    made = tmp_path / "made"
    code = {"code": f"open({str(made)!r}, 'w').close()", "silent": False, "store_history": False}

    async def attempt():
        learner = Learner(link)
        await learner.load()
        await learner.connect()
        for kind in ("execute_request", "inspect_request", "complete_request", "debug_request"):
            for channel in ("shell", "control"):
                learner.socket.send(kind, code, channel=channel)
        await learner.socket.reach_kernel()  # answered after all that came before
        await learner.close()

    run_apart(attempt())
    assert not made.exists()


@pytest.mark.parametrize(
    ("path", "method"),
    [
        ("api/kernels", "POST"),
        ("api/sessions", "POST"),
        ("api/terminals", "POST"),
        ("api/contents/revise.ipynb", "PUT"),
        ("api/kernels/00000000-0000-0000-0000-000000000000/restart", "POST"),
        ("revise", "POST"),
        ("revise", "DELETE"),
    ],
)
def test_nothing_is_started_or_written_from_outside(link, site, path, method):
    address = f"{site}{path}?{link.partition('?')[2]}"
    answer = response_to(site, address, method, {"Origin": site.rstrip("/")}, "{}")
    assert answer.code in {403, 404, 405}


def test_when_all_places_are_taken_the_page_says_so_and_a_place_comes_free(link):
    async def fill():
        learners = [Learner(link) for _ in range(MAX_AT_ONCE)]
        joined = []
        for learner in learners:  # pages of the tests before may still hold a place
            with contextlib.suppress(RefusedError):
                await learner.load()
                joined.append(learner)
        full = await Learner(link).ask(link)
        await joined[0].close()
        after = await Learner(link).ask(link)
        for learner in joined[1:]:
            await learner.close()
        return full, after

    full, after = run_apart(fill())
    assert full.code == 503
    assert int(full.headers["Retry-After"]) > 0
    assert "All places are taken" in full.body.decode()
    assert 'http-equiv="refresh"' in full.body.decode()
    assert after.code == 200


def test_a_program_whose_tab_was_lost_ends_and_that_of_an_idle_page_never():
    async def lose_one(address):
        lost, idle = Learner(address), Learner(address)
        for learner in (lost, idle):
            await learner.load()
            await learner.connect()
        lost.socket.drop()
        path = f"/api/kernels/{lost.kernel}"
        while (await lost.ask(path)).code == 200:
            await asyncio.sleep(0.2)
        await idle.socket.reach_kernel()
        return (await idle.ask(f"/api/kernels/{idle.kernel}")).code, await idle.close()

    with fizzplate(page="revise", command=HASTY_COMMAND) as (_, address):
        assert run_apart(asyncio.wait_for(lose_one(address), 60)) == (200, 204)
