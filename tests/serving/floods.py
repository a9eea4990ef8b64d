"""Ask much of a server while a class works: many pages, long hours, too many kernels, rude clients."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections import Counter
from urllib.parse import urlsplit

import numpy as np
from aftermath import LET_GO_S, Found, newcomer, settled_mb, working_class
from bystanders import Bystanders
from learners import CONCENTRATION, Learner, RefusedError
from memory import MB, Family
from servers import fizzplate

MINUTE_S = 60
AT_ONCE = 40  # of those who ask for kernels without end
ROOM_S = 300
TRICKLE_S = 0.5
ABOVE_ALL_LIMITS = 20_000_000  # bytes


def class_of(learners, server=None):
    """Start the command for a class, on this machine only; or take a server that runs already."""
    if server:
        return contextlib.nullcontext(server)
    return fizzplate("--host", "127.0.0.1", "--class", str(learners))


async def page_loads(loads=200, seconds=MINUTE_S, others=5, let_go_s=LET_GO_S, server=None):
    """Many page loads in a minute; each learner waits for the scene and closes the page again."""
    found = Found(f"{loads} page loads in {seconds} s")
    taken_s, failed = [], []

    async def visit(address, after_s):
        await asyncio.sleep(after_s)
        async with Learner(address) as learner:
            try:
                taken_s.append(await learner.open())
                await learner.close()
            except (OSError, RefusedError) as failure:
                failed.append(failure)

    with class_of(30, server) as (process, address):
        family = Family(process.pid)
        async with working_class(found, address, family, others, let_go_s=let_go_s) as class_:
            class_.begin("during")
            began = time.perf_counter()
            await asyncio.gather(*(visit(address, k * seconds / loads) for k in range(loads)))
            found.figures["all done after, s"] = time.perf_counter() - began
    found.failures += failed
    found.figures["scenes"] = len(taken_s)
    if taken_s:
        found.figures["median until a scene, s"] = float(np.median(taken_s))
        found.figures["95 % within, s"] = float(np.percentile(taken_s, 95))
    return found


async def endurance(learners=30, minutes=60, pause_s=10, let_go_s=LET_GO_S, server=None):
    """A class changes controls for an hour."""
    found = Found(
        f"{learners} learners change controls for {minutes} min, each about every {pause_s} s"
    )
    with class_of(learners, server) as (process, address):
        family = Family(process.pid)
        async with Learner(address) as first:
            await first.open()
            await first.close()
        found.before_mb = await settled_mb(family)
        async with Bystanders(address, learners, pause_s) as class_:
            await asyncio.sleep(0.1 * MINUTE_S * minutes)  # each has met most of what there is
            early_mb = family.pss_bytes() / MB
            class_.begin("through the hour")
            await asyncio.sleep(0.8 * MINUTE_S * minutes)
            late_mb = family.pss_bytes() / MB
            class_.begin("at its end")
            await asyncio.sleep(0.1 * MINUTE_S * minutes)
            found.failures, found.answers = class_.failures, class_.told()
            found.figures["learners still working"] = sum(
                x.socket.ended is None for x in class_.learners
            )
        found.figures["memory with the class early, MB"] = early_mb
        found.figures["memory with the class late, MB"] = late_mb
        found.figures["late to early"] = late_mb / early_mb
        found.after_mb = await settled_mb(family, let_go_s=let_go_s)
    return found


async def kernel_starts(starts=2000, others=5, room_for=10, settle_s=700):
    """One client asks for page after page, each with a kernel, and never opens one properly.

    Parameters
    ----------
    starts, others
        How many pages are asked for, and how many learners work meanwhile.
    room_for
        The class that the server is sized for.
    settle_s
        How long to wait for kernels that no page came for; without that, room is not waited for.
    """
    found = Found(f"{starts} pages asked for, at a server for {room_for} learners")
    answers = Counter()
    most = 0

    async def ask(address, gate):
        async with gate, Learner(address, patience_s=ROOM_S) as stranger:
            try:
                await stranger.load()
                answers["a page"] += 1
            except RefusedError as refusal:
                answers[f"status {refusal.status}"] += 1
            except OSError as failure:
                answers[type(failure).__name__] += 1

    with class_of(room_for) as (process, address):
        family = Family(process.pid)
        async with working_class(found, address, family, others, settle_s) as class_:
            class_.begin("during")
            began = time.perf_counter()
            gate = asyncio.Semaphore(AT_ONCE)
            asking = asyncio.gather(*(ask(address, gate) for _ in range(starts)))
            while not asking.done():
                most = max(most, await asyncio.to_thread(family.kernels))
                await asyncio.sleep(0.5)
            found.figures["all answered after, s"] = time.perf_counter() - began
            found.figures["answers"] = dict(answers)
            found.figures["most kernels at once"] = most
            if settle_s:
                class_.begin("when it is full")
                began = time.perf_counter()
                found.figures["room for a newcomer after, s"] = await room(address, began)
    return found


async def room(address, began):
    """Ask again, as the page of a full server does, until there is room."""
    while time.perf_counter() - began < ROOM_S:
        async with Learner(address) as learner:
            with contextlib.suppress(RefusedError):
                await learner.open()
                await learner.close()
                return time.perf_counter() - began
        await asyncio.sleep(2)
    raise TimeoutError("there was no room")


class Dawdler:
    """A client that says its request letter by letter, or asks and then does not read the answer."""

    def __init__(self, address):
        parts = urlsplit(address)
        self.host, self.port = parts.hostname, parts.port
        self._writer = None

    async def trickle(self, until):
        """Send one letter of a request every half second; say whether it was cut off."""
        reader, self._writer = await asyncio.open_connection(self.host, self.port)
        with contextlib.suppress(OSError):
            self._writer.write(
                f"GET /demonstrate HTTP/1.1\r\nHost: {self.host}:{self.port}\r\n".encode()
            )
            while not until.done():
                self._writer.write(b"X")
                await self._writer.drain()
                with contextlib.suppress(TimeoutError):
                    async with asyncio.timeout(TRICKLE_S):
                        if not await reader.read(1000):
                            return True
            return False
        return True

    async def stare(self, path, until):
        """Ask for a long answer again and again on one connection, and read nothing."""
        _, self._writer = await asyncio.open_connection(self.host, self.port, limit=1024)
        request = f"GET {path} HTTP/1.1\r\nHost: {self.host}:{self.port}\r\n\r\n".encode()
        with contextlib.suppress(OSError):
            for _ in range(20):
                self._writer.write(request)
            await until

    def go(self):
        """Leave."""
        if self._writer is not None:
            self._writer.close()


async def slow_clients(clients=200, others=5, seconds=20, server=None):
    """Many clients send their requests letter by letter, or ask and do not read."""
    found = Found(f"{clients} slow clients for {seconds} s")
    with class_of(10, server) as (process, address):
        family = Family(process.pid)
        async with working_class(found, address, family, others) as class_:
            class_.begin("during")
            until = asyncio.get_running_loop().create_future()
            dawdlers = [Dawdler(address) for _ in range(clients)]
            half = clients // 2
            tasks = [asyncio.create_task(each.trickle(until)) for each in dawdlers[:half]]
            tasks += [
                asyncio.create_task(each.stare("/voila/static/voila.js", until))
                for each in dawdlers[half:]
            ]
            await newcomer(found, address, "newcomer among them, s")
            await asyncio.sleep(seconds)
            found.figures["memory among them, MB"] = family.pss_bytes() / MB
            found.figures["open files among them"] = family.files()
            until.set_result(None)
            cut = await asyncio.gather(*tasks, return_exceptions=True)
            found.figures["of those who trickle, cut off"] = sum(x is True for x in cut[:half])
            for each in dawdlers:
                each.go()
    return found


async def oversized(others=3, server=None):
    """Bodies, headers, addresses and websocket messages far above what a page sends."""
    found = Found(f"oversized messages, {ABOVE_ALL_LIMITS / MB:.0f} MB")
    with class_of(10, server) as (process, address):
        family = Family(process.pid)
        async with working_class(found, address, family, others) as class_:
            class_.begin("during")
            site = urlsplit(address)._replace(path="", query="").geturl()
            load = "x" * ABOVE_ALL_LIMITS
            attempts = {
                "body": {"path": f"{site}/demonstrate", "method": "POST", "body": load},
                "body of a beacon": {
                    "path": f"{site}/voila/api/shutdown/{'0' * 8}",
                    "method": "POST",
                    "body": load,
                },
                "header": {"path": address, "headers": {"X-Much": load[:1_000_000]}},
                "address": {"path": f"{site}/demonstrate?set={load[:1_000_000]}"},
            }
            async with Learner(address, patience_s=30) as rude:
                for name, attempt in attempts.items():
                    try:
                        status = (await rude.ask(**attempt)).code
                    except OSError:  # the server reads no further and closes: as good as a refusal
                        status = "closed"
                    found.figures[f"{name}, status"] = status
                    if status != "closed" and status < 400:
                        found.failures.append(RuntimeError(f"a {name} of that size was taken"))
            async with Learner(address) as rude:
                await rude.open()
                rude.socket.send("comm_msg", {"comm_id": "none", "data": {"much": load}})
                await rude.loss()
                found.figures["websocket message"] = f"connection closed: {rude.socket.ended}"
                await rude.close()
            await oversized_text(found, address)
    return found


async def oversized_text(found, address):
    """Type as much into a field as one message carries, and then go on working."""
    async with Learner(address) as rude:
        await rude.open()
        rude.socket.set(rude.control(CONCENTRATION), value="9" * 1_000_000)
        try:
            found.figures["a field of a million digits, then a right one, s"] = await rude.change(
                CONCENTRATION, "0.33"
            )
        except (OSError, TimeoutError) as failure:
            found.figures["a field of a million digits"] = repr(failure)
        await rude.close()


FLOODS = (page_loads, endurance, kernel_starts, slow_clients, oversized)
