"""Pack a page's data into short text: numbers to sixteen bits, each line of text once.

A block is base85 (a sixteenth shorter than base64) of gzip of: the length of the plain data (4 bytes,
little-endian), the plain data as JSON, and the numbers. Text in the plain data is written as ``{"$":
[...]}``: places in its "lines", each as the difference from the one before. Numbers are unsigned sixteen-
bit codes. For each array, row by row, a code is the difference from the row before (in the first row from
the code before), folded to a positive number; first come the low bytes of all, then the high bytes. An
array's scale says how to read it: ``[count, width, a, b]`` for ``count`` numbers in rows of ``width``, each
``a + b code``.
"""

from __future__ import annotations

import base64
import gzip
import json
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Codes = np.ndarray[tuple[int, ...], np.dtype[np.int64]]

FOR_HTML = str.maketrans(
    "<>&", ",.:"
)  # letters of base85 that mean something in HTML, and what it lacks
MAX_POSITIONS = 24  # along the cell
SHORT = 16  # characters: text up to here is not worth a line of its own
#: steps of what is only drawn, by the first letters of its name; everything else has the finest
LEVELS = {"c:": 1023, "h:": 1023, "v:": 255, "pH": 1023, "r:": 1023}
RANGES = "r:"  # of shares, which a page rounds to whole percentages
MAX_CODE = 65520  # the most that even times of a run (60 steps) divide: their codes are exact

_DRAWN = re.compile(r'\b(d|x|y|transform|points)="([^"]*)"')
_LONG_NUMBER = re.compile(r"\d+\.\d{2,}")


@dataclass
class Block:
    """A block in the making.

    Examples
    --------
    >>> block = Block()
    >>> block.fold({"sentence": "Bubbles of hydrogen rise.", "role": "cathode"})
    {'sentence': {'$': [0]}, 'role': 'cathode'}
    """

    _lines: dict[str, int] = field(default_factory=dict)
    _codes: list[Codes] = field(default_factory=list)

    def fold(self, value: Any) -> Any:
        """Put long text into the block's lines, wherever it is in the plain data."""
        if isinstance(value, str):
            if len(value) <= SHORT:
                return value
            places = [self._lines.setdefault(line, len(self._lines)) for line in value.split("\n")]
            return {"$": np.diff(places, prepend=0).tolist()}
        if isinstance(value, dict):
            return {key: self.fold(part) for key, part in value.items()}
        if isinstance(value, (list, tuple)):
            return [self.fold(part) for part in value]
        return value

    def record(self, header: Mapping[str, Any], array_bytes: bytes) -> dict[str, Any]:
        """Put a record's arrays into the block; give its header, and how the arrays are read."""
        values = np.frombuffer(array_bytes, "<f4").astype(float)
        index = header["index"]
        times = index["time_s"]["length"] if "time_s" in index else 1  # a cell at rest has no times
        places = index["position_m"]["length"]
        kept = _spread(places, MAX_POSITIONS)
        first: dict[int, str] = {}  # names of arrays by where they begin
        scales: dict[str, Any] = {}
        for name, where in index.items():
            begins, length = where["offset"], where["length"]
            if begins in first:  # an array under another name
                scales[name] = first[begins]
                continue
            first[begins] = name
            rows = values[begins : begins + length]
            if name[:2] in LEVELS:
                scales[name] = self.numbers(name, rows.reshape(times, places)[:, kept])
            else:
                scales[name] = self.numbers(name, rows[kept] if name == "position_m" else rows)
        # nothing is changed in the file, so that a picture's scales may be those of the run with its changes
        plain = {key: value for key, value in header.items() if key not in {"index", "unchanged"}}
        return {"header": self.fold(plain), "scales": scales}

    def chart(self, chart: Mapping[str, Any]) -> dict[str, Any]:
        """Put a chart into the block: no more figures than can be seen, its table as numbers."""
        head, *rows = chart["csv"].splitlines()
        table = np.array([[float(each) for each in row.split(",")] for row in rows])
        plain = {**chart, "svg": _short_svg(chart["svg"]), "csv": head}
        columns = [self.numbers("", column) for column in table.T]
        return {**self.fold(plain), "columns": columns}

    def certainty(self, side: Mapping[str, Any]) -> dict[str, Any]:
        """Put into the block how sure an electrode's main share is: its range only where a page shows one."""
        ends = [np.array(side[end]) for end in ("low", "high")]
        is_shown = ends[0].size > 0 and bool((ends[1] - ends[0]).max() >= side["wide"])
        ranges = [self.numbers(RANGES, end) for end in ends] if is_shown else []
        return {"wide": side["wide"], "sentences": self.fold(side["sentences"]), "ranges": ranges}

    def numbers(self, name: str, values: Array) -> list[Any]:
        """Put an array into the block; give how it is read."""
        codes, scale = _coded(name, values)
        width = values.shape[1] if values.ndim > 1 else 1
        self._codes.append(_differences(codes.reshape(-1, width)))
        return [values.size, width, *scale]

    def text(self, plain: Mapping[str, Any]) -> str:
        """Return the block as text, with its plain data."""
        whole = json.dumps(
            dict(plain) | {"lines": list(self._lines)}, ensure_ascii=False, separators=(",", ":")
        ).encode()
        codes = np.concatenate(self._codes) if self._codes else np.zeros(0, np.int64)
        planes = codes.astype("<u2").view(np.uint8).reshape(-1, 2).T.tobytes()
        packed = gzip.compress(len(whole).to_bytes(4, "little") + whole + planes, 9, mtime=0)
        return base64.b85encode(packed).decode().translate(FOR_HTML)


def _coded(name: str, values: Array) -> tuple[Codes, tuple[float, float]]:
    """Return the codes of an array, and how they are read."""
    least = float(f"{values.min():.7g}")
    step = float(f"{(values.max() - values.min()) / LEVELS.get(name[:2], MAX_CODE):.7g}")
    codes = np.zeros(values.shape, np.int64)
    if step > 0:
        codes = ((values - least) / step).round().clip(0, MAX_CODE).astype(np.int64)
    return codes, (least, step)


def _differences(codes: Codes) -> Codes:
    """Return what a code differs by from the one before, as a positive sixteen-bit number."""
    change = np.vstack([np.diff(codes[:1], prepend=0, axis=1), np.diff(codes, axis=0)]).ravel()
    signed = (change + 32768) % 65536 - 32768
    return np.where(signed < 0, -2 * signed - 1, 2 * signed)


def _spread(count: int, most: int) -> Codes:
    """Choose at most ``most`` of ``count`` places, evenly, with both ends."""
    return np.unique(np.linspace(0, count - 1, min(count, most)).round().astype(np.int64))


def _short_svg(svg: str) -> str:
    return _DRAWN.sub(
        lambda found: f'{found[1]}="{_LONG_NUMBER.sub(_short, " ".join(found[2].split()))}"', svg
    )


def _short(found: re.Match[str]) -> str:
    return f"{float(found[0]):.1f}"
