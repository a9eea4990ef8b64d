"""Typed answers with plain signs, so that look-alikes are read the same."""

from __future__ import annotations

import re
import unicodedata

MAX_ANSWER_LENGTH = 10_000
_RAISED = re.compile(r"[⁰¹²³⁴-⁹⁺⁻]+")


def plain_answer(answer: str) -> str:
    """Return an answer with plain signs: look-alikes made the same, unseen marks left out.

    Examples
    --------
    >>> plain_answer(" ２．５ × 10³  cm³")
    '2.5 × 10^3 cm^3'
    """
    raised = _RAISED.sub(lambda found: f"^{found[0]}", answer[:MAX_ANSWER_LENGTH])
    text = unicodedata.normalize("NFKC", raised).replace("−", "-").replace("’", "'")
    kept = "".join(c for c in text if unicodedata.category(c) != "Cf")
    return " ".join(kept.split())
