"""A room that is opened while the server runs: phones reach their page and nothing else, and cannot steer."""

from __future__ import annotations

import asyncio
import json
import random
import re
import socket
import sys
from contextlib import suppress
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from tornado.httpclient import AsyncHTTPClient, HTTPClientError
from tornado.websocket import WebSocketClosedError

sys.path.insert(0, str(Path(__file__).parent))
from apart import run_apart
from phones import (
    PREDICTION,
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

from fizzplate.share.network import Place, free_port
from fizzplate.share.room import RoomHost, listener
from fizzplate.share.room.messages import MAX_PHONE_BYTES
from fizzplate.share.room.room import MAX_PHONES, MAX_PHONES_OF_ONE_ADDRESS

WORKED_OUT_AHEAD = "revise"


@pytest.fixture(scope="module")
def site():
    """A server for this computer only."""
    with fizzplate(page="revise") as (_, address):
        yield address.partition("revise")[0]


def in_room(site, act):
    """Let something happen in a room that is open and asks; give what it gives."""

    async def played():
        page = await teacher(site)
        opened = await open_room(page, anew=True)
        page.say({"ask": PREDICTION})
        await page.hear_until(lambda message: message.get("round"))
        try:
            return await act(page, opened["link"])
        finally:
            page.say({"close": True})
            await page.hear_until(lambda message: "gone" in message)
            page.close()

    return run_apart(asyncio.wait_for(played(), 60))


def listens(link):
    parts = urlsplit(link)
    with socket.socket() as probe:
        return probe.connect_ex((parts.hostname, parts.port)) == 0


def counted(number):
    """Whether the counts of a message are of so many answers in the latest vote."""
    return lambda message: message.get("votes") and message["votes"][-1]["answered"] == number


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


def test_the_page_is_light(site):
    async def act(page, link):
        parts = urlsplit(link)
        judge = f"http://{parts.netloc}/judge.js?{parts.query}"
        packed = {"Accept-Encoding": "gzip"}
        return [
            int((await fetch(each, packed)).headers["Content-Length"]) for each in (link, judge)
        ]

    assert sum(in_room(site, act)) < 40_000  # of three requests, the third of them the channel


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


@pytest.mark.parametrize(
    "sent",
    [
        "nonsense",
        '{"close": true}',
        '{"ask": {}}',
        '{"accept": false}',
        '{"show": {"of": "cathode", "all": true}}',
        '{"one-each": true}',
        '{"reader": "123456"}',
        '{"open": {"host": "127.0.0.1"}}',
        '{"resume": "2222222222222222"}',
        b"\x00\x01",
        '"' + "x" * (MAX_PHONE_BYTES - 2) + '"',
        "x" * (MAX_PHONE_BYTES + 1),
    ],
    ids=lambda sent: str(sent)[:30],
)
def test_a_phone_that_speaks_nonsense_or_steers_is_cut_off_and_nobody_else_notices(site, sent):
    async def act(page, link):
        good, bad = await phone(link), await phone(link)
        await good.hear()
        await bad.hear()
        if isinstance(sent, bytes):
            bad.socket.write_message(sent, binary=True)
        else:
            bad.say(sent)
        assert await bad.hear() is None
        good.say(answer())
        kept = await good.hear()
        return kept, (await page.hear_until(counted(1)))["missing"]

    assert in_room(site, act) == ({"kept": [1, 1]}, 0)


WORDS = {
    "title": "What do you see?",
    "memo": "",
    "parts": [{"name": "words", "kind": "text", "label": "In your own words"}],
}


def test_half_a_character_breaks_neither_the_teachers_page_nor_the_other_phones(site):
    async def act(page, link):
        page.say({"ask": WORDS})
        bad, good = await phone(link), await phone(link)
        await bad.hear_until(lambda message: message.get("round"))
        await good.hear()
        bad.say('{"answer": {"round": 2, "vote": 1, "values": {"words": "\\ud83d boo"}}}')
        await bad.hear_until(lambda message: "kept" in message)
        page.say({"show": {"of": "words", "all": True}})
        said = await page.hear_until(lambda message: message.get("written"))
        page.say({"accept": False})
        closed = await good.hear_until(lambda message: message.get("open") is False)
        return said, closed

    said, closed = in_room(site, act)
    assert said["written"] == {"words": ["\N{REPLACEMENT CHARACTER} boo"]}
    assert closed


def test_a_phone_is_told_what_cannot_be_taken_once(site):
    async def act(page, link):
        one = await phone(link)
        await one.hear()
        one.say({"answer": {"round": 1, "vote": 1, "values": {"cathode": 4}}})
        told = await one.hear()
        page.say({"accept": False})
        await one.hear()
        one.say(answer())  # too late, but it may be sent again once the round is open again
        return told, await one.hear()

    untaken, late = in_room(site, act)
    assert untaken == {"untaken": [1, 1]}
    assert late["open"] is False


def test_a_phone_that_floods_is_cut_off_and_the_others_are_served(site):
    async def act(page, link):
        good, bad = await phone(link), await phone(link)
        await good.hear()
        with suppress(WebSocketClosedError):  # it may be cut off before the last
            for k in range(listener.MESSAGES_AT_ONCE + 200):
                bad.say(answer(cathode=k % 4))
        ended = await bad.hear_until(lambda _: False)
        good.say(answer())
        return ended, await good.hear(), bad.heard

    ended, kept, heard = in_room(site, act)
    assert ended is None
    assert kept == {"kept": [1, 1]}
    assert sum("kept" in each for each in heard if each) <= listener.MESSAGES_AT_ONCE + 5


SEEN = {
    "title": "Watch",
    "memo": "",
    "parts": [{"name": "seen", "kind": "text", "label": "In your own words"}],
}


def test_what_is_written_is_read_on_the_teachers_phone_and_shown_by_a_press_there_alone(site):
    async def act(page, link):
        page.say({"ask": SEEN})
        await page.hear_until(lambda m: (m.get("round") or {}).get("number") == 2)
        one, own = await phone(link), await phone(link)
        words = {"answer": {"round": 2, "vote": 1, "values": {"seen": "<b>it fizzes</b>"}}}
        one.say(words)
        await one.hear_until(lambda m: "kept" in m)
        for meddling in ("show", "hide"):
            one.say({meddling: {"of": "seen", "text": "<b>it fizzes</b>"}})
        own.say({"read": True})
        code = (await own.hear_until(lambda m: "code" in m))["code"]
        wrong = f"{(int(code) + 1) % 10**6:06}"
        page.say({"reader": wrong})
        refused = await page.hear_until(lambda m: "refused" in m)
        page.say({"reader": code})
        before = await page.hear_until(lambda m: m.get("reads"))
        read = await own.hear_until(lambda m: "reads" in m)
        own.say({"show": {"of": "seen", "text": "<b>it fizzes</b>"}})
        shown = await page.hear_until(lambda m: m.get("written"))
        one.say({"answer": {**words["answer"], "values": {"seen": "and more"}}})
        more = await own.hear_until(lambda m: len(m["reads"]["parts"][0]["texts"]) == 2)
        return refused, before, read, shown, more, page.heard

    refused, before, read, shown, more, heard = in_room(site, act)
    assert "No phone of this room" in refused["refused"]
    assert (before["joined"], before["written"]) == (1, {})
    part = {"name": "seen", "label": "In your own words", "texts": [["<b>it fizzes</b>", False]]}
    assert read["reads"] == {"title": "Watch", "parts": [part]}
    assert shown["written"] == {"seen": ["<b>it fizzes</b>"]}
    assert more["reads"]["parts"][0]["texts"] == [["<b>it fizzes</b>", True], ["and more", False]]
    assert "and more" not in str(heard)  # the projector's page has not got it


def test_without_a_phone_of_the_teachers_texts_are_shown_by_presses_one_by_one_or_all(site):
    async def act(page, link):
        page.say({"ask": SEEN})
        await page.hear_until(lambda m: (m.get("round") or {}).get("number") == 2)
        phones = [await phone(link) for _ in range(4)]
        for one, text in zip(phones, ("a", "b", "c", "d"), strict=True):
            one.say({"answer": {"round": 2, "vote": 1, "values": {"seen": text}}})
            await one.hear_until(lambda m: "kept" in m)
        unshown = await page.hear_until(lambda m: m.get("waiting") == {"seen": 4})
        said = str(page.heard)
        page.say({"show": {"of": "seen", "all": False}})
        one = await page.hear_until(lambda m: m.get("written"))
        page.say({"hide": {"of": "seen", "text": "a"}})
        hidden = await page.hear_until(lambda m: m.get("written") == {"seen": []})
        page.say({"show": {"of": "seen", "all": False}})
        two = await page.hear_until(lambda m: (m.get("written") or {}).get("seen"))
        page.say({"show": {"of": "seen", "all": True}})
        return unshown, said, one, hidden, two, await page.hear_until(lambda m: "written" in m)

    unshown, said, one, hidden, two, every = in_room(site, act)
    assert "'a'" not in said  # until a press
    assert unshown["votes"][0]["counts"] == {"seen": [4]}
    assert (one["written"], one["waiting"]) == ({"seen": ["a"]}, {"seen": 3})
    assert hidden["waiting"] == {"seen": 3}
    assert two["written"] == {"seen": ["b"]}  # what was hidden does not come back
    assert (every["written"], every["waiting"]) == ({"seen": ["b", "c", "d"]}, {"seen": 0})


def test_graphs_go_to_phones_compressed_while_their_round_is_open(site):
    graph = {"drawn": f"<svg>{'<path d=1/>' * 3000}</svg>", "said": "mass against time"}
    asked = {**PREDICTION, "pictures": {"cathode": graph}}

    async def act(page, link):
        parts = urlsplit(link)
        address = f"http://{parts.netloc}/pictures.json?{parts.query}"
        none = await fetch(address)
        page.say({"ask": asked})
        one = await phone(link)
        shown = await one.hear_until(lambda m: m["round"]["number"] == 2)
        return none, shown, await fetch(address, {"Accept-Encoding": "gzip"}), page.heard

    none, shown, got, heard = in_room(site, act)
    assert none.code == 404
    assert shown["round"]["hasPictures"] is True
    assert "<path" not in json.dumps([shown, heard])
    assert json.loads(got.body) == {"cathode": graph}
    assert int(got.headers["Content-Length"]) < 1_000


def test_one_device_cannot_take_all_places_and_a_full_room_says_so(site):
    async def act(page, link):
        crowd = [await phone(link) for _ in range(MAX_PHONES_OF_ONE_ADDRESS)]
        late = await phone(link)
        told = await late.hear()
        crowd[0].close()
        await page.hear_until(lambda m: m.get("missing") == MAX_PHONES_OF_ONE_ADDRESS - 1)
        next_one = await phone(link)
        return told, await next_one.hear(), crowd

    told, shown, _ = in_room(site, act)
    assert told == {"ended": "full"}
    assert shown["round"]["number"] == 1


PING, TEXT, MORE = 0x9, 0x1, 0x0


@pytest.mark.parametrize(
    "flood",
    [
        frame(PING, b"x" * 100) * 100,
        frame(TEXT, b"a", is_last=False) + frame(MORE, is_last=False) * 100,
        frame(TEXT, b'{"here":true}') * 100,
    ],
    ids=["pings", "empty fragments", "messages"],
)
def test_a_phone_that_floods_with_frames_is_cut_off_at_once(site, flood):
    async def act(page, link):
        good = await phone(link)
        await good.hear()
        bad = bare(link, channel_request(link))
        await asyncio.sleep(0.3)
        bad.sendall(flood)
        ended = await is_ended(bad, 3)  # a polite goodbye takes five seconds
        good.say(answer())
        return ended, await good.hear()

    assert in_room(site, act) == (True, {"kept": [1, 1]})


def test_who_connects_again_and_again_is_turned_away_before_anything_is_read(site):
    async def act(page, link):
        crowd = "127.0.0.7"
        opened = [bare(link, b"", crowd) for _ in range(listener.CONNECTIONS_AT_ONCE + 100)]
        for each in opened:
            each.close()
        await asyncio.sleep(0.2)
        late = [bare(link, b"", crowd) for _ in range(60)]  # they say nothing that could be read
        ended = await asyncio.gather(*(is_ended(each, 2) for each in late))
        for each in late:
            each.close()
        return sum(ended), (await fetch(link)).code

    turned_away, code = in_room(site, act)
    assert turned_away > 20
    assert code == 200  # of another address


def garbled(said, chance):
    """What somebody might send who plays with what a page says: cut, doubled, turned over, or mere noise."""
    made = bytearray(said)
    for _ in range(chance.randrange(1, 6)):
        at = chance.randrange(len(made) + 1)
        match chance.randrange(5):
            case 0:
                del made[at:]
            case 1:
                made[at:at] = made[: chance.randrange(len(made) + 1)]
            case 2:
                made[at:at] = chance.randbytes(chance.randrange(200))
            case 3:
                made[at : at + 1] = bytes([chance.randrange(256)])
            case 4:
                made[at:at] = chance.choice(
                    [b"\r\n", b"\0", b"%00", b"\xff\xfe", b"[" * 500, b"9" * 900]
                )
    return bytes(made)


def test_whatever_bytes_come_the_room_goes_on_and_nothing_is_counted_that_no_page_says(site):
    chance = random.Random(21)  # noqa: S311

    async def act(page, link):
        good = await phone(link)
        await good.hear()
        said = json.dumps(answer(cathode=2)).encode()
        opened = []
        for k in range(240):
            whole = request(link) if k % 4 == 0 else channel_request(link)
            if k % 4 == 1:
                whole += frame(TEXT, garbled(said, chance)[:125])
            elif k % 4 == 2:
                whole += garbled(frame(TEXT, said) * 3, chance)
            else:
                whole = garbled(whole, chance)
            with suppress(OSError):
                opened.append(bare(link, whole, f"127.0.0.{2 + k % 8}"))
            await asyncio.sleep(0)
        good.say(answer(cathode=1))
        kept = await good.hear()
        page.say({"accept": False})
        state = await page.hear_until(lambda message: message.get("open") is False)
        for each in opened:
            each.close()
        return kept, state

    kept, state = in_room(site, act)
    assert kept == {"kept": [1, 1]}
    (vote,) = state["votes"]
    assert sum(vote["counts"]["cathode"]) <= vote["answered"] <= MAX_PHONES
    assert vote["counts"]["cathode"][1] >= 1


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


def test_a_quiet_phone_is_not_cut_off(site):
    async def act(page, link):
        quiet = bare(link, channel_request(link))
        await asyncio.sleep(0.3)
        quiet.sendall(frame(PING) * 10)
        return await is_ended(quiet, 1)

    assert in_room(site, act) is False


def test_a_body_that_never_comes_holds_no_connection(monkeypatch):
    monkeypatch.setattr(listener, "IDLE_S", 0.5)

    async def waited():
        port = free_port(0)
        host = RoomHost(Place("127.0.0.1", port))
        listening = listener.PhoneListener(host, "127.0.0.1", port)
        slow = bare(f"http://127.0.0.1:{port}/", request("http://x/?key=y", Content_Length="1000"))
        try:
            return await is_ended(slow, 10)
        finally:
            listening.stop()

    assert run_apart(waited())


def test_two_devices_with_all_connections_leave_one_for_a_phone(site):
    async def act(page, link):
        held = [
            bare(link, source=source)
            for source in ("127.0.0.2", "127.0.0.3")
            for _ in range(listener.MAX_CONNECTIONS_OF_ONE_ADDRESS)
        ]
        await asyncio.sleep(0.5)
        got = [(await fetch(link)).code for _ in range(3)]
        for each in held:
            each.close()
        return got

    assert in_room(site, act) == [200, 200, 200]


def test_the_teacher_counts_one_answer_of_each_address_by_a_press(site):
    async def act(page, link):
        again = [bare(link, channel_request(link), "127.0.0.2") for _ in range(3)]
        one = await phone(link)
        await one.hear()
        one.say(answer(cathode=1))
        said = json.dumps(answer(cathode=2)).encode()
        for each in again:
            each.sendall(frame(TEXT, said))
        every = await page.hear_until(counted(4))
        page.say({"one-each": True})
        return every, await page.hear_until(lambda message: message.get("oneEach"))

    every, single = in_room(site, act)
    assert every["alike"] == 3
    assert every["votes"][0]["counts"]["cathode"] == [0, 1, 3, 0]
    assert single["votes"][0]["counts"]["cathode"] == [0, 1, 1, 0]


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


# a server for a class: others reach it, and only the teacher asks


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
