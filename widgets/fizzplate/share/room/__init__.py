"""The room in which a class answers together: rounds, answers and counts, in memory only."""

from fizzplate.share.room.host import RoomHost
from fizzplate.share.room.messages import (
    MAX_TEACHER_BYTES,
    Message,
    MessageError,
    from_phone,
    from_teacher,
)
from fizzplate.share.room.page import MODULES, teachers_module
from fizzplate.share.room.parts import Part
from fizzplate.share.room.room import MAX_PHONES, Room, RoomFullError, Round
from fizzplate.share.room.wire import Channel

__all__ = [
    "MAX_PHONES",
    "MAX_TEACHER_BYTES",
    "MODULES",
    "Channel",
    "Message",
    "MessageError",
    "Part",
    "Room",
    "RoomFullError",
    "RoomHost",
    "Round",
    "from_phone",
    "from_teacher",
    "teachers_module",
]
