"""What a class writes, and what it is shown: texts by a press alone, graphs with their questions."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from urllib.parse import urlsplit

sys.path.insert(0, str(Path(__file__).parent))
from opened_rooms import in_room
from phones import (
    PREDICTION,
    answer,
    fetch,
    phone,
)

WORKED_OUT_AHEAD = "revise"


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
