"""Who may open a room and steer it: the person at this computer, or who holds the teacher's key."""

from __future__ import annotations

import hmac
import ipaddress
from typing import Any
from urllib.parse import parse_qsl, urlencode

COOKIE = "fizzplate-teacher"
#: what a proxy adds: through one, everybody seems to be at this computer
FORWARDED = ("Forwarded", "X-Forwarded-For", "X-Real-Ip", "Via")


def is_teacher(handler: Any) -> bool:
    """Tell whether a request, of a visitor who may open pages, comes from the teacher."""
    return _is_at_this_computer(handler.request) or _holds_key(
        handler, handler.get_cookie(COOKIE, "") or ""
    )


def take_teacher_key(handler: Any) -> None:
    """Keep the teacher's key of a page's address in a cookie, and open the page without it.

    So it is in no address that is shown on a projector or passed on.
    """
    pairs = parse_qsl(handler.request.query)
    given = [value for name, value in pairs if name == "teacher"]
    if not given or handler.current_user is None:
        return
    if _holds_key(handler, given[0]):
        handler.set_cookie(
            COOKIE, given[0], expires_days=None, httponly=True, samesite="Strict", path="/"
        )
    rest = urlencode([pair for pair in pairs if pair[0] != "teacher"], safe=";,=:")
    handler.redirect(f"{handler.request.path}{'?' if rest else ''}{rest}")


def _holds_key(handler: Any, given: str) -> bool:
    known = handler.settings.get("teacher_key", "")
    return bool(known) and hmac.compare_digest(given.encode(), known.encode())


def _is_at_this_computer(request: Any) -> bool:
    try:
        is_near = ipaddress.ip_address(request.remote_ip).is_loopback
    except ValueError:
        return False
    # a name that somebody pointed here is not this computer's own
    name = request.host_name
    if name != "localhost":
        try:
            is_near = is_near and ipaddress.ip_address(name.strip("[]")).is_loopback
        except ValueError:
            return False
    return is_near and not any(each in request.headers for each in FORWARDED)
