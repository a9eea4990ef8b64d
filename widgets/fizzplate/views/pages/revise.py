"""The Revise page: a set of questions, marked in the page, printed, exchanged, or shown to a class."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any
from zlib import crc32

from fizzplate.lesson.state import ReviseState, from_link, to_link
from fizzplate.questions import (
    QuestionSet,
    blueprint_of,
    by_demand,
    changes_since,
    parallel,
    read_set,
    seed_of,
    write_set,
)
from fizzplate.questions.exchange import from_qti, read_csv, to_csv, to_qti
from fizzplate.questions.practice import next_item, read_record, sibling, text_key
from fizzplate.views.controls import QuestionRuns
from fizzplate.views.pages.blueprint_editor import BlueprintEditor
from fizzplate.views.pages.level_question import LevelQuestion
from fizzplate.views.pages.page import Page
from fizzplate.views.pages.papers_panel import PapersPanel
from fizzplate.views.pages.set_controls import SetControls
from fizzplate.views.paper import papers
from fizzplate.views.quiz import Quiz
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from fizzplate.lesson.prepare import Sheet
    from fizzplate.questions import BlueprintRow
    from fizzplate.questions.practice import PracticeItem
    from fizzplate.questions.question_types import Question
    from fizzplate.views.paper.printing import Printing

OPENS_FILE = (
    "It opens the file's questions in this browser only. For others, pass on the file itself."
)
VERSIONS = "ABCDE"  # the first goes by the number of the set alone
MAX_UNLIKE = 1000  # texts that another question differs from
OPENED = "opened"  # name of a set that came from a file
OPENED_QUERY = f"v=1&set={OPENED}"
OPEN_AGAIN = "Open the file again to print or save its questions."


class Revise(Page[ReviseState]):
    """The page's parts and what happens between them.

    Attributes
    ----------
    quiz, set_controls, blueprint_editor, papers_panel, question_runs
        Its parts.
    questions
        The questions that are asked.
    question_set
        The set of the controls.
    """

    link_description = "It opens Revise with the questions of this set."
    state_type = ReviseState
    classes = ("fp-page", "fp-column-page", "fp-revise")

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        super().__init__(take_away)
        self.questions: list[Question] = []
        self.question_set = QuestionSet()
        self._opened = False  # whether the browser asks the questions of a file
        self._from_file = False  # whether those questions are at hand here too
        self._browser_has_file = True  # as far as is known
        self._papers_to_come = 0  # versions to make once the file's questions are at hand
        self.quiz = Quiz(
            like=self.like,
            practise=self.practise,
            watch=self.watch,
            save=self.save,
            load=self.load,
            reload=self.reload,
            missing=self.start_anew,
        )
        self.question_runs = QuestionRuns()
        self.set_controls = SetControls(self._on_change)
        self.papers_panel = PapersPanel(self._make_papers, self.record)
        self.blueprint_editor = BlueprintEditor(self._on_blueprint, self._leave_blueprint)
        self.level_question = LevelQuestion(self._on_level, self._ask_level_alone)
        controls = self.set_controls
        self.lay_out(
            head=[*controls.folds, self.settings_fold()],
            body=[
                *(self.level_question.widget, controls.topics, controls.needs, controls.refusal),
                *(self.quiz, self.question_runs.box),
                *self.blueprint_editor.parts,
                *self.papers_panel.parts,
            ],
        )
        self.quiz.link_is_open = self.start()

    @property
    def printing(self) -> Printing:
        """The papers that are made."""
        return self.papers_panel.printing

    def read_state(self) -> ReviseState:
        """Return the set, and what is made and shown of it."""
        state, _ = from_link(write_set(self.question_set), ReviseState())
        return replace(
            state,
            opened=self._opened,
            versions=self.papers_panel.versions,
            papers=self.papers_panel.made or self._papers_to_come,
            cells_to_watch=self.question_runs.cells,
            level_known=self.level_question.is_answered,
        )

    def show_state(self, state: ReviseState) -> None:
        """Ask a set, or leave the questions of an opened file to the browser, which kept them."""
        chosen, _ = read_set(to_link(state))
        self.level_question.is_answered = state.level_known or state.opened
        self.set_controls.show(chosen)
        self.papers_panel.show(state.versions)
        self._papers_to_come = 0
        if state.opened:
            self.question_set = chosen
            self._show_opened()
        elif chosen != self.question_set or self._opened or not self.questions:
            self.question_set = chosen
            self._ask()
        if state.papers and (self.questions or not state.opened):
            self.papers_panel.make_versions(state.papers)
        else:
            self._papers_to_come = state.papers
        if state.cells_to_watch:
            self.question_runs.show(state.cells_to_watch, self.question_set.wording)

    def link_of(self, state: ReviseState) -> str:
        """Return the link of the set; one of a file works in this browser only."""
        return OPENED_QUERY if state.opened else to_link(state)

    def read_link(self, query: str) -> tuple[ReviseState, list[str]]:
        """Read the link of a set, or of an opened file, if this browser still has it."""
        before = self.state
        if f"set={OPENED}" in query.removeprefix("?").split("&"):
            return replace(before, opened=self._browser_has_file), []
        chosen, left_out = read_set(query)
        state, _ = from_link(write_set(chosen), before)
        said = query.removeprefix("?").split("&")
        is_known = any(each.startswith(("level=", "set=")) for each in said)
        return replace(state, level_known=before.level_known or is_known), [
            *left_out,
            *changes_since(query),
        ]

    def type_in(self, field_texts: Mapping[str, str]) -> None:
        """Type texts into fields; those of the set ask nothing in place of an opened file."""
        if self._opened:
            with self.set_controls.quiet():
                super().type_in(field_texts)
        else:
            super().type_in(field_texts)

    def on_board(self) -> None:
        """Ask the set in the board's wording."""
        self._on_change()

    def _ask_level_alone(self, alone: bool) -> None:
        """Show nothing but the question about the age, or everything else."""
        (self.widget.add_class if alone else self.widget.remove_class)("fp-level-open")

    def _on_level(self, level: int) -> None:
        """Ask a set of the level that was chosen; the choice itself is kept in any case."""
        self.set_controls.level = level
        self.record()

    def like(self, wanted: Mapping[str, Any]) -> Question | None:
        """Make another question like one of the set; nothing, if no maker has any.

        Parameters
        ----------
        wanted
            As the page asks: `like`, the maker; `unlike`, texts not to come again; `idea`, the number
            of the idea behind a mistake; `seed`.
        """
        unlike, idea = wanted.get("unlike"), wanted.get("idea")
        texts = unlike[:MAX_UNLIKE] if isinstance(unlike, list) else []
        chosen = self.question_set
        return sibling(
            str(wanted.get("like")),
            seed_of(chosen.seed, wanted.get("seed")),
            asked=[text_key(str(text)) for text in texts],
            idea=idea if isinstance(idea, int) else 0,
            strict=chosen.strict,
            wording=chosen.wording,
            edition=chosen.edition,
        )

    def practise(self, record: list[Any]) -> PracticeItem | None:
        """Return what practice asks next, from the record that the browser keeps."""
        return next_item(self.question_set, read_record(record))

    def watch(self, cells: str) -> None:
        """Show cells that a question leads back to."""
        self.question_runs.show(cells, self.question_set.wording)
        self.quiz.confirm_watch()
        self.record()

    def start_anew(self) -> None:
        """Ask the set of the controls where the questions of an opened file are not at hand."""
        self._browser_has_file = False
        self.address.write(OPENED_QUERY)  # what the page's address says now: it is to change
        self._ask()
        self.record()
        self.quiz.say(
            "This address belongs to a file that was opened in another browser. Open the file here, or pass "
            f"on the file itself. Until then the page asks set {self.question_set.seed}."
        )

    def save(self, kind: str) -> tuple[str, str, bytes] | None:
        """Give the set as a file: its name, its type and its content; nothing, if it is not at hand."""
        if not self.questions:
            self.quiz.say(OPEN_AGAIN)
            return None
        name = f"fizzplate-set-{self.question_set.seed}"
        if kind == "csv":
            return f"{name}.csv", "text/csv", to_csv(self.questions).encode("utf-8-sig")
        heading = f"Fizz & Plate, set {self.question_set.seed}"
        return f"{name}.zip", "application/zip", to_qti(self.questions, heading)

    def load(self, name: str, content: bytes) -> None:
        """Ask the questions of a file; one that cannot be read leaves everything as it is."""
        try:
            questions, left_out = _read_file(name, content)
        except InputError as refusal:
            self.quiz.refuse_file(f"{name}: {refusal}")
            return
        self.quiz.ask(questions, f"{OPENED} {crc32(content):x}", wording=self.board.wording)
        self.questions = questions
        self._opened = self._from_file = True
        self.address.link_description = OPENS_FILE
        self.papers_panel.clear()
        self.record()
        count = "1 question is" if len(questions) == 1 else f"{len(questions)} questions are"
        self.quiz.say(" ".join([f"{name}: {count} opened.", *left_out]))

    def reload(self, name: str, content: bytes) -> None:
        """Read the questions of a file that the browser asks already, without asking them again."""
        try:
            self.questions, _ = _read_file(name, content)
        except InputError as refusal:
            self.quiz.refuse_file(f"{name}: {refusal}")
            return
        self._from_file = True
        if self._papers_to_come:
            versions, self._papers_to_come = self._papers_to_come, 0
            self.papers_panel.make_versions(versions)

    def _show_opened(self) -> None:
        if not self._from_file:  # the browser may have handed it over already
            self.questions = []
        self._opened = True
        self.set_controls.name(self.question_set, self.question_set.count)
        self.address.link_description = OPENS_FILE

    def _on_change(self) -> None:
        try:
            chosen = self.set_controls.read(self.board.wording)
        except InputError as refusal:
            self.set_controls.refuse(refusal)
            return
        if chosen.seed == self.question_set.seed:  # it stays of the edition that a link named
            chosen = replace(chosen, edition=self.question_set.edition)
        before = self.question_set
        if (chosen.count, set(chosen.topics)) == (before.count, set(before.topics)):
            chosen = replace(
                chosen, blueprint=before.blueprint
            )  # it goes with its count and topics
        self.question_set = chosen
        self._ask()
        self.record()

    def _on_blueprint(self, rows: Sequence[BlueprintRow]) -> None:
        """Ask by a blueprint; one that cannot be met leaves set and papers as they are.

        Raises
        ------
        InputError
            If a row cannot be met.
        """
        planned = replace(self.question_set, blueprint=tuple(rows))
        planned.questions()
        made = self.papers_panel.made
        self.question_set = planned
        self.set_controls.show(planned)
        self._ask()
        self.record()
        if made:
            self.papers_panel.make_versions(made)

    def _leave_blueprint(self) -> None:
        """Leave the questions to the number of the set."""
        self.question_set = replace(self.question_set, blueprint=())
        self._ask()
        self.record()

    def _ask(self) -> None:
        """Ask the set of the controls."""
        self.quiz.busy = self.printing.busy = True
        try:
            self.questions = self.question_set.questions()
        except InputError as refusal:
            self.set_controls.refuse(refusal)
            self.quiz.busy = self.printing.busy = False
            return
        self._opened = self._from_file = False
        self.set_controls.name(self.question_set, len(self.questions))
        self.blueprint_editor.show(blueprint_of(self.questions))
        self.address.link_description = self.link_description
        self.quiz.ask(
            self.questions,
            write_set(self.question_set),
            style=self.question_set.style,
            minutes=self.question_set.minutes,
            wording=self.board.wording,
        )
        self.papers_panel.clear()

    def _make_papers(self, versions: int) -> list[Sheet] | str:
        """Make the paper of the set, and as many versions of it; or say what is missing."""
        if not self.questions:
            return OPEN_AGAIN
        chosen = self.question_set
        first = by_demand(self.questions)
        self.papers_panel.show_blueprint(first)
        sets: list[tuple[int | str, list[Question]]] = [(chosen.seed, first)]
        for letter in VERSIONS[1:versions]:
            asked = [each for _, questions in sets for each in questions]
            version = parallel(
                first,
                seed_of(chosen.seed, letter),
                unlike=asked,
                strict=chosen.strict,
                wording=self.board.wording,
                edition=chosen.edition,
            )
            sets.append((f"{chosen.seed} {letter}", version))
        minutes = chosen.minutes if chosen.style == "clock" else 0
        return papers(
            sets,
            topics=chosen.topics,
            level=chosen.level,
            minutes=minutes,
            edition=0 if self._from_file else chosen.edition,
            wording=self.board.wording,
        )


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


page = Revise.create_widget
