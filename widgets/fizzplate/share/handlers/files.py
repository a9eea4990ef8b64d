"""The front end's files: compressed only once, and requested once by each browser."""

from __future__ import annotations

import gzip
import re
from functools import partial
from hashlib import sha256
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

import brotli
from jupyter_server.base.handlers import FileFindHandler
from tornado.web import HTTPError, StaticFileHandler
from voila.static_file_handler import MultiStaticFileHandler, TemplateStaticFileHandler

from fizzplate.share.handlers.refusal_handler import RefusalHandler

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

#: names one below another, none of which leads up again: what Voila would only assert
SAFE_PATH = re.compile(r"(?:(?!\.\.?/)[\w.@+ -]+/)*(?!\.\.?$)[\w.@+ -]+")
NAMED_BY_CONTENT = re.compile(r"\.[0-9a-f]{8,}\.")  # such a file never changes under its name
TEXT = {".js", ".css", ".json", ".svg", ".map", ".html"}
PROGRAM = "voila.js"
MAX_RESENT_BYTES = 400_000  # the few that are larger no page of ours asks for
#: the parts of Voila's front end that the pages ask for (``tests/serving/list_front_end_parts.py``)
PARTS = resources.files(__package__).joinpath("front_end_parts.txt").read_text("utf-8").split()
FOREVER = "public, max-age=31536000, immutable"
BROTLI_QUALITY = 9  # 0.3 s, while the first kernel starts; the best takes some forty times as long
#: by the name that a browser gives it, the best first
COMPRESSIONS: dict[str, Callable[[bytes], bytes]] = {
    "br": partial(brotli.compress, quality=BROTLI_QUALITY),
    "gzip": gzip.compress,
}


def compression_for(accepted: str) -> str:
    """Return the best compression that a browser takes; empty, if it takes none.

    Examples
    --------
    >>> compression_for("gzip, deflate, br"), compression_for("gzip;q=0.5, br; q=0"), compression_for("")
    ('br', 'gzip', '')
    """
    offers = (offer.replace(" ", "").partition(";q=") for offer in accepted.split(","))
    taken = {name for name, _, weight in offers if weight.strip("0.") or not weight}
    return next((name for name in COMPRESSIONS if name in taken), "")


class CompressedOnce(RefusalHandler, StaticFileHandler):
    """A static file that is sent compressed where the browser takes that.

    A class that joins asks for the same megabyte thirty times; it is compressed once.
    """

    _compressed: ClassVar[dict[tuple[str, str, float], bytes]] = {}

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
        self._compression = compression_for(self.request.headers.get("Accept-Encoding", ""))
        if self._compression and found.suffix in TEXT:
            self._body = self._once(found, self._compression)
            self.request.headers.pop("Range", None)  # of the file as it is, not as it is sent
        await super().get(path, include_body)

    def set_headers(self) -> None:
        """Tell how the file is sent, and for how long it stays good."""
        super().set_headers()
        self.set_header("Vary", "Accept-Encoding")
        if self._body is not None:
            self.set_header("Content-Encoding", self._compression)
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
    def _once(cls, path: Path, compression: str) -> bytes:
        key = (compression, str(path), path.stat().st_mtime)
        if key not in cls._compressed:
            cls._compressed[key] = COMPRESSIONS[compression](cls._content(path))
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

    It is built in some two hundred parts, and a page asks for some seventy of them one by one. A part
    that has registered itself before the program starts is not asked for, so these are sent in front
    of the program, in one answer.
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
        return FrontEnd._joined(path)

    @classmethod
    def _joined(cls, program: Path) -> bytes:
        return b"\n".join(file.read_bytes() for file in (*cls.before(program.parent), program))

    @classmethod
    def program(cls, folders: Sequence[str]) -> dict[str, Any]:
        """Return the program's name, which changes with its content, and how many bytes it has."""
        path = next(at for folder in folders if (at := Path(folder, PROGRAM)).is_file())
        content = cls._joined(path)
        return {"name": f"{PROGRAM}?v={sha256(content).hexdigest()[:16]}", "bytes": len(content)}

    @staticmethod
    def before(folder: Path) -> list[Path]:
        """Return the parts that are sent in front: those listed; of another release, all but the largest."""
        listed = [folder / name for name in PARTS]
        if all(part.is_file() for part in listed):
            return listed
        parts = sorted(folder.glob(f"*.{PROGRAM}"))
        return [part for part in parts if part.stat().st_size < MAX_RESENT_BYTES]


class SiteFiles(CompressedOnce):
    """A site of files that the command ``fizzplate site`` wrote: what is offered where the line is slow."""

    async def get(self, path: str, include_body: bool = True) -> None:
        """Answer with the file; with a folder's page for a folder."""
        await super().get(
            f"{path}index.html" if path.endswith("/") or not path else path, include_body
        )


class Extensions(CompressedOnce, FileFindHandler):
    """Files of the widgets' front end."""
