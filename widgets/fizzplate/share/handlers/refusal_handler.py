"""Every refusal is in plain words, and the report of a failure names nobody."""

from __future__ import annotations

import errno
import json
import logging
import re
from traceback import walk_tb
from typing import TYPE_CHECKING, Any

from tornado.log import app_log
from tornado.web import HTTPError, RequestHandler
from zmq import ZMQError

if TYPE_CHECKING:
    from types import TracebackType

FULL, DISK_FULL = 503, 507
FAILED = 500  # status from which on the fault is ours
RETRY_AFTER_S = 10
#: status of an answer: its heading, and what can be done
REFUSALS = {
    400: ("The server cannot answer this request", "Open the page again."),
    403: (
        "This class needs its link",
        (
            "Open the link that your teacher shows, or scan its code again. The link is new each time "
            "the pages are started."
        ),
    ),
    404: ("There is no such page here", "The home page leads to all pages."),
    FULL: (
        "All places are taken at the moment",
        (
            "A place comes free when somebody closes their page. This page tries again by itself "
            "every ten seconds; you can also press Try again."
        ),
    ),
    DISK_FULL: (
        "The disk of the computer that serves this page is full",
        (
            "Tell whoever runs it to make room in its temporary folder. This page tries again by "
            "itself every ten seconds; you can also press Try again."
        ),
    ),
}
OTHERWISE = ("This did not work", "Go to the home page and try again.")
#: what the system can run out of: the status of the answer, and the line for the terminal
LACKING = {
    errno.EMFILE: (FULL, "no more files can be opened: a page was refused"),
    errno.ENFILE: (FULL, "no more files can be opened: a page was refused"),
    errno.ENOSPC: (DISK_FULL, "the temporary folder is full: a page was refused"),
    errno.EDQUOT: (DISK_FULL, "the temporary folder is full: a page was refused"),
}
#: what names a file, an address, a program or a visitor
PRIVATE = re.compile(r"\S*[/\\?]\S*|\b[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}\b|\b\w{16,}\b")


class RefusalHandler(RequestHandler):
    """A handler that tells a visitor what is wrong and what can be done, and the terminal what failed."""

    def send_error(self, status_code: int = FAILED, **kwargs: Any) -> None:
        """Answer with an error; if the system ran out of something, that is the error."""
        lack = lacking(kwargs.get("exc_info", (None, None))[1])
        super().send_error(lack[0] if lack else status_code, **kwargs)

    def write_error(self, status_code: int, **_: Any) -> None:
        """Say what is wrong and what can be done, for a program to read."""
        self.set_header("Content-Type", "application/json")
        self.set_header("Cache-Control", "no-store")
        self.finish(json.dumps({"message": ". ".join(REFUSALS.get(status_code, OTHERWISE))}))

    def log_exception(
        self,
        typ: type[BaseException] | None,  # noqa: ARG002  # as it is called
        value: BaseException | None,
        tb: TracebackType | None,
    ) -> None:
        """Log what failed here, without what the visitor asked for."""
        if isinstance(value, HTTPError) and value.status_code < FAILED:
            return
        lack = lacking(value)
        if lack is None and isinstance(value, HTTPError) and value.status_code == FULL:
            return  # no failure: as many pages are open as may be
        what = lack[1] if lack else describe_problem(value, tb)
        app_log.error("%s %s: %s", self.request.method, type(self).__name__, what)


def lacking(problem: BaseException | None) -> tuple[int, str] | None:
    """Say what the system ran out of, if that caused an error.

    Examples
    --------
    >>> lacking(OSError(errno.ENOSPC, "No space left on device"))
    (507, 'the temporary folder is full: a page was refused')
    >>> lacking(ZMQError(errno.EMFILE))
    (503, 'no more files can be opened: a page was refused')
    >>> lacking(ValueError())
    """
    while problem is not None:
        if isinstance(problem, OSError | ZMQError) and problem.errno in LACKING:
            return LACKING[problem.errno]
        problem = problem.__cause__ or problem.__context__
    return None


def describe_problem(problem: BaseException | None, tb: TracebackType | None) -> str:
    """Name an error and the line of the program where it arose, without any of its data."""
    places = [f"{frame.f_globals.get('__name__')}:{line}" for frame, line in walk_tb(tb)]
    return f"{type(problem).__name__}{f' in {places[-1]}' if places else ''}"


class OneLineFormatter(logging.Formatter):
    """Lines for the terminal: one for each failure, without what names a file, a program or a visitor.

    Examples
    --------
    >>> OneLineFormatter().format(logging.makeLogRecord({"msg": "Uncaught GET /revise?key=abc (127.0.0.1)"}))
    'Uncaught GET … (127.0.0.1)'
    """

    def format(self, record: logging.LogRecord) -> str:
        """Return the line."""
        said = PRIVATE.sub("…", record.getMessage().partition("\n")[0])
        if not record.exc_info:
            return said
        return f"{said}: {describe_problem(record.exc_info[1], record.exc_info[2])}"


def plain_pages(environment: Any, base_url: str) -> dict[int, str]:
    """Return the page of each refusal, made beforehand: no file need be opened to show it."""
    template = environment.get_template("plain.html")
    refusals = {FAILED: OTHERWISE, **REFUSALS}
    return {
        status: template.render(
            heading=heading,
            advice=advice,
            retries=status in {FULL, DISK_FULL},
            base_url=base_url,
        )
        for status, (heading, advice) in refusals.items()
    }
