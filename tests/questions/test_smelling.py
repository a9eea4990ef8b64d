"""Nobody is invited to smell a gas, and nobody earns a mark for it."""

import re
import sys
from importlib import resources
from pathlib import Path

import pytest

from fizzplate import data
from fizzplate.cell import Cell
from fizzplate.lesson.classroom.hazards import cautions
from fizzplate.lesson.classroom.predictions import observation_feedback, observation_phrases
from fizzplate.questions.sets import MAKERS

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import BOARDS, made, shown  # beside this file

#: the one form in which a smell may be spoken of
FORM = "a sharp smell may be noticed; do not smell it on purpose"
SMELLS = re.compile(
    r"\bsmel|odou?r|\bsniff|\bwaft|pungent|\bscent|aroma|stink|stench|whiff|choking|inhal|\bnoses?\b|"
    r"\bswimming",
    re.IGNORECASE,
)
JOINED = re.compile(r"['\"]\s*\n\s*f?['\"]")  # a sentence that goes on in the next line
REPOSITORY = Path(__file__).parents[2]


def invitations(text):
    """What speaks of smelling in another form than the one that is allowed."""
    rest = re.sub(FORM, "", text, flags=re.IGNORECASE)
    return [rest[max(0, found.start() - 40) : found.end() + 40] for found in SMELLS.finditer(rest)]


@pytest.mark.parametrize(
    "text",
    [
        "bubbles of a gas with a sharp smell",
        "Waft a little towards your nose.",
        "The odour of a swimming pool",
        "A sharp smell may be noticed.",
    ],
)
def test_an_invitation_is_noticed(text):
    assert invitations(text)


def test_the_one_form_is_allowed():
    assert invitations(f"Chlorine irritates. {FORM.capitalize()}.") == []


@pytest.mark.parametrize("table", data.table_names())
def test_no_table_invites_to_smell(table):
    for row in data.rows(table):
        # a trap stands there by the word that it answers, with the one form as its sentence
        key = [] if table == "wording_traps" else list(row.key.values())
        assert invitations("\n".join([*key, row.text, row.conditions, row.caveat])) == [], row


@pytest.mark.parametrize("name", list(MAKERS))
def test_no_question_answer_or_mark_is_about_smelling(name):
    for seed in range(6):
        question = made(name, seed, list(BOARDS.values())[seed % len(BOARDS)])
        marked_by = [each for p in question.points for each in (*p.words, *p.within, *p.besides)]
        assert invitations("\n".join([*shown(question), *marked_by])) == []


def _texts(folder):
    for entry in folder.iterdir():
        if entry.is_dir():
            yield from _texts(entry)
        elif entry.name.endswith((".py", ".js", ".html", ".toml")):
            yield entry.name, JOINED.sub("", entry.read_text(encoding="utf-8"))


def test_no_sentence_of_a_page_invites_to_smell():
    found = {name: invitations(text) for name, text in _texts(resources.files("fizzplate"))}
    assert len(found) > 100
    assert {name: said for name, said in found.items() if said} == {}


@pytest.mark.parametrize(
    "path",
    [
        "README.md",
        *(
            str(p.relative_to(REPOSITORY))
            for p in sorted((REPOSITORY / "notebooks").glob("*.ipynb"))
        ),
    ],
)
def test_no_document_invites_to_smell(path):
    assert invitations((REPOSITORY / path).read_text(encoding="utf-8")) == []


def test_a_smell_earns_no_mark_and_the_learner_is_told_not_to_smell():
    question = next(
        q
        for seed in range(200)
        if "green" in (q := made("observation", seed)).answer.lower() and len(q.points) == 2
    )
    assert question.mark("bubbles of a green gas").earned == 2
    assert question.mark("bubbles with the choking smell of bleach and swimming pools").earned == 1
    said, missing, trapped = observation_feedback("bubbles with a sharp smell", "Cl2")
    assert (said, missing) == (["bubbles"], ["its colour"])
    assert [each.lower() for each in trapped] == [f"{FORM}: say what is seen."]


def test_no_phrase_that_a_class_picks_from_is_a_smell():
    assert invitations("\n".join(observation_phrases("Cl2"))) == []


@pytest.mark.parametrize("formula", ["NaCl", "KBr"])
def test_the_caution_of_a_halogen_says_not_to_smell_it(formula):
    said = " ".join(cautions(Cell(formula)))
    assert FORM in said.lower()
    assert invitations(said) == []
