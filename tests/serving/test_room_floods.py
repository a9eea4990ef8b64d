"""Whoever floods a room, speaks nonsense to it or takes its places hurts nobody else."""

from __future__ import annotations

import asyncio
import json
import random
import sys
from contextlib import suppress
from pathlib import Path

import pytest
from tornado.websocket import WebSocketClosedError

sys.path.insert(0, str(Path(__file__).parent))
from apart import run_apart
from opened_rooms import counted, in_room
from phones import (
    MORE,
    PING,
    TEXT,
    answer,
    bare,
    channel_request,
    fetch,
    frame,
    is_ended,
    phone,
    request,
)

from fizzplate.share.network import Place, free_port
from fizzplate.share.room import RoomHost, listener
from fizzplate.share.room.messages import MAX_PHONE_BYTES
from fizzplate.share.room.room import MAX_PHONES, MAX_PHONES_OF_ONE_ADDRESS

WORKED_OUT_AHEAD = "revise"


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
