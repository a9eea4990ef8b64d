"""Measure a class that answers on its phones: how soon the teacher's page has it, and what it costs.

    python tests/serving/compare_answers.py            60 phones, 4 rounds
    python tests/serving/compare_answers.py --troubled the same beside phones that flood and speak nonsense

Only this computer's own address is used; the number of phones and rounds is bounded.
"""

from __future__ import annotations

import argparse
import asyncio
import random
import sys
import time
from pathlib import Path
from statistics import median

import psutil

sys.path.insert(0, str(Path(__file__).parent))
from phones import fetch, open_room, phone, teacher
from servers import fizzplate

MOST_PHONES, MOST_ROUNDS = 76, 20  # as many phones as one address may have, less four that trouble
TROUBLES = 4
OWN_ADDRESS = "127.0.0.1"


def memory_mb(process):
    """What the server alone holds, in MB: without what it shares with others."""
    return process.memory_full_info().uss / 1e6


def asked():
    """Return a round whose answers can be told apart: each phone sends a number of its own."""
    options = ["copper", "hydrogen", "nothing", "oxygen", "sodium", "chlorine"]
    parts = [
        {"name": name, "kind": "choice", "label": f"At the {name}", "options": options}
        for name in ("cathode", "anode")
    ]
    own = {"name": "own", "kind": "number", "label": "A number", "unit": "mg"}
    return {"title": "What will form?", "memo": "", "parts": [*parts, own]}


async def trouble(link, until):
    """Leave and return, speak nonsense and flood, again and again; give how often it was tried."""
    tries = 0
    while not until.is_set():
        for sent in ("nonsense", *['{"here": true}'] * 60):
            tries += 1
            try:
                one = await phone(link)
                one.say(sent)
                await asyncio.sleep(0.01)
                one.close()
            except Exception:  # noqa: S110  # refused, as it should be
                pass
            if until.is_set():
                return tries
    return tries


async def answered(one, number, own, wait_s):
    """Answer after a while, and wait until the phone is told that it has arrived; give when it was sent."""
    await asyncio.sleep(wait_s)
    chosen = {"cathode": random.randrange(6), "anode": random.randrange(6), "own": own}  # noqa: S311
    sent = time.perf_counter()
    one.say({"answer": {"round": number, "vote": 1, "values": chosen}})
    await one.hear_until(lambda message: "kept" in message)
    return sent


async def round_of(page, phones, number, spread_s):
    """Ask once; give for each answer the seconds until it was on the teacher's page."""
    page.say({"ask": asked()})
    await page.hear_until(lambda m: (m.get("round") or {}).get("number") == number)
    await asyncio.gather(
        *(
            one.hear_until(lambda m: (m.get("round") or {}).get("number") == number)
            for one in phones
        )
    )
    seen: dict[float, float] = {}

    async def watch():
        while len(seen) < len(phones):
            message = await page.hear_until(lambda m: bool(m.get("votes")))
            for own in message["votes"][-1]["counts"]["own"]:
                seen.setdefault(own, time.perf_counter())

    watching = asyncio.create_task(watch())
    sent = await asyncio.gather(
        *(
            answered(one, number, k, spread_s * random.random())  # noqa: S311
            for k, one in enumerate(phones)
        )
    )
    await asyncio.wait_for(watching, 60)
    return [seen[k] - begun for k, begun in enumerate(sent)]


async def measure(site, server, count, rounds, *, spread_s, troubled):
    """Give seconds for each answer, and work and memory of the server for each phone and answer."""
    own = psutil.Process(server.pid)
    page = await teacher(site)
    link = (await open_room(page, OWN_ADDRESS))["link"]
    memory, work = memory_mb(own), sum(own.cpu_times()[:2])
    for _ in range(count):
        assert (await fetch(link)).code == 200
    phones = [await phone(link) for _ in range(count)]
    joined_work = sum(own.cpu_times()[:2]) - work
    until = asyncio.Event()
    troubles = [asyncio.create_task(trouble(link, until)) for _ in range(TROUBLES * troubled)]
    work = sum(own.cpu_times()[:2])
    waits = [
        wait
        for number in range(1, rounds + 1)
        for wait in await round_of(page, phones, number, spread_s)
    ]
    work = sum(own.cpu_times()[:2]) - work
    memory = memory_mb(own) - memory
    until.set()
    tries = sum(await asyncio.gather(*troubles))
    page.say({"close": True})
    return {
        "answers": len(waits),
        "half": median(waits),
        "most": sorted(waits)[int(0.95 * (len(waits) - 1))],
        "join_ms": 1000 * joined_work / count,
        "answer_ms": 1000 * work / len(waits),
        "phone_mb": memory / count,
        "tries": tries / len(waits),
    }


def main(arguments=None):
    """Print the table."""
    options = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    options.add_argument("phones", type=int, nargs="?", default=60)
    options.add_argument("--rounds", type=int, default=4)
    options.add_argument("--spread", type=float, default=3.0, help="seconds in which all answer")
    options.add_argument("--troubled", action="store_true")
    given = options.parse_args(arguments)
    count, rounds = min(given.phones, MOST_PHONES), min(given.rounds, MOST_ROUNDS)
    with fizzplate(page="revise", FIZZPLATE_WARM_ONLY="revise") as (server, address):
        site = address.partition("revise")[0]
        found = asyncio.run(
            measure(site, server, count, rounds, spread_s=given.spread, troubled=given.troubled)
        )
    print(
        "| phones | answers | on the page, half, s | 95 %, s | join, ms | answer, ms | phone, MB "
        "| troubles for each answer |"
    )
    print("| --- | --- | --- | --- | --- | --- | --- | --- |")
    print(
        f"| {count} | {found['answers']} | {found['half']:.3f} | {found['most']:.3f} "
        f"| {found['join_ms']:.1f} | {found['answer_ms']:.1f} | {found['phone_mb']:.2f} "
        f"| {found['tries']:.0f} |"
    )
    return found


if __name__ == "__main__":
    main()
