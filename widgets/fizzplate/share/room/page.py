"""What is sent for a room: the phones' page, what judges half-equations, the teacher's modules."""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
from dataclasses import dataclass
from functools import cache
from importlib import resources

from fizzplate.views.web import join_in_a_scope

JUDGE = "judge.js"
PICTURES = "pictures.json"
ADD_STYLE = """\
document.head.append(Object.assign(document.createElement("style"), { textContent: %s }));
"""


@dataclass(frozen=True, slots=True)
class Sendable:
    """What is sent to phones.

    Parameters
    ----------
    text, compressed
        As it is, and compressed.
    headers
        What goes with it.
    """

    text: bytes
    compressed: bytes
    headers: dict[str, str]


@cache
def phone_page(own_host: str) -> Sendable:
    """Make the page that a listener with this host and port sends."""
    folder = resources.files("fizzplate.views").joinpath("room", "phone")
    style = folder.joinpath("phone.css").read_text(encoding="utf-8")
    joined = join_in_a_scope("room/phone/phone.js", function="startPhone")
    script = f"{joined}startPhone(document, window);\n"
    page = folder.joinpath("phone.html").read_text(encoding="utf-8")
    text = page.replace("/*style*/", style).replace("/*script*/", script).encode()
    policy = "; ".join(
        (
            "default-src 'none'",
            f"script-src 'self' {_hash(script)}",
            f"style-src {_hash(style)}",
            "img-src data:",
            f"connect-src 'self' ws://{own_host}",
            "base-uri 'none'",
            "form-action 'none'",
            "frame-ancestors 'none'",
        )
    )
    headers = {"Content-Security-Policy": policy, "Content-Type": "text/html; charset=utf-8"}
    return Sendable(text, gzip.compress(text), headers)


@cache
def judge_script() -> Sendable:
    """Make the script that judges half-equations: phones ask for it when there is one to write."""
    joined = join_in_a_scope("workshop/what_is_wrong.js", function="whatIsWrong")
    text = f"{joined}window.fizzplateJudge = whatIsWrong;\n".encode()
    return Sendable(text, gzip.compress(text), {"Content-Type": "text/javascript; charset=utf-8"})


#: what a teacher's page loads when its class is asked: the file to begin with, and its function
MODULES = {
    "lesson": ("asking/lesson_room.js", "mountLessonRoom"),
    "set": ("asking/set_room.js", "mountSetRoom"),
}


@cache
def teachers_module(name: str) -> str:
    """Make the module that a teacher's page loads, with its look."""
    entry, function = MODULES[name]
    folder = resources.files("fizzplate.views").joinpath("room")
    style = json.dumps(folder.joinpath("room.css").read_text(encoding="utf-8"))
    joined = join_in_a_scope(entry, function=function)
    return f"{joined}{ADD_STYLE % style}export {{ {function} }};\n"


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
