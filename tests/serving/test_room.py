"""The room's model: whatever phones say, counts add up, and nobody's answer counts twice or is told apart."""

from __future__ import annotations

import gzip
import json
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fizzplate.share.room import (
    MAX_PHONES,
    MessageError,
    Part,
    Room,
    RoomFullError,
    Round,
    from_phone,
    from_teacher,
)
from fizzplate.share.room.messages import MAX_PHONE_BYTES
from fizzplate.share.room.parts import FAULTS, KINDS, MAX_TEXT
from fizzplate.share.room.plain_text import plain, plain_strings
from fizzplate.share.room.room import MAX_PHONES_OF_ONE_ADDRESS, MAX_ROUNDS, MAX_VOTES

PARTS = (
    Part("cathode", "choice", "What forms?", ("copper", "hydrogen", "nothing")),
    Part("ions", "several", "Which ions travel here?", ("H+", "Na+", "Cl-")),
    Part("seen", "text", "What do you see?"),
    Part("mass", "number", "Mass of the deposit", unit="mg"),
    Part("half", "equation", "Write it"),
)
HERE = "192.0.2.9"


def mark(number):
    return f"{number:032x}"


def room_of(phones, parts=PARTS):
    room = Room()
    for number in range(phones):
        room.join(mark(number), f"192.0.2.{number}")
    assert room.ask(Round("Predict", parts))
    return room


def an_answer(part):
    return {
        "choice": st.integers(0, len(part.options) - 1),
        "several": st.lists(
            st.integers(0, max(0, len(part.options) - 1)), max_size=len(part.options)
        ),
        "text": st.text(min_size=1, max_size=MAX_TEXT).filter(str.strip),
        "number": st.floats(-1e6, 1e6) | st.integers(-1000, 1000),
        "equation": st.fixed_dictionaries(
            {"fault": st.sampled_from(FAULTS), "written": st.text(min_size=1, max_size=200)}
        ),
    }[part.kind]


answers = st.dictionaries(
    st.sampled_from([part.name for part in PARTS]), st.none(), min_size=1
).flatmap(
    lambda names: st.fixed_dictionaries(
        {part.name: an_answer(part) for part in PARTS if part.name in names}
    )
)


def test_every_kind_of_part_is_tried():
    assert {part.kind for part in PARTS} == set(KINDS)


@given(st.lists(st.tuples(st.integers(0, 4), answers), max_size=30))
def test_counts_are_those_of_each_phones_last_answer(said):
    room = room_of(5)
    for number, values in said:
        assert room.answer(mark(number), 1, 1, values)
    last = dict(said)
    counts = room.counts()
    (vote,) = counts["votes"]
    assert counts["joined"] == 5
    assert vote["answered"] == len(last) == 5 - counts["missing"]
    chosen = [values["cathode"] for values in last.values() if "cathode" in values]
    assert vote["counts"]["cathode"] == [chosen.count(option) for option in range(3)]
    named = [values["ions"] for values in last.values() if "ions" in values]
    assert vote["counts"]["ions"] == [sum(ion in each for each in named) for ion in range(3)]
    assert vote["counts"]["mass"] == sorted(v["mass"] for v in last.values() if "mass" in v)
    assert sum(vote["counts"]["half"]) == sum("half" in values for values in last.values())
    assert vote["counts"]["seen"] == [sum("seen" in values for values in last.values())]


@given(st.lists(answers, min_size=1, max_size=5), st.lists(answers, min_size=1, max_size=5))
def test_a_second_vote_leaves_the_first_as_it_was(first, second):
    room = room_of(5)
    for number, values in enumerate(first):
        room.answer(mark(number), 1, 1, values)
    before = room.counts()["votes"][0]
    assert room.vote_again()
    assert not room.answer(mark(0), 1, 1, second[0])  # of the first vote, too late
    for number, values in enumerate(second):
        assert room.answer(mark(number), 1, 2, values)
    assert room.counts()["votes"][0] == before
    assert room.counts()["votes"][1]["answered"] == len(second)


WRONG = [
    {},
    {"cathode": 3},
    {"cathode": -1},
    {"cathode": True},
    {"cathode": 1.0},
    {"cathode": "copper"},
    {"anode": 0},
    {"ions": [0, 3]},
    {"ions": [0, 1, 2, 0]},
    {"ions": 1},
    {"seen": ""},
    {"seen": "  "},
    {"seen": "x" * (MAX_TEXT + 1)},
    {"mass": float("nan")},
    {"mass": float("inf")},
    {"mass": 10**400},
    {"mass": False},
    {"half": "2H+ + 2e- -> H2"},
    {"half": {"fault": "no such", "written": "x"}},
    {"half": {"fault": "right", "written": ""}},
    {"half": {"fault": "right", "written": "x", "more": 1}},
    {"cathode": 0, "mass": "12"},
]


@pytest.mark.parametrize("values", WRONG, ids=str)
def test_what_a_round_does_not_take_changes_nothing(values):
    room = room_of(2)
    assert room.answer(mark(1), 1, 1, {"cathode": 2})
    before = room.counts()
    assert not room.answer(mark(1), 1, 1, values)
    assert room.counts() == before


def test_answers_count_only_for_the_open_round_and_for_who_is_in_the_room():
    room = room_of(2)
    assert not room.answer(mark(7), 1, 1, {"cathode": 0})
    assert not room.answer(mark(0), 2, 1, {"cathode": 0})
    room.accept(is_open=False)
    assert not room.answer(mark(0), 1, 1, {"cathode": 0})
    room.accept(is_open=True)
    assert room.answer(mark(0), 1, 1, {"cathode": 0})
    room.ask(Round("Again", PARTS))
    assert room.counts()["votes"] == [
        {"answered": 0, "counts": room_of(0).counts()["votes"][0]["counts"]}
    ]
    assert not room.answer(mark(0), 1, 1, {"cathode": 0})


def test_a_phone_that_leaves_is_not_waited_for_and_finds_its_answer_when_it_returns():
    room = room_of(3)
    room.answer(mark(0), 1, 1, {"cathode": 1})
    room.leave(mark(0))
    room.leave(mark(1))
    assert (room.counts()["missing"], room.counts()["away"]) == (1, 1)
    assert room.counts()["votes"][0]["counts"]["cathode"] == [0, 1, 0]
    room.join(mark(0), "192.0.2.200")
    assert room.for_phone(mark(0))["answer"] == {"cathode": 1}
    assert room.counts()["joined"] == 3


def test_one_device_with_many_marks_is_noticed_and_may_count_once():
    room = room_of(3)
    assert room.counts()["alike"] == 1
    for number in range(10, 15):  # as many private windows
        room.join(mark(number), "192.0.2.0")
    for number in [0, 1, 2, *range(10, 15)]:
        room.answer(mark(number), 1, 1, {"cathode": 2 if number in range(10, 15) else 0})
    assert room.counts()["alike"] == 6
    assert room.counts()["votes"][0]["counts"]["cathode"] == [3, 0, 5]
    room.is_one_each = True
    (vote,) = room.counts()["votes"]
    assert vote["answered"] == 3
    assert vote["counts"]["cathode"] == [3, 0, 0]  # who answered first of the device
    room.is_one_each = False
    assert room.counts()["votes"][0]["counts"]["cathode"] == [3, 0, 5]


def test_a_class_behind_one_address_is_not_suspected():
    room = Room()
    for number in range(20):
        room.join(mark(number), HERE)
    assert room.counts()["alike"] == 0


def test_phones_see_no_counts_no_texts_of_others_and_no_memo():
    room = Room()
    room.join(mark(0), HERE)
    room.join(mark(1), HERE)
    room.ask(Round("Watch", PARTS, memo="the cell and what it expects"))
    room.answer(mark(0), 1, 1, {"seen": "a secret of one phone"})
    shown = json.dumps(room.for_phone(mark(1)))
    assert "secret" not in shown
    assert "expects" not in shown
    assert room.for_phone(mark(1))["answer"] is None
    assert room.texts("seen") == ["a secret of one phone"]
    assert "secret" not in json.dumps(room.counts())


def the_code_of(room, number):
    """The code that a phone shows once it has asked to read."""
    room.want_to_read(mark(number), wants=True)
    return room.for_phone(mark(number))["code"]


def test_only_the_phone_whose_code_the_teacher_types_reads_what_is_written():
    room = room_of(3)
    room.answer(mark(0), 1, 1, {"seen": "it fizzes", "half": {"fault": "charge", "written": "H+"}})
    room.answer(mark(2), 1, 1, {"cathode": 0})
    codes = [the_code_of(room, number) for number in (1, 2)]
    assert codes[0] != codes[1]
    assert not room.let_read("not a code")
    for number in range(3):
        assert "reads" not in room.for_phone(mark(number))
    assert room.let_read(codes[1])
    assert {part["name"]: part["texts"] for part in room.for_phone(mark(2))["reads"]["parts"]} == {
        "seen": [["it fizzes", False]],
        "half": [["H+", False]],
    }
    assert "code" not in room.for_phone(mark(1))
    assert "it fizzes" not in json.dumps([room.for_phone(mark(1)), room.for_teacher()])
    assert not room.let_read(codes[0])  # of the others none can be used later
    counts = room.counts()
    assert (counts["joined"], counts["missing"], counts["votes"][0]["answered"]) == (2, 1, 1)
    assert not room.answer(mark(2), 1, 1, {"cathode": 0})  # it counts with nobody
    room.want_to_read(mark(2), wants=False)
    assert "reads" not in room.for_phone(mark(2))
    assert room.answer(mark(2), 1, 1, {"cathode": 0})


def test_the_class_sees_only_texts_that_were_shown_as_they_were_when_they_were_shown():
    room = room_of(2)
    room.answer(mark(0), 1, 1, {"seen": "it fizzes"})
    room.show("seen", ["it fizzes", "what nobody wrote"])
    room.answer(mark(0), 1, 1, {"seen": "something rude"})
    assert room.for_teacher()["written"] == {"seen": ["it fizzes"]}
    room.show("seen", ["it fizzes"])
    assert room.for_teacher()["written"] == {"seen": ["it fizzes"]}
    room.hide("seen", "it fizzes")
    room.hide("seen", "it fizzes")
    assert room.for_teacher()["written"] == {"seen": []}
    assert room.waiting("seen") == ["something rude"]
    assert room.counts()["waiting"] == {"seen": 1, "half": 0}
    room.show("seen", ["it fizzes"])  # a text that was hidden, by its own press
    assert room.for_teacher()["written"] == {"seen": ["it fizzes"]}
    room.ask(Round("Another", PARTS))
    assert room.for_teacher()["written"] == {}


def test_there_are_so_many_phones_rounds_and_votes_and_no_more():
    room = Room()
    for number in range(MAX_PHONES_OF_ONE_ADDRESS):
        room.join(mark(number), HERE)
    with pytest.raises(RoomFullError):
        room.join(mark(1000), HERE)
    for number in range(MAX_PHONES_OF_ONE_ADDRESS, MAX_PHONES):
        assert not room.join(mark(number), "192.0.2.10")  # places that one device cannot take
    with pytest.raises(RoomFullError):
        room.join(mark(1000), HERE)
    room.leave(mark(7))  # and where nobody is missed, who has gone goes first
    assert room.join(mark(1001), HERE) == mark(7)
    assert len(room.phones) == MAX_PHONES
    assert all(room.ask(Round("Predict", PARTS)) for _ in range(MAX_ROUNDS))
    assert not room.ask(Round("Predict", PARTS))
    assert [room.vote_again() for _ in range(MAX_VOTES)] == [True] * (MAX_VOTES - 1) + [False]


def test_two_devices_with_many_marks_shut_nobody_out_and_their_answers_go_with_their_places():
    room = Room()
    for number in range(MAX_PHONES):
        room.join(mark(number), f"192.0.2.{number % 2}")
    room.ask(Round("Predict", PARTS))
    for number in range(MAX_PHONES):
        room.answer(mark(number), 1, 1, {"cathode": 2})
    class_size = 40
    for number in range(class_size):
        room.leave(
            mark(number)
        )  # a phone that is locked is not forgotten for one of the same device
        crowded_out = room.join(mark(1000 + number), f"198.51.100.{number}")
        assert room.phones.keys() >= {mark(1000 + k) for k in range(number + 1)}
        assert crowded_out not in room.phones
        assert room.answer(mark(1000 + number), 1, 1, {"cathode": 0})
    assert room.counts()["votes"][0]["counts"]["cathode"] == [
        class_size,
        0,
        MAX_PHONES - class_size,
    ]
    sizes = [sum(phone.address == f"192.0.2.{k}" for phone in room.phones.values()) for k in (0, 1)]
    assert abs(sizes[0] - sizes[1]) <= 1


def test_the_teachers_own_phone_is_crowded_out_by_nobody():
    room = Room()
    for number in range(MAX_PHONES):
        room.join(mark(number), f"192.0.2.{number % 2}")
    room.want_to_read(mark(0), wants=True)
    assert room.let_read(room.for_phone(mark(0))["code"])
    room.leave(mark(0))
    for number in range(60):
        room.join(mark(1000 + number), f"198.51.100.{number}")
    assert mark(0) in room.phones


@given(st.lists(st.tuples(st.integers(0, 200), st.integers(0, 6), st.booleans()), max_size=300))
def test_whoever_comes_and_goes_the_limits_hold_and_nobody_is_in_twice(steps):
    room = Room()
    room.ask(Round("Predict", PARTS))
    for number, address, comes in steps:
        if comes:
            with suppress(RoomFullError):
                gone = room.join(mark(number), f"192.0.2.{address}")
                assert gone not in room.phones
            room.answer(mark(number), 1, 1, {"cathode": 0})
        else:
            room.leave(mark(number))
    counts = room.counts()
    assert counts["joined"] <= MAX_PHONES
    assert counts["votes"][0]["answered"] <= len(room.phones)


def test_who_has_answered_keeps_a_place():
    room = Room()
    for number in range(MAX_PHONES):
        room.join(mark(number), f"192.0.2.{number}")
    room.ask(Round("Predict", PARTS))
    for number in range(MAX_PHONES):
        room.answer(mark(number), 1, 1, {"cathode": 0})
        room.leave(mark(number))
    with pytest.raises(RoomFullError):
        room.join(mark(999), HERE)


# messages

json_values = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    max_leaves=20,
)


@given(st.text() | st.binary() | json_values.map(json.dumps))
@settings(max_examples=300)
def test_nonsense_is_refused_and_never_breaks(sent):
    for read in (from_phone, from_teacher):
        with suppress(MessageError):
            read(sent)


@given(answers, st.integers(1, 300), st.integers(1, MAX_VOTES))
def test_what_the_page_sends_arrives_as_it_is(values, number, vote):
    sent = json.dumps(
        {"answer": {"round": number, "vote": vote, "values": values}}, ensure_ascii=False
    )
    read = from_phone(sent)
    said = {"round": number, "vote": vote, "values": plain_strings(values)}
    assert (read.act, read.value) == ("answer", said)


@given(st.text(st.characters(exclude_categories=())))
def test_a_text_is_made_plain_once_grows_never_and_can_be_sent(text):
    made = plain(text)
    assert plain(made) == made
    assert len(made) <= len(text)
    assert made.encode().decode() == made
    assert len(made.splitlines()) <= 1


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\ud83d boo", "\ufffd boo"),
        ("\u202eevil", "evil"),
        ("a\n\n\nb\x00", "a b"),
        ("z" + "\u0335" * 40, "z" + "\u0335" * 3),
        (
            "h\u00e9, Vi\u1ec7t, \U0001f469\u200d\U0001f52c",
            "h\u00e9, Vi\u1ec7t, \U0001f469\u200d\U0001f52c",
        ),
        ("2Cl\u207b \u2192 Cl\u2082 + 2e\u207b", "2Cl\u207b \u2192 Cl\u2082 + 2e\u207b"),
    ],
    ids=ascii,
)
def test_what_defaces_the_neighbours_is_left_out(text, shown):
    assert plain(text) == shown


@given(json_values)
def test_a_round_takes_no_value_that_no_page_sends(value):
    """Whatever passes the schema, counting it must not fail."""
    room = room_of(1)
    for part in PARTS:
        try:
            sent = json.dumps({"answer": {"round": 1, "vote": 1, "values": {part.name: value}}})
            read = from_phone(sent)
        except MessageError:
            continue
        room.answer(mark(0), 1, 1, read.value["values"])
        room.counts()


@pytest.mark.parametrize(
    "sent",
    [
        "",
        "null",
        "[]",
        "{}",
        '{"here": false}',
        '{"here": true, "answer": {}}',
        '{"close": true}',
        '{"read": 1}',
        '{"reader": "123456"}',
        '{"show": {"of": "seen", "all": true}}',
        '{"hide": {"of": "seen"}}',
        '{"answer": {"round": 1, "vote": 1, "values": {}}}',
        '{"answer": {"round": 0, "vote": 1, "values": {"a": 1}}}',
        '{"answer": {"round": 1, "vote": 1, "values": {"a": NaN}}}',
        '{"answer": {"round": 1, "vote": 1, "values": {"A B": 1}}}',
        '{"answer": {"round": 1, "vote": 1, "values": {"a": {"b": 1}}}}',
        "[" * (MAX_PHONE_BYTES - 1),
        '"' + "x" * MAX_PHONE_BYTES + '"',
        b"{}",
    ],
    ids=lambda sent: str(sent)[:40],
)
def test_a_phone_says_what_its_page_can_say(sent):
    with pytest.raises(MessageError):
        from_phone(sent)


GRAPH = {"drawn": "<svg/>", "said": "mass against time"}


def test_a_round_names_its_parts_once_and_offers_something_to_choose():
    part = {"name": "cathode", "kind": "choice", "label": "What forms?", "options": ["copper"]}
    asked = {"title": "Predict", "memo": "", "parts": [part]}
    read = from_teacher(json.dumps({"ask": asked}))
    assert read.act == "ask"
    assert read.value.parts == (Part("cathode", "choice", "What forms?", ("copper",)),)
    assert read.value.about == ""
    assert from_teacher(json.dumps({"ask": {**asked, "about": "CuSO₄"}})).value.about == "CuSO₄"
    drawn = from_teacher(json.dumps({"ask": {**asked, "pictures": {"cathode": GRAPH}}})).value
    assert json.loads(gzip.decompress(drawn.pictures)) == {"cathode": GRAPH}
    large = {"drawn": "x" * 60_000, "said": ""}
    for pictures in ({"A": GRAPH}, {"a": "x"}, {"a": large}, dict.fromkeys("abcdefghi", GRAPH)):
        with pytest.raises(MessageError):
            from_teacher(json.dumps({"ask": {**asked, "pictures": pictures}}))
    for wrong in ([part, part], [{**part, "options": []}], [{**part, "kind": "song"}], []):
        with pytest.raises(MessageError):
            from_teacher(json.dumps({"ask": {**asked, "parts": wrong}}))


def test_python_keeps_no_name_for_a_phone_but_its_mark():
    room = room_of(1)
    assert set(type(room.phones[mark(0)]).__slots__) == {"address", "is_here"}
