"""What a page sends its program: frames of the protocol's first version, checked before they are read."""

from __future__ import annotations

import json
import struct
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

PROTOCOL = "v1.kernel.websocket.jupyter.org"
WORD = 8  # bytes of each number at the head of a frame
#: a channel, four parts that describe a message, and its end; what else there is are buffers
MIN_OFFSETS, MAX_OFFSETS = 6, 64
CHANNELS = (b"shell", b"control")
#: bytes of all that describes a message; what it says may be as long as the frame
MAX_DESCRIPTION_BYTES = 4_096
NAMES = ("msg_id", "msg_type", "session")
#: the one channel that a page opens: on it, it asks for the states of all widgets
CONTROL = "jupyter.widget.control"


class FrameError(ValueError):
    """A frame that no page of ours sends; the message may be shown to its sender."""


@dataclass(frozen=True, slots=True)
class Frame:
    """One message on its way to a program.

    Parameters
    ----------
    channel
        The kernel's channel that it goes to.
    kind
        The type of the message.
    parts
        Header, header of the message that it answers, metadata, content and buffers, as they came.
    """

    channel: str
    kind: str
    parts: tuple[bytes, ...]

    @property
    def may_pass(self) -> bool:
        """Whether it opens nothing, or what every page opens."""
        if self.kind != "comm_open":
            return True
        content = self.parts[3]
        return (
            len(content) <= MAX_DESCRIPTION_BYTES
            and _described(content, "content").get("target_name") == CONTROL
        )


def read_frame(sent: str | bytes) -> Frame:
    """Read a frame.

    It begins with the number of its offsets and the offsets, eight bytes each, the lowest byte first.
    Between each two offsets are the channel and then the parts.

    Raises
    ------
    FrameError
        If it is not binary, its offsets are too few, too many, falling or beyond its end, it names
        another channel, or what describes the message is too long or not what it must be.

    Examples
    --------
    >>> read_frame(bytes.fromhex("ffffffffffffff0f"))
    Traceback (most recent call last):
    fizzplate.share.handlers.frames.FrameError: a frame has from 6 to 64 offsets
    """
    if isinstance(sent, str):
        raise FrameError("a frame is binary")
    channel, *parts = _between_offsets(sent)
    if channel not in CHANNELS:
        raise FrameError("a frame goes to the channel shell or control")
    header, *_ = (
        _described(part, name)
        for part, name in zip(parts, ("header", "parent header", "metadata"), strict=False)
    )
    if not all(isinstance(header.get(name), str) for name in NAMES):
        raise FrameError("a header names its message, its type and its session")
    return Frame(channel.decode(), header["msg_type"], tuple(parts))


def _between_offsets(sent: bytes) -> list[bytes]:
    count = int.from_bytes(sent[:WORD], "little")
    if not MIN_OFFSETS <= count <= MAX_OFFSETS:
        raise FrameError(f"a frame has from {MIN_OFFSETS} to {MAX_OFFSETS} offsets")
    begin = WORD * (1 + count)
    if len(sent) < begin:
        raise FrameError("a frame holds all of its offsets")
    offsets = struct.unpack_from(f"<{count}Q", sent, WORD)
    if list(offsets) != sorted(offsets) or offsets[0] < begin or offsets[-1] != len(sent):
        raise FrameError("the offsets of a frame rise from behind them to its end")
    return [sent[start:end] for start, end in pairwise(offsets)]


def _described(part: bytes, name: str) -> dict[str, Any]:
    if len(part) > MAX_DESCRIPTION_BYTES:
        raise FrameError(f"a {name} has at most {MAX_DESCRIPTION_BYTES} bytes")
    try:
        described = json.loads(part)
    except (ValueError, RecursionError):
        described = None
    if not isinstance(described, dict):
        raise FrameError(f"a {name} is an object in JSON")
    return described
