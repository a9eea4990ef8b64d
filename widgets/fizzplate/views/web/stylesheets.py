"""The look of every page: tokens and stylesheets, in the order in which they count."""

from __future__ import annotations

from functools import cache
from importlib import resources
from typing import TYPE_CHECKING

from fizzplate.views.web.theme import stylesheet

if TYPE_CHECKING:
    from collections.abc import Collection

#: the class's table, papers and asking the class: what a page without a server does not have
ONLY_SERVED = ("grid/grid.css", "quiz/paper.css", "room/opener.css")


@cache
def style_text(left_out: Collection[str] = ()) -> str:
    """Return the look of every page as one stylesheet.

    Parameters
    ----------
    left_out
        Files of what the pages do not show, such as ``ONLY_SERVED``.
    """
    views = resources.files("fizzplate.views")

    def read(name: str) -> str:
        if name in left_out:
            return ""
        return views.joinpath(name).read_text(encoding="utf-8")

    compact = read("kit/compact.css")
    # a page may have less than the window: a notebook's own host puts other things beside it;
    # paper has its own layout, and is never taken for a narrow window
    narrow = "\n".join(
        f"@media screen {{ {where} {{\n{compact}}} }}"
        for where in (
            "@media (max-width: 1199px)",
            "@container fp-page (max-width: 1199px)",
            ".fp-two-cells",
        )
    )
    wide = [read(name) for name in ("kit/page.css", "kit/setup.css", "bench/bench.css")]
    rest = [
        read(name)
        for name in (
            "kit/phone.css",
            "bench/lesson/lesson.css",
            "bench/explore.css",
            "grid/grid.css",
            "kit/groups.css",
            "inquiry/inquiry.css",
            "bench/lesson/steps.css",
            "room/opener.css",
        )
    ]
    quiz = [read(name) for name in ("quiz/quiz.css", "quiz/paper.css")]
    return "\n".join(
        (stylesheet(), *wide, narrow, *rest, *quiz, read("kit/forced.css"), read("kit/print.css"))
    )
