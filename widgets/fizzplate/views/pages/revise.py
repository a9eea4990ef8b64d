"""The Revise page: a set of questions, marked in the page, printed, exchanged, or shown to a class."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any
from zlib import crc32

import ipywidgets as widgets

from fizzplate.questions.exchange import from_qti, read_csv, to_csv, to_qti
from fizzplate.questions.set_state import LARGEST_SEED, QuestionSet, read_set, write_set
from fizzplate.questions.sets import TOPICS, another
from fizzplate.views.controls.board_settings import BoardSettings
from fizzplate.views.controls.fields import field, fold, menu, refuse, tool
from fizzplate.views.controls.question_runs import QuestionRuns
from fizzplate.views.controls.setup_bar import read_number
from fizzplate.views.pages.title import title
from fizzplate.views.paper.papers import papers
from fizzplate.views.paper.printing import Printing
from fizzplate.views.quiz import Quiz
from fizzplate.views.web.address import Address
from fizzplate.words.refusals import InputError

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.lesson.prepare.sheets import Sheet
    from fizzplate.questions.question import Question

OPENS = "It opens Revise with the questions of this set."
OPENS_NO_FILE = "It opens the file's questions in this browser only: pass on the file itself."
OPENED = "opened"  # name of a set that came from a file
OPENED_QUERY = f"v=1&set={OPENED}"
OPEN_AGAIN = "Open the file again to print or save its questions."
MOST_VERSIONS = 5
LEVELS = {"14 to 16": 14, "16 to 18": 16}
STYLES = {"one at a time": "practice", "against the clock": "clock", "on the board": "board"}
UNITS = {"remarked on": False, "count for a mark": True}


class Revise:
    """The page's parts and what happens between them.

    Parameters
    ----------
    take_away
        Makes a page to take away of the query of a link.

    Attributes
    ----------
    widget
        What a notebook displays.
    quiz, printing, watched, address, board
        Its parts.
    asked
        The questions of the set.
    """

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        self._heard = True
        self._from_file = False
        self._kept = True  # the browser has what it opened, as far as is known
        self.asked: list[Question] = []
        self.chosen = QuestionSet()
        self.board = BoardSettings(self._on_change, asks=False)
        self.address = Address(self.open_query, opens=OPENS, take_away=take_away)
        self.address.add_class("fp-tools-host")
        self.quiz = Quiz(
            like=self.like,
            watch=self.watch,
            save=self.save,
            load=self.load,
            reload=self.reload,
            missing=self.start_anew,
        )
        self.question_runs = QuestionRuns()
        self.printing = Printing()
        self._level = menu("Level", LEVELS, 16)
        self._count = field("Questions", "10")
        self._style = menu("Asked", STYLES)
        self._minutes = field("Minutes", "15")
        self._strict = menu("Units and figures", UNITS)
        self._seed = field("Set number", "1")
        #: fields by the names that they are refused by
        self._numbers = {
            "set number": self._seed,
            "questions": self._count,
            "minutes": self._minutes,
        }
        self._topics = [widgets.Checkbox(description=each, indent=False) for each in TOPICS]
        controls = [self._level, self._count, self._style, self._minutes, self._strict, self._seed]
        for control in (*controls, *self._topics):
            control.observe(lambda _: self._on_change(), names="value")
        another_set = tool("Another set like this", self.another)
        needs = widgets.Box([*controls, another_set])
        needs.add_class("fp-needs")
        needs.add_class("fp-choosing")
        self._set_shown = fold("Set", needs)  # on a phone, where the question should come first
        self._set_shown.add_class("fp-choose")
        tools = widgets.HBox([self.address, self.board.bar])
        tools.add_class("fp-list-tools")
        topics = widgets.Box(self._topics)
        topics.add_class("fp-topics")
        self._topics_shown = fold("Topics", topics)
        folds = [self._set_shown, self._topics_shown, fold("Settings", tools)]
        head = widgets.HBox([title("Revise"), *folds])
        head.add_class("fp-head")
        self._refusal = widgets.HTML()
        self._versions = field("Versions", "1")
        self._paper_said = widgets.HTML()
        paper = widgets.Box(
            [tool("Make a paper and its mark scheme", self.make_papers), self._versions]
        )
        paper.add_class("fp-needs")
        asked = [self.quiz, self.question_runs.box]
        printed = [paper, self._paper_said, self.printing]
        self.widget = widgets.Box([head, tools, topics, needs, self._refusal, *asked, *printed])
        for name in ("fp-page", "fp-explore", "fp-revise"):
            self.widget.add_class(name)
        self._on_change()
        self.quiz.linked = self.address.open_at_once()

    def another(self) -> None:
        """Ask the next set of the same kind."""
        try:
            seed = round(read_number("set number", self._seed.value, unit=""))
        except InputError:
            seed = 0
        self._seed.value = str((seed + 1) % (LARGEST_SEED + 1))

    def open_query(self, query: str) -> None:
        """Ask the set of a link; what cannot be read is left out and said."""
        if f"set={OPENED}" in query.split("&") or query.endswith(f"set={OPENED}"):
            if self._kept:
                if not self._from_file:  # the browser may have handed it over already
                    self.asked = []
                self.address.opens = OPENS_NO_FILE
                self.address.write(OPENED_QUERY)
            return
        self.chosen, said = read_set(query)
        self.address.say(said)
        self._show()
        self._ask()

    def like(self, maker: str, seed: Any, unlike: str) -> Question | None:
        """Make another question like one of the set; nothing, if the page asks for what is not offered."""
        strict, wording = self.chosen.strict, self.chosen.wording
        try:
            return another(maker, seed, unlike=unlike, strict=strict, wording=wording)
        except InputError:
            return None

    def watch(self, cells: str) -> None:
        """Show cells that a question leads back to."""
        self.question_runs.show(cells, self.chosen.wording)
        self.quiz.watched()

    def start_anew(self) -> None:
        """Ask the set of the controls where the questions of an opened file are not at hand."""
        self._kept = False
        self.address.write(OPENED_QUERY)  # what the page's address says now: it is to change
        self._ask()
        self.quiz.say(
            "This address is of a file that was opened in another browser: open the file here, or pass on "
            f"the file itself. Set {self.chosen.seed} is asked instead."
        )

    def save(self, kind: str) -> tuple[str, str, bytes] | None:
        """Give the set as a file: its name, its type and its content; nothing, if it is not at hand."""
        if not self.asked:
            self.quiz.say(OPEN_AGAIN)
            return None
        name = f"fizzplate-set-{self.chosen.seed}"
        if kind == "csv":
            return f"{name}.csv", "text/csv", to_csv(self.asked).encode("utf-8-sig")
        heading = f"Fizz & Plate, set {self.chosen.seed}"
        return f"{name}.zip", "application/zip", to_qti(self.asked, heading)

    def load(self, name: str, content: bytes) -> None:
        """Ask the questions of a file; one that cannot be read leaves everything as it is."""
        try:
            asked, said = _read_file(name, content)
        except InputError as refusal:
            self.quiz.refuse_file(f"{name}: {refusal}")
            return
        self.quiz.ask(asked, f"{OPENED} {crc32(content):x}")
        self.asked, self._from_file = asked, True
        self.address.opens = OPENS_NO_FILE
        self.address.write(OPENED_QUERY)
        self.printing.offer([])
        count = "1 question is" if len(asked) == 1 else f"{len(asked)} questions are"
        self.quiz.say(" ".join([f"{name}: {count} opened.", *said]))

    def reload(self, name: str, content: bytes) -> None:
        """Have the questions of a file at hand that the browser asks already; they are not asked anew."""
        try:
            self.asked, _ = _read_file(name, content)
        except InputError as refusal:
            self.quiz.refuse_file(f"{name}: {refusal}")
            return
        self._from_file = True

    def make_papers(self) -> None:
        """Make the paper and its mark scheme, in as many versions as are asked for."""
        try:
            versions = round(read_number("versions", self._versions.value, unit=""))
            if not 1 <= versions <= MOST_VERSIONS:
                raise InputError("versions", self._versions.value, f"1 to {MOST_VERSIONS}")
        except InputError as refusal:
            refuse(self._paper_said, str(refusal), [self._versions], self._versions)
            return
        refuse(self._paper_said, "", [self._versions])
        if not self.asked:
            self._paper_said.value = f'<p role="alert">{OPEN_AGAIN}</p>'
            return
        self._paper_said.value = '<p role="status">Making the papers …</p>'
        self.printing.busy = True
        self.printing.offer(self._papers(versions))
        self._paper_said.value = ""

    def _on_change(self) -> None:
        if not self._heard:
            return
        try:
            self.chosen = self._read()
        except InputError as refusal:
            self._refuse(refusal)
            return
        self._ask()

    def _refuse(self, refusal: InputError) -> None:
        wrong = self._numbers.get(refusal.argument)
        refuse(self._refusal, str(refusal), self._numbers.values(), wrong)

    def _ask(self) -> None:
        """Ask the set, and put its link in the address."""
        self.quiz.busy = self.printing.busy = True
        try:
            self.asked = self.chosen.questions()
        except InputError as refusal:
            self._refuse(refusal)
            self.quiz.busy = self.printing.busy = False
            return
        found, wanted = len(self.asked), self.chosen.count
        few_said = f"There are {found} different questions about that, not {wanted}."
        refuse(self._refusal, "", self._numbers.values())
        self._refusal.value = f'<p role="status">{few_said}</p>' if found < wanted else ""
        few = (
            ", ".join(self.chosen.topics)
            if len(self.chosen.topics) < 3
            else len(self.chosen.topics)
        )
        self._set_shown.description = f"Set {self.chosen.seed}"
        self._topics_shown.description = f"Topics: {few or 'all'}"
        self._minutes.layout.display = None if self.chosen.style == "clock" else "none"
        query = write_set(self.chosen)
        self._from_file = False
        self.address.opens = OPENS
        self.address.write(query)
        self.quiz.ask(self.asked, query, style=self.chosen.style, minutes=self.chosen.minutes)
        self.printing.offer([])

    def _read(self) -> QuestionSet:
        """Read the controls.

        Raises
        ------
        InputError
            If something cannot be used.
        """
        seed, count, minutes = (
            int(value) if value == int(value) else value  # what is not whole is refused by the set
            for value in (
                read_number(name, control.value, unit="") for name, control in self._numbers.items()
            )
        )
        return QuestionSet(
            seed=seed,  # type: ignore[arg-type]
            count=count,  # type: ignore[arg-type]
            minutes=minutes,  # type: ignore[arg-type]
            topics=tuple(each.description for each in self._topics if each.value),
            level=self._level.value,
            style=self._style.value,
            strict=self._strict.value,
            wording=self.board.wording,
        )

    def _show(self) -> None:
        """Set the controls to the set without hearing them."""
        self._heard = False
        try:
            self._seed.value, self._count.value = str(self.chosen.seed), str(self.chosen.count)
            self._minutes.value = str(self.chosen.minutes)
            self._level.value, self._style.value = self.chosen.level, self.chosen.style
            self._strict.value = self.chosen.strict
            for each in self._topics:
                each.value = each.description in self.chosen.topics
            self.board.show(self.chosen.wording, asking=True)
        finally:
            self._heard = True

    def _versions_of(self, count: int) -> list[tuple[int, list[Question]]]:
        """Return the set that is asked and as many more of the same kind, by their numbers."""
        first = self.chosen.seed
        others = [
            replace(self.chosen, seed=(first + k) % (LARGEST_SEED + 1)) for k in range(1, count)
        ]
        return [(first, self.asked), *((each.seed, each.questions()) for each in others)]

    def _papers(self, versions: int) -> list[Sheet]:
        asked = self.chosen
        minutes = asked.minutes if asked.style == "clock" else 0
        sets = self._versions_of(versions)
        return papers(sets, topics=asked.topics, level=asked.level, minutes=minutes)


def _read_file(name: str, content: bytes) -> tuple[list[Question], list[str]]:
    """Read a file of questions; give them with sentences about what was left out.

    Raises
    ------
    InputError
        If it cannot be read.
    """
    if name.lower().endswith(".csv"):
        return read_csv(content), []
    return from_qti(content)


def page(take_away: Callable[[str], str] | None = None) -> Any:
    """Return the Revise page as one widget to display.

    Parameters
    ----------
    take_away
        Makes a page to take away, as HTML, of the query of a link; without it that is not offered.
    """
    return Revise(take_away).widget
