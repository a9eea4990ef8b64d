"""The look of every page: tokens and stylesheets, in the order in which they count."""

from __future__ import annotations

from functools import cache
from importlib import resources

from fizzplate.views.theme import stylesheet


@cache
def style_text() -> str:
    """Return the look of every page as one stylesheet."""
    folder = resources.files(__package__).joinpath("bench")

    def read(name: str) -> str:
        return folder.joinpath(name).read_text(encoding="utf-8")

    compact = read("compact.css")
    narrow = f"@media (max-width: 1199px) {{\n{compact}}}\n.fp-twins {{\n{compact}}}"
    wide = [read(name) for name in ("page.css", "setup.css", "bench.css")]
    rest = [read(name) for name in ("phone.css", "lesson.css", "explore.css", "print.css")]
    return "\n".join((stylesheet(), *wide, narrow, *rest))
