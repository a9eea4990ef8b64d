"""Frames that no page sends: random bytes, sound ones with one thing wrong, others that ask oddly."""

from __future__ import annotations

import asyncio
import contextlib
import json
import random
import struct
import tempfile

from aftermath import Found, working_class
from jupyter_server.services.kernels.connection.base import serialize_msg_to_ws_v1
from learners import Learner
from memory import MB, Family
from servers import fizzplate
from tornado.httpclient import HTTPError
from tornado.websocket import WebSocketClosedError

ENDLESS = bytes.fromhex("ffffffffffffff0f")  # a number of offsets that nothing reads to its end
ANSWER_S = 1.0  # another page's answer, whatever is sent
MEMORY = 0.10  # above what it was
SEED = 16
MAX_ODD_FRAMES = 30  # odd frames on a connection before the malformed one
EVERY_S = 0.05
HEADER = {
    "msg_id": "1",
    "msg_type": "kernel_info_request",
    "session": "s",
    "username": "",
    "version": "5.2",
}


def sound(header=HEADER, content=b"{}", channel="shell", buffers=()):
    """Make a frame as a page does."""
    parts = [json.dumps(header).encode(), b"{}", b"{}", content, *buffers]
    return serialize_msg_to_ws_v1(parts, channel)


def with_offset(k, value):
    """Change one number at a sound frame's head: the count is number 0."""
    frame = bytearray(sound())
    struct.pack_into("<Q", frame, 8 * k, value % 2**64)
    return bytes(frame)


def malformed(rng):
    """Make a frame that must be refused."""
    return rng.choice(
        (
            lambda: ENDLESS,
            lambda: rng.randbytes(rng.choice((0, 1, 7, 8, 9, 64, 1000, 100_000))),
            lambda: with_offset(0, rng.choice((0, 1, 5, 7, 65, 2**31, 2**63, 2**64 - 1))),
            lambda: with_offset(rng.randint(1, 6), rng.choice((0, -1, 3, 2**32, 2**63))),
            lambda: sound()[: rng.randint(0, len(sound()) - 1)],
            lambda: sound() + rng.randbytes(rng.randint(1, 50)),
            lambda: sound(channel=rng.choice(("", "iopub", "stdin", "shell" * 1000))),
            lambda: sound(header=rng.choice(([], "header", 7, None, {}, {"msg_type": []}))),
            lambda: sound(header=rng.choice((HEADER | {"msg_id": 1}, HEADER | {"x": "x" * 5000}))),
            lambda: sound(buffers=[b""] * rng.choice((59, 500, 20_000))),
            lambda: sound(header="[" * 4000).replace(b'"', b""),
            lambda: "[" * rng.randint(0, 50_000),
        )
    )()


def odd(rng):
    """Make a sound frame that asks for something strange; whatever it is, it hurts its own page only."""
    comm = {"comm_id": rng.choice(("none", 7, None, "x" * 9000))}
    kind, content = rng.choice(
        (
            ("execute_request", {"code": "open('made', 'w')", "silent": False}),
            ("comm_open", comm | {"target_name": "jupyter.widget", "data": {"state": {}}}),
            ("comm_open", comm | {"target_name": "jupyter.widget.control", "data": {}}),
            ("comm_msg", comm | {"data": {"method": rng.choice(("update", "request_states", 7))}}),
            ("comm_close", comm),
            ("comm_info_request", {"target_name": rng.choice(([], "x", None))}),
            ("unheard-of", {}),
        )
    )
    content = rng.choice((json.dumps(content).encode(), rng.randbytes(50), b"[" * 5000, b""))
    buffers = [rng.randbytes(rng.choice((0, 10, 10_000))) for _ in range(rng.randint(0, 58))]
    return sound(HEADER | {"msg_type": kind}, content, rng.choice(("shell", "control")), buffers)


async def send_on_one(learner, rng, most):
    """Send odd frames and a malformed one on a connection; tell how many, and if it was closed."""
    socket = learner.new_socket()
    await socket.open(*learner.channels())
    before = rng.randint(0, min(most - 1, MAX_ODD_FRAMES))
    try:
        for _ in range(before):
            await socket.send_raw(odd(rng))
        await socket.send_raw(malformed(rng))
        await socket.until(lambda: False)
    except (ConnectionError, WebSocketClosedError):
        return before + 1, True
    except TimeoutError:
        return before + 1, False
    finally:
        socket.drop()


async def watch_answers(learner, answers_s):
    """Ask a page's program for a sign of life, again and again."""
    while True:
        answers_s.append(await learner.socket.reach_kernel())
        await asyncio.sleep(EVERY_S)


async def malformed_frames(
    frames=2000, connections=3, others=3, answer_s=ANSWER_S, server=None, log=None
):
    """Odd and malformed frames on one's own page's connections, and older protocols asked for."""
    found = Found(f"{frames} odd and malformed frames, {connections} connections at a time")
    with contextlib.ExitStack() as started:
        log = log or started.enter_context(tempfile.TemporaryFile("w+"))
        process, address = server or started.enter_context(fizzplate(log=log))
        family = Family(process.pid)
        async with (
            working_class(found, address, family, others) as class_,
            Learner(address) as rude,
            Learner(address) as other,
        ):
            await rude.open()
            await other.open()
            quiet_mb = max_mb = family.head.memory_info().rss / MB
            class_.begin("during")
            answers_s, left, opened, open_ = [], frames, 0, 0
            watching = asyncio.create_task(watch_answers(other, answers_s))

            async def send_on(seed):
                nonlocal max_mb, left, opened, open_
                rng = random.Random(seed)  # noqa: S311  # to be had again, not a secret
                while left > 0:
                    sent, closed = await send_on_one(rude, rng, left)
                    left, opened, open_ = left - sent, opened + 1, open_ + (not closed)
                    max_mb = max(max_mb, family.head.memory_info().rss / MB)

            await asyncio.gather(*(send_on(SEED + k) for k in range(connections)))
            watching.cancel()
            try:
                await rude.new_socket().open(*rude.channels(), protocols=None)
                found.failures.append(RuntimeError("an older protocol was taken"))
            except HTTPError as refusal:
                found.figures["an older protocol, status"] = refusal.code
            found.figures["connections that were closed"] = f"{opened - open_} of {opened}"
            found.figures["server's memory, MB"] = f"{quiet_mb:.0f}, at most {max_mb:.0f}"
            found.figures["answers of another page"] = len(answers_s)
            found.figures["slowest of them, s"] = max(answers_s)
            log.seek(0)
            for wrong, words in (
                (open_, "a connection stayed open"),
                (max(answers_s) > answer_s, "a page waited"),
                (max_mb > quiet_mb * (1 + MEMORY), "memory grew"),
                ("Traceback" in log.read(), "a failure was told with all its lines"),
            ):
                if wrong:
                    found.failures.append(RuntimeError(words))
            await rude.close()
            await other.close()
    return found
