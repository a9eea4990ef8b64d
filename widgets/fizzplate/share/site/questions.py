"""The sets of questions of a site: for every topic and level enough not to repeat in a term."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.questions import LEVELS, TOPICS, QuestionSet, write_set
from fizzplate.share.site.processes import in_processes
from fizzplate.share.takeaway import Block, quiz_state
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from fizzplate.lesson import Wording
    from fizzplate.share.site.folder import Folder

SETS = 12  # of each topic and level: a term's weeks
MIXED = "all topics"
NO_SET = ""


@dataclass(frozen=True, slots=True)
class SetTask:
    """A set to make."""

    topic: str
    chosen: QuestionSet
    keys: frozenset[str]

    @property
    def name(self) -> str:
        """Its level, topic and number, as the page asks for it."""
        return f"{self.chosen.level}/{self.topic}/{self.chosen.seed}"


def write_sets(
    folder: Folder,
    keys: Iterable[str],
    wording: Wording,
    *,
    workers: int,
    progress: Callable[[str, int, int], None],
) -> dict[str, Any]:
    """Write all sets, and return what the page offers: levels, topics, and each set's file.

    Parameters
    ----------
    folder
        Of the site.
    keys
        Cells that it has runs of, as links write them: only these can be watched.
    wording
        The board's.
    workers
        How many processes work.
    progress
        Called with "sets of questions", how many are there, and how many there will be.
    """
    watched = frozenset(keys)
    tasks = [
        SetTask(
            topic,
            QuestionSet(
                seed=seed,
                level=level,
                topics=() if topic == MIXED else (topic,),
                wording=wording,
            ),
            watched,
        )
        for level in LEVELS
        for topic in (MIXED, *TOPICS)
        for seed in range(1, SETS + 1)
    ]
    made: dict[str, str] = {}
    for done, (name, packed) in enumerate(in_processes(_packed, tasks, workers)):
        made[name] = packed
        progress("sets of questions", done + 1, len(tasks))
    files: dict[str, str] = {}
    for task in tasks:
        if packed := made[task.name]:
            stem = f"sets/{task.name.replace('/', '-').replace(' ', '-')}"
            files[task.name] = folder.write_named_by_content(stem, ".txt", packed)
    return {
        "levels": {str(level): text for level, text in LEVELS.items()},
        "topics": [MIXED, *TOPICS],
        "sets": SETS,
        "files": files,
    }


def _packed(task: SetTask) -> tuple[str, str]:
    """Return a set as its file holds it; nothing where a level has no questions on a topic."""
    try:
        state = quiz_state(task.chosen, task.keys)
    except InputError:
        return task.name, NO_SET
    block = Block()
    return task.name, block.text({"quiz": block.fold(state), "link": write_set(task.chosen)})
