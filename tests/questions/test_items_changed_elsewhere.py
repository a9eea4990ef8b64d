"""Items of ours that another program changed: the change counts, and what it costs is said."""

from __future__ import annotations

import io
import re
import sys
import zipfile
from pathlib import Path

import pytest

from fizzplate.questions.exchange import from_qti, to_qti
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from exchange_samples import (
    CHOICE,
    EQUATION,
    NUMBER,
    TEXT,
    pack,
)  # beside this file


def changed(question, *changes):
    """Return what is read, and said, of an item that was changed elsewhere."""
    files = {}
    with zipfile.ZipFile(io.BytesIO(to_qti([question], "One"))) as archive:
        for name in archive.namelist():
            text = archive.read(name).decode()
            for old, new in changes if name.startswith("items") else ():
                assert re.search(old, text, re.DOTALL), old
                text = re.sub(old, new, text, flags=re.DOTALL)
            files[name] = text
    return from_qti(pack(files))


def test_a_change_made_elsewhere_counts():
    (question,), said = changed(
        CHOICE,
        ("What is left in brine", "And in <i>brine</i>"),
        (r"<qti-value>A<", "<qti-value>B<"),
    )
    assert said == []
    assert question.text.startswith("And in brine?")
    assert (question.answer, question.mark("=NaCl").earned) == ("=NaCl", 1)
    assert question.topic == CHOICE.topic

    (question,), said = changed(NUMBER, (r"<qti-value>240<", "<qti-value>250<"))
    assert said == [
        "items/q001.xml: the answer 240 C was changed elsewhere to 250; its near misses were left out."
    ]
    assert question.mark("250 C; 0.0790 g").earned == 5
    assert question.mark("4 C; 0.0790 g").earned == 3

    low, high = 0.07902763 * (1 - 0.0137), 0.07902763 * (1 + 0.0137)
    (question,), said = changed(NUMBER, (f">{low!r}<", ">0.0711<"), (f">{high!r}<", ">0.0869<"))
    assert said == []
    assert question.mark("240 C; 0.0850 g").earned == 5


def test_an_item_that_was_changed_into_another_kind_is_read_as_of_another_program():
    text = '<qti-extended-text-interaction response-identifier="RESPONSE" />'
    (question,), said = changed(
        CHOICE, (r"<qti-choice-interaction.*</qti-choice-interaction>", text)
    )
    assert question.kind == "list"
    assert said == [
        "items/q001.xml was changed elsewhere and was read as an item of another program."
    ]


@pytest.mark.parametrize(
    "scheme",
    [
        "",
        "nonsense",
        "[" * 5000,
        "{}",
        '{"version":2}',
        '{"version":1}',
        '{"version":1,"maker":"x","topic":5}',
    ],
)
def test_what_was_written_beside_the_mark_scheme_may_be_spoilt(scheme):
    spoilt = scheme.replace('"', "&quot;")
    (question,), said = changed(CHOICE, (r'data-fizzplate="\{[^"]*"', f'data-fizzplate="{spoilt}"'))
    assert question.maker == "imported"
    assert question.mark("sodium hydroxide").earned == 1
    assert said[0].startswith(
        "items/q001.xml was read as an item of another program. Fizz & Plate's own data: "
    )


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (r"&quot;value&quot;:240.0", "&quot;value&quot;:1e999"),
        (r"&quot;unit&quot;:&quot;C&quot;", "&quot;unit&quot;:&quot;furlongs&quot;"),
        (r"&quot;lost&quot;:\[0\]", "&quot;lost&quot;:[7]"),
        (r"&quot;level&quot;:16", "&quot;level&quot;:12"),
        (r"&quot;figures&quot;:3", "&quot;figures&quot;:400"),
        (r"&quot;factor&quot;:0.000329\d*", f"&quot;factor&quot;:{'9' * 400}"),
    ],
)
def test_hostile_numbers_beside_the_mark_scheme_do_no_harm(old, new):
    try:
        found, said = changed(NUMBER, (old, new))
    except InputError as refused:  # nothing was left
        found, said = [], [str(refused)]
    assert len(said) >= 1
    assert all("by hand" not in question.maker for question in found)


def test_cells_to_watch_that_cannot_be_shown_are_left_out():
    (question,), said = changed(CHOICE, ("NaCl,c=0.1;", "javascript:x;"))
    assert question.watch == ""
    assert said == ["items/q001.xml: the cells to watch cannot be shown and were left out."]


@pytest.mark.parametrize(
    ("question", "old", "new"),
    [
        (TEXT, "a red-brown solid settles and the blue fades</qti-value>", "it fizzes</qti-value>"),
        (EQUATION, "<qti-value>LEFT_4</qti-value>", "<qti-value>LEFT_3</qti-value>"),
    ],
)
def test_an_item_whose_own_answer_earns_too_little_is_left_out(question, old, new):
    with pytest.raises(InputError, match="an answer that earns every mark"):
        changed(question, (old, new))
