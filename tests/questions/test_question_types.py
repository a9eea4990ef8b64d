"""Each type of question answers, marks and shows itself everywhere; a type that lacks something says what."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from pathlib import Path
from typing import ClassVar

import pytest

from fizzplate.questions.exchange import from_csv, from_qti, to_csv, to_qti
from fizzplate.questions.marking.marks import Line, MarkedAnswer
from fizzplate.questions.question_types import (
    ChoiceQuestion,
    NumberQuestion,
    Question,
    StructuredQuestion,
)
from fizzplate.views.paper.mark_scheme import scheme_html
from fizzplate.views.paper.paper_questions import question_html
from fizzplate.views.quiz import plain_question
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from exchange_samples import (
    CHOICE,
    EQUATION,
    LEVELS,
    LIST,
    NUMBER,
    PLOT,
    STRUCTURED,
    TEXT,
)  # beside this file

TYPES = {
    type(each).__name__: each
    for each in (CHOICE, NUMBER, EQUATION, TEXT, LIST, PLOT, LEVELS, STRUCTURED)
}
each_type = pytest.mark.parametrize("name", list(TYPES))

# what each is asked and marked from, as a reader meets it
ON_PAGE = {
    "ChoiceQuestion": lambda data: [option["text"] for option in data["options"]],
    "NumberQuestion": lambda data: [part["answer"] for part in data["parts"]],
    "EquationQuestion": lambda data: data["task"]["accepted"],
    "TextQuestion": lambda data: [point["words"] for point in data["points"]],
    "ChecklistQuestion": lambda data: [point["statement"] for point in data["points"]],
    "PlotQuestion": lambda data: [data["model"], *data["table"]],
    "LevelsQuestion": lambda data: [*data["levels"], *data["points"]],
    "StructuredQuestion": lambda data: [section["text"] for section in data["sections"]],
}
ON_PAPER = {
    "ChoiceQuestion": "fp-paper-options",
    "NumberQuestion": "fp-paper-working",
    "EquationQuestion": "fp-paper-lines",
    "TextQuestion": "fp-paper-lines",
    "ChecklistQuestion": "fp-paper-lines",
    "PlotQuestion": "fp-paper-grid",
    "LevelsQuestion": "fp-paper-lines",
    "StructuredQuestion": "fp-paper-parts",
}
IN_SCHEME = {
    "ChoiceQuestion": "A: sodium hydroxide",
    "NumberQuestion": "The minutes were not converted into seconds.",
    "EquationQuestion": "Atoms and charge balance.",
    "TextQuestion": "accept",
    "ChecklistQuestion": "Weighs first.",
    "PlotQuestion": "line of best fit",
    "LevelsQuestion": "Level 3 (5 or 6 marks): Explains both.",
    "StructuredQuestion": "A: sodium hydroxide",
}


def test_there_are_eight_types():
    assert set(TYPES) == set(ON_PAGE) == set(ON_PAPER) == set(IN_SCHEME)
    kinds = [each.kind for each in TYPES.values()]
    names = ["choice", "equation", "levels", "list", "number", "plot", "structured", "text"]
    assert sorted(kinds) == names  # as files name them


@each_type
def test_its_own_answer_earns_full_marks_and_nothing_earns_none(name):
    question = TYPES[name]
    assert (
        question.mark(question.answer).earned
        == question.marks
        == len(question.mark(question.answer).lines)
        > 0
    )
    empty = question.mark("")
    assert (empty.earned, len(empty.lines)) == (0, question.marks)


@each_type
def test_it_shows_itself_on_the_page_on_paper_and_in_the_mark_scheme(name):
    question = TYPES[name]
    data = plain_question(question)
    assert all(ON_PAGE[name](data))
    assert (data["text"], data["answer"]) == (question.text, question.answer)
    paper, scheme = question_html(question, "q"), scheme_html([question])
    assert ON_PAPER[name] in paper
    assert IN_SCHEME[name] in scheme
    assert IN_SCHEME[name] not in paper


@each_type
def test_it_comes_back_from_files_as_its_own_type(name):
    question = TYPES[name]
    assert from_csv(to_csv([question])) == [question]
    assert from_qti(to_qti([question], "One")) == ([question], [])


def test_answer_and_marks_follow_from_what_a_question_holds():
    wrong = tuple(replace(each, right=each.text == "-0.5 mol") for each in CHOICE.options)
    assert replace(CHOICE, options=wrong).answer == "-0.5 mol"
    one = replace(NUMBER, parts=NUMBER.parts[:1])
    assert (one.answer, one.marks) == ("240 C", 2)
    assert (replace(LIST, points=LIST.points[:1]).answer, LIST.answer) == (
        "weighs first",
        "weighs first; repeats",
    )


def test_only_numbers_can_be_marked_strictly():
    assert NUMBER.with_strict_units(strict=False) == replace(NUMBER, strict=False) != NUMBER
    for question in TYPES.values():
        if not isinstance(question, (NumberQuestion, StructuredQuestion)):
            assert question.with_strict_units(strict=True) is question


def test_two_lists_with_as_many_points_do_not_come_to_the_same():
    other = replace(LIST, why="Something else is planned.")
    assert other.answer == LIST.answer
    assert other.comparison_key != LIST.comparison_key


def test_parts_are_marked_by_their_own_rules_and_an_empty_part_loses_only_its_marks():
    texts = [each.answer for each in STRUCTURED.sections]
    for k, each in enumerate(STRUCTURED.sections):
        given = " ¦ ".join("" if k == other else text for other, text in enumerate(texts))
        marked = STRUCTURED.mark(given)
        assert marked.earned == STRUCTURED.marks - each.marks
        lost = [line.reason[:3] for line in marked.lines if not line.earned]
        assert lost == [f"({'abcd'[k]})"] * each.marks
    wrong = STRUCTURED.mark(" ¦ ".join(["=NaCl", *texts[1:]]))
    assert wrong.misconception == CHOICE.options[1].misconception
    assert STRUCTURED.with_strict_units(strict=False).sections[1].strict is False


def test_parts_of_a_file_are_asked_only_if_each_can_be():
    row = to_csv([STRUCTURED])
    for broken in (
        '""kind"": ""list""',
        '""kind"": ""structured""',
        '""kind"": 5',
        '""sort"": ""choice""',
    ):
        with pytest.raises(InputError):
            from_csv(row.replace('""kind"": ""choice""', broken))


def test_a_longer_answer_earns_the_mark_that_is_chosen():
    assert [LEVELS.mark(str(k)).earned for k in range(8)] == [0, 1, 2, 3, 4, 5, 6, 6]
    assert LEVELS.mark("well").earned == 0
    assert replace(LEVELS, why="Another.").comparison_key != LEVELS.comparison_key


# another type


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueOrFalseQuestion(Question):
    """A type that only knows how it is answered and marked."""

    kind: ClassVar[str] = "true or false"

    right: bool
    marks: int = 1

    @property
    def answer(self) -> str:
        return "true" if self.right else "false"

    def _mark_plain(self, answer: str) -> MarkedAnswer:
        return MarkedAnswer((Line(answer == self.answer, f"It is {self.answer}."),))


ANOTHER = TrueOrFalseQuestion(
    "", "ions", 14, "Anions drift to the anode.", "They are negative.", right=True
)


def test_another_type_is_marked_without_a_change_elsewhere():
    assert (ANOTHER.mark(" true ").earned, ANOTHER.mark("false").earned) == (1, 0)
    assert (ANOTHER.options, ANOTHER.parts, ANOTHER.points) == ((), (), ())


@pytest.mark.parametrize(
    ("show", "lacks"),
    [
        (plain_question, "no data for the page yet: register one with own_data"),
        (lambda question: question_html(question, "q"), "no room for its answer on paper yet"),
        (
            lambda question: scheme_html([question]),
            "no mark scheme yet: register one with scheme_rows",
        ),
        (
            lambda question: to_csv([question]),
            "no cells of a table yet: register one with own_cells",
        ),
        (
            lambda question: to_qti([question], "One"),
            "no item type yet: register one with ITEM_TYPES",
        ),
    ],
)
def test_another_type_says_what_it_lacks(show, lacks):
    with pytest.raises(TypeError, match=f"TrueOrFalseQuestion has {lacks}"):
        show(ANOTHER)


def test_a_type_that_is_a_narrower_choice_shows_itself_as_one():
    class PictureChoice(ChoiceQuestion):
        """A choice with something of its own."""

    question = PictureChoice("", "ions", 14, "Which?", "It is.", options=CHOICE.options)
    assert plain_question(question)["options"] == plain_question(CHOICE)["options"]
    assert ON_PAPER["ChoiceQuestion"] in question_html(question, "q")
    assert "A: sodium hydroxide" in scheme_html([question])


def test_a_file_with_a_type_that_is_not_known_names_those_that_are():
    row = 'kind,question\ntrue or false,"Is it?"\n'
    with pytest.raises(
        InputError, match="choice, number, equation, text, list, plot, levels or structured"
    ):
        from_csv(row)
