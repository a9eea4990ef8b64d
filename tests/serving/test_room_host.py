"""A room that is opened while the server runs: phones answer, come back, and forget it once it is closed."""

from __future__ import annotations

import asyncio
import re
import sys
from pathlib import Path
from urllib.parse import urlsplit

sys.path.insert(0, str(Path(__file__).parent))
from apart import run_apart
from opened_rooms import counted, in_room, listens
from phones import (
    PREDICTION,
    TEXT,
    answer,
    bare,
    channel_request,
    fetch,
    frame,
    is_ended,
    new_mark,
    open_room,
    phone,
    request,
    teacher,
)
from servers import fizzplate, wait_until

WORKED_OUT_AHEAD = "revise"


def test_an_answer_reaches_the_teachers_page_as_a_count_and_the_phone_is_told(site):
    async def act(page, link):
        one, other = await phone(link), await phone(link)
        shown = await one.hear()
        one.say(answer(cathode=1))
        kept = await one.hear()
        other.say(answer(cathode=0))
        return shown, kept, await page.hear_until(counted(2)), other

    shown, kept, counts, _ = in_room(site, act)
    assert shown["round"]["title"] == PREDICTION["title"]
    assert "memo" not in shown["round"]
    assert kept == {"kept": [1, 1]}
    assert counts["votes"][0]["counts"] == {"cathode": [1, 1, 0, 0], "anode": [0, 0, 0, 2]}
    assert (counts["joined"], counts["missing"]) == (2, 0)


def test_a_phone_that_comes_back_with_its_mark_counts_once_and_finds_its_answer(site):
    async def act(page, link):
        mark = new_mark()
        first = await phone(link, mark)
        await first.hear()
        first.say(answer(cathode=2))
        await first.hear()
        first.close()
        again = await phone(link, mark)
        shown = await again.hear()
        again.say(answer(cathode=0))
        await again.hear()
        counts = await page.hear_until(
            lambda m: m.get("votes") and m["votes"][0]["counts"]["cathode"] == [1, 0, 0, 0]
        )
        return shown, counts

    shown, counts = in_room(site, act)
    assert shown["answer"] == {"cathode": 2, "anode": 3}
    assert counts["joined"] == 1


def test_of_two_pages_with_one_mark_the_later_stays(site):
    async def act(page, link):
        mark = new_mark()
        first = await phone(link, mark)
        await first.hear()
        second = await phone(link, mark)
        ended = await first.hear_until(lambda message: "ended" in message)
        second.say(answer())
        await second.hear_until(lambda message: "kept" in message)
        return ended, await first.hear()

    assert in_room(site, act) == ({"ended": "elsewhere"}, None)


def test_closing_the_room_stops_listening_and_forgets(site):
    async def act(page, link):
        one = await phone(link)
        await one.hear()
        assert listens(link)
        page.say({"close": True})
        ended = await one.hear_until(lambda message: "ended" in message)
        await page.hear_until(lambda message: "gone" in message)
        open_still = listens(link)
        page.say({"ask": PREDICTION})
        return ended, open_still, await page.hear()

    ended, open_still, after = in_room(site, act)
    assert ended == {"ended": "closed"}
    assert not open_still
    assert "gone" in after


def test_the_teachers_page_finds_its_room_again_and_nobody_else_does(site):
    async def played():
        page = await teacher(site)
        opened = await open_room(page, anew=True)
        page.say({"ask": PREDICTION})
        await page.hear_until(lambda message: message.get("round"))
        stranger = await teacher(site)
        refused = await open_room(stranger)
        stranger.say({"accept": False})
        alien = await stranger.hear()
        stranger.say({"show": {"of": "cathode", "all": True}})
        nothing = await stranger.hear()
        stranger.say({"resume": "2" * 16})
        wrong = await stranger.hear()
        page.close()
        again = await teacher(site)
        again.say({"resume": opened["opened"]})
        found = await again.hear()
        again.say({"close": True})
        await again.hear()
        return refused, alien, nothing, wrong, opened, found

    refused, alien, nothing, wrong, opened, found = run_apart(asyncio.wait_for(played(), 60))
    assert refused["taken"]
    assert all("gone" in each for each in (alien, nothing, wrong))
    assert found["link"] == opened["link"]
    assert found["round"]["title"] == PREDICTION["title"]
    assert found["open"]


def test_a_room_opens_only_at_an_address_of_this_computer(site):
    async def played():
        page = await teacher(site)
        return await open_room(page, host="192.0.2.254", anew=True)

    assert "no such address" in run_apart(played())["refused"]


def test_the_page_is_light(site):
    async def act(page, link):
        parts = urlsplit(link)
        judge = f"http://{parts.netloc}/judge.js?{parts.query}"
        packed = {"Accept-Encoding": "gzip"}
        return [
            int((await fetch(each, packed)).headers["Content-Length"]) for each in (link, judge)
        ]

    assert sum(in_room(site, act)) < 40_000  # of three requests, the third of them the channel


HASTY = (
    "from fizzplate.share import settings;"
    "from fizzplate.share.room import host;"
    "settings.PING_S = host.LINGER_S = 0.5;"
    "from fizzplate.share.command import main;"
    "main()"
)


def test_a_room_whose_teacher_has_lost_the_network_is_closed_after_a_while():
    with fizzplate(page="revise", command=[sys.executable, "-c", HASTY]) as (_, address):
        site = f"{address.partition('revise')[0]}?key="
        wanted = channel_request(site).replace(b"/answers?mark=", b"/room/steering?mark=")
        with bare(site, wanted) as deaf:  # it answers no ping, and does not hang up
            deaf.sendall(frame(TEXT, b'{"open":{"host":"127.0.0.1"}}'))
            said = b""
            while not (found := re.search(rb'"link":"([^"]+)"', said)):
                said += deaf.recv(65_536)
            link = found[1].decode()
            assert listens(link)
            assert wait_until(lambda: not listens(link), 20)


def test_nothing_of_a_closed_room_is_answered_any_more(site):
    async def act(page, link):
        silent, kept = bare(link), bare(link, request(link))
        await asyncio.sleep(0.3)
        page.say({"close": True})
        await page.hear_until(lambda message: "gone" in message)
        return [await is_ended(each, 3) for each in (silent, kept)]

    assert in_room(site, act) == [True, True]


def test_the_first_vote_stands_beside_the_second(site):
    async def act(page, link):
        one = await phone(link)
        await one.hear()
        one.say(answer(cathode=1))
        await one.hear()
        page.say({"accept": False})
        closed = await one.hear_until(lambda message: message.get("open") is False)
        one.say(answer(cathode=0))
        late = await one.hear()
        page.say({"again": True})
        again = await one.hear_until(lambda message: message.get("open"))
        one.say(answer(vote=2, cathode=0))
        await one.hear()
        return (
            closed,
            late,
            again,
            await page.hear_until(
                lambda m: len(m.get("votes", [])) == 2 and m["votes"][1]["answered"] == 1
            ),
        )

    closed, late, again, counts = in_room(site, act)
    assert closed["answer"] == {"cathode": 1, "anode": 3}
    assert "kept" not in late
    assert again["round"]["vote"] == 2
    assert again["answer"] is None
    assert [vote["counts"]["cathode"] for vote in counts["votes"]] == [[0, 1, 0, 0], [1, 0, 0, 0]]
