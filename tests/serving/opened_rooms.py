"""A room that is open at a server of its own, for tests of what phones and strangers do in it."""

from __future__ import annotations

import asyncio
import socket
from urllib.parse import urlsplit

from apart import run_apart
from phones import PREDICTION, open_room, teacher


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
