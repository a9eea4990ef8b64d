"""A frame is read only if it is sound, and nothing is counted to a number that a visitor gave."""

from __future__ import annotations

import random
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jupyter_server.services.kernels.connection.base import deserialize_msg_from_ws_v1

sys.path.insert(0, str(Path(__file__).parent))
from malformed import HEADER, malformed, odd, sound, with_offset

from fizzplate.share.handlers.frames import MAX_OFFSETS, FrameError, read_frame


@given(st.binary(max_size=400) | st.text(max_size=50))
def test_random_bytes_are_no_frame(sent):
    with pytest.raises(FrameError):
        read_frame(sent)


@given(st.integers(0, 6), st.integers(0, 2**64 - 1))
def test_a_frame_with_another_number_at_its_head_is_refused_or_read_within_its_bounds(k, value):
    frame = with_offset(k, value)
    try:
        read = read_frame(frame)
    except FrameError:
        return
    assert read.channel in {"shell", "control"}
    assert sum(map(len, read.parts)) < len(frame)


def test_what_is_malformed_is_refused_and_what_is_only_odd_is_read_as_the_library_reads_it():
    rng = random.Random(1)  # noqa: S311  # to be had again
    for _ in range(500):
        with pytest.raises(FrameError):
            read_frame(malformed(rng))
        frame = odd(rng)
        channel, parts = deserialize_msg_from_ws_v1(frame)
        assert (read_frame(frame).channel, read_frame(frame).parts) == (channel, tuple(parts))


def test_a_frame_may_have_as_many_parts_as_stated_and_no_more():
    most = MAX_OFFSETS - 6  # four parts, the channel and the end
    assert len(read_frame(sound(buffers=[b"x"] * most)).parts) == 4 + most
    with pytest.raises(FrameError, match="from 6 to 64"):
        read_frame(sound(buffers=[b"x"] * (most + 1)))


@pytest.mark.parametrize(
    ("kind", "content", "passes"),
    [
        ("comm_open", b'{"target_name": "jupyter.widget.control"}', True),
        ("comm_open", b'{"target_name": "jupyter.widget"}', False),
        ("comm_open", b'{"target_name": null}', False),
        ("comm_open", b"{}", False),
        ("comm_open", b'{"target_name": "jupyter.widget.control"%s}' % (b" " * 5000), False),
        ("comm_msg", b"{}", True),
    ],
)
def test_a_page_opens_one_channel_only(kind, content, passes):
    assert read_frame(sound(HEADER | {"msg_type": kind}, content)).may_pass == passes
