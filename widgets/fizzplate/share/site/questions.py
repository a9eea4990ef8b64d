"""The sets of questions of a site: for every topic and level enough not to repeat in a term."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from fizzplate.questions import LEVELS, TOPICS, QuestionSet, write_set
from fizzplate.share.takeaway import Block, quiz_state
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Container

    from fizzplate.lesson import Wording
    from fizzplate.share.site.folder import Folder

SETS = 12  # of each topic and level: a term's weeks
MIXED = "all topics"


def write_sets(folder: Folder, keys: Container[str], wording: Wording) -> dict[str, Any]:
    """Write all sets, and return what the page offers: levels, topics, and each set's file.

    Parameters
    ----------
    folder
        Of the site.
    keys
        Cells that it has runs of, as links write them: only these can be watched.
    wording
        The board's.
    """
    files: dict[str, str] = {}
    for level in LEVELS:
        for topic in (MIXED, *TOPICS):
            topics = () if topic == MIXED else (topic,)
            for seed in range(1, SETS + 1):
                chosen = QuestionSet(seed=seed, level=level, topics=topics, wording=wording)
                packed = _packed(chosen, keys)
                if packed is None:
                    break
                stem = f"sets/{level}-{topic.replace(' ', '-')}-{seed}"
                files[f"{level}/{topic}/{seed}"] = folder.write_named_by_content(
                    stem, ".txt", packed
                )
    return {
        "levels": {str(level): text for level, text in LEVELS.items()},
        "topics": [MIXED, *TOPICS],
        "sets": SETS,
        "files": files,
    }


def _packed(chosen: QuestionSet, keys: Container[str]) -> str | None:
    """Return a set as its file holds it; nothing where a level has no questions on a topic."""
    try:
        state = quiz_state(chosen, keys)
    except InputError:
        return None
    block = Block()
    return block.text({"quiz": block.fold(state), "link": write_set(replace(chosen))})
