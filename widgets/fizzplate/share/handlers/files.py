"""The front end's files: compressed only once, and requested once by each browser."""

from __future__ import annotations

import gzip
import re
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from jupyter_server.base.handlers import FileFindHandler
from tornado.web import HTTPError, StaticFileHandler
from voila.static_file_handler import MultiStaticFileHandler, TemplateStaticFileHandler

from fizzplate.share.handlers.refusal_handler import RefusalHandler

if TYPE_CHECKING:
    from collections.abc import Iterator

#: names one below another, none of which leads up again: what Voila would only assert
SAFE_PATH = re.compile(r"(?:(?!\.\.?/)[\w.@+ -]+/)*(?!\.\.?$)[\w.@+ -]+")
NAMED_BY_CONTENT = re.compile(r"\.[0-9a-f]{8,}\.")  # such a file never changes under its name
TEXT = {".js", ".css", ".json", ".svg", ".map", ".html"}
PROGRAM = "voila.js"
MAX_RESENT_BYTES = 400_000  # bytes; the few that are larger no page of ours asks for
FOREVER = "public, max-age=31536000, immutable"


class CompressedOnce(RefusalHandler, StaticFileHandler):
    """A static file that is sent compressed where the browser takes that.

    A class that joins asks for the same two megabytes thirty times; they are compressed once.
    """

    _compressed: ClassVar[dict[tuple[str, float], bytes]] = {}

    def set_default_headers(self) -> None:
        """Set the headers that every answer has."""
        for name, value in self.settings.get("headers", {}).items():
            self.set_header(name, value)

    async def get(self, path: str, include_body: bool = True) -> None:
        """Answer with the file."""
        if not SAFE_PATH.fullmatch(path):
            raise HTTPError(404)
        found = Path(self.get_absolute_path(self.root, self.parse_url_path(path)))
        if not found.is_file():  # which would be forbidden, as what needs the class's link is
            raise HTTPError(404)
        self._body: bytes | None = None
        takes_compressed = "gzip" in self.request.headers.get("Accept-Encoding", "")
        if takes_compressed and found.suffix in TEXT:
            self._body = self._once(found)
            self.request.headers.pop("Range", None)  # of the file as it is, not as it is sent
        await super().get(path, include_body)

    def set_headers(self) -> None:
        """Tell how the file is sent, and for how long it stays good."""
        super().set_headers()
        self.set_header("Vary", "Accept-Encoding")
        if self._body is not None:
            self.set_header("Content-Encoding", "gzip")
        if NAMED_BY_CONTENT.search(self.request.path):
            self.set_header("Cache-Control", FOREVER)

    def get_content_size(self) -> int:
        """Return how many bytes are sent."""
        return super().get_content_size() if self._body is None else len(self._body)

    def get_content(  # type: ignore[override]  # a method: it depends on what the browser takes
        self, abspath: str, start: int | None = None, end: int | None = None
    ) -> Iterator[bytes]:
        """Give what is sent."""
        if self._body is None:
            yield from StaticFileHandler.get_content(abspath, start, end)
        else:
            yield self._body

    @classmethod
    def get_content_version(cls, abspath: str) -> str:
        """Return a digest of the file."""
        return StaticFileHandler.get_content_version(abspath)

    @classmethod
    def _once(cls, path: Path) -> bytes:
        key = (str(path), path.stat().st_mtime)
        if key not in cls._compressed:
            cls._compressed[key] = gzip.compress(cls._content(path))
        return cls._compressed[key]

    @staticmethod
    def _content(path: Path) -> bytes:
        return path.read_bytes()


class TemplateFiles(CompressedOnce, TemplateStaticFileHandler):  # type: ignore[misc]  # Voila ships no types
    """Files of the page template, and Voila's own: ``TEMPLATE/static/FILE``."""

    async def get(self, path: str, include_body: bool = True) -> None:
        """Answer with the file."""
        if path.split("/")[1:2] != ["static"]:
            raise HTTPError(404)
        await super().get(path, include_body)


class FrontEnd(CompressedOnce, MultiStaticFileHandler):  # type: ignore[misc]  # Voila ships no types
    """Files of Voila's front end, which keep their names from version to version.

    It is built in some two hundred parts, and a page asks for eighty of them one by one. A part that
    has registered itself before the program starts is not asked for, so the smaller ones are sent
    in front of the program, in one answer.
    """

    def set_headers(self) -> None:
        """Have browsers ask whether they have changed, instead of guessing."""
        super().set_headers()
        if "Cache-Control" not in self._headers:
            self.set_header("Cache-Control", "no-cache")

    @staticmethod
    def _content(path: Path) -> bytes:
        if path.name != PROGRAM:
            return path.read_bytes()
        parts = sorted(path.parent.glob(f"*.{PROGRAM}"))
        before = [part for part in parts if part.stat().st_size < MAX_RESENT_BYTES]
        return b"\n".join(file.read_bytes() for file in (*before, path))


class Extensions(CompressedOnce, FileFindHandler):
    """Files of the widgets' front end."""
