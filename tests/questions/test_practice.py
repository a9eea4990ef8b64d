"""Practice: what comes after an answer is a sibling of what was missed, the same for everyone."""

from __future__ import annotations

from dataclasses import asdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fizzplate.questions.makers import MAKERS
from fizzplate.questions.misconceptions import misconceptions
from fizzplate.questions.practice import ALONE, WHOLE, Attempt, next_item, read_record
from fizzplate.questions.practice.reasons import HAVE_REASONS, in_two_steps
from fizzplate.questions.practice.record import (
    CONFIDENCE,
    GUESS,
    MAX_RECORD,
    SURE,
    THINK,
    returns_of,
)
from fizzplate.questions.practice.siblings import (
    ideas_behind,
    item_key,
    sibling,
    text_key,
    units_of,
)
from fizzplate.questions.practice.worked_examples import next_left, steps_of, worked_example
from fizzplate.questions.question_types import StructuredQuestion
from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.set_state import QuestionSet, read_set, write_set
from fizzplate.questions.sets import another

CALCULATIONS = [
    name for name in MAKERS if all(another(name, seed).kind == "number" for seed in range(2))
]
QUANTITIES = QuestionSet(5, topics=("quantities",), level=16, style="follow")
IDEAS = QuestionSet(2, topics=("current", "drift", "ions"), level=14, style="follow")


def answered(item, *, right=True, sure=THINK, idea=0):
    """Give what the record holds of an answer."""
    return Attempt(
        item.question.maker,
        item.key,
        right,
        idea=idea,
        sure=sure,
        follows=item.follows,
        left=item.left,
        steps=item.steps,
    )


def idea_of(item):
    """Give an idea behind a wrong option of a question, if there is any."""
    return min(ideas_behind(item.question), default=0)


answers = st.lists(st.tuples(st.booleans(), st.sampled_from(CONFIDENCE)), max_size=14)
sets = st.builds(
    QuestionSet,
    seed=st.integers(0, 999),
    level=st.sampled_from([14, 16]),
    topics=st.sampled_from([(), ("quantities",), ("current", "drift"), ("tests",), ("charts",)]),
    style=st.just("follow"),
)


@settings(max_examples=25, deadline=None)
@given(sets, answers)
def test_whatever_is_answered_practice_keeps_its_promises(chosen, given_answers):
    record, asked = [], []
    for right, sure in given_answers:
        item = next_item(chosen, record)
        if item is None:
            break
        assert item == next_item(chosen, record), "the same answers give the same next question"
        question = item.question
        assert question.level <= chosen.level
        assert question.topic in chosen.topics or not chosen.topics
        assert text_key(question.text) not in {each.item.partition("-")[0] for each in record}
        if item.follows >= 0:
            missed = asked[item.follows]
            assert item.because
            same_maker = question.maker == missed.question.maker
            assert (
                same_maker or question.topic == missed.question.topic or record[item.follows].idea
            )
            assert question.text != missed.question.text
        assert question.mark(question.answer).earned == question.marks
        missed_idea = 0 if right else idea_of(item)
        record.append(answered(item, right=right, sure=sure, idea=missed_idea))
        asked.append(item)
    assert read_record([asdict(each) for each in record]) == record


@settings(max_examples=20, deadline=None)
@given(sets, st.lists(st.sampled_from(CONFIDENCE), min_size=3, max_size=8))
def test_what_is_answered_right_and_not_guessed_never_comes_back(chosen, sures):
    record = []
    for sure in sures:
        item = next_item(chosen, record)
        if item is None:
            return
        record.append(answered(item, right=True, sure=sure))
    for back in returns_of(record):
        each = record[back.place]
        assert each.sure == GUESS or each.left != ALONE


def test_a_mistake_brings_a_sibling_at_once_and_its_right_answer_ends_it():
    first = next_item(IDEAS, [])
    record = [answered(first, right=False, idea=idea_of(first))]
    second = next_item(IDEAS, record)
    assert second.follows == 0
    assert second.question.maker == first.question.maker
    assert second.question.text != first.question.text
    if record[0].idea:
        assert record[0].idea in ideas_behind(second.question)
    record.append(answered(second))
    assert returns_of(record) == []
    assert next_item(IDEAS, record).follows == -1


def test_who_was_sure_and_wrong_by_an_idea_meets_it_first():
    wrong = [
        Attempt("which rod", "1-1", right=True, sure=GUESS),
        Attempt("gas test", "2-2", right=False, sure=THINK),
        Attempt("wires swapped", "3-3", right=False, idea=8, sure=THINK),
        Attempt("gas test", "4-4", right=False, sure=SURE),
        Attempt("which way", "5-5", right=False, idea=6, sure=SURE),
    ]
    assert [each.place for each in returns_of(wrong)] == [4, 3, 2, 1, 0]
    item = next_item(QuestionSet(1, level=14, style="follow"), wrong)
    assert item.follows == 4
    assert 6 in ideas_behind(item.question)
    assert "You were sure" in item.because
    assert item.waiting == 4


def test_a_calculation_that_fades_goes_on_before_a_guess_comes_back():
    guessed = Attempt("which rod", "1-1", right=True, sure=GUESS)
    read = Attempt("charge", "2-2", right=True, left=WHOLE, steps=2)
    assert [each.place for each in returns_of([guessed, read])] == [1, 0]


def test_a_guessed_calculation_comes_back_alone_and_one_that_is_known_begins_alone():
    guessed = Attempt("charge", "1-1", right=True, sure=GUESS, steps=2)
    others = [Attempt("which rod", f"{k}-{k}", right=True) for k in (2, 3)]
    item = next_item(QUANTITIES, [guessed, *others])
    assert (item.follows, item.question.maker, item.left) == (0, "charge", ALONE)
    every = {
        name: Attempt(name, f"{k}-{k}", right=True, steps=2) for k, name in enumerate(CALCULATIONS)
    }
    record = list(every.values())
    for _ in range(6):
        item = next_item(QUANTITIES, record)
        assert item.left == ALONE, item.question.maker
        record.append(answered(item))
    assert any(each.steps for each in record[len(every) :])


def test_a_right_guess_comes_back_after_two_others():
    record = []
    for sure in (GUESS, SURE, SURE):
        item = next_item(IDEAS, record)
        assert item.follows == -1
        record.append(answered(item, sure=sure))
    again = next_item(IDEAS, record)
    assert again.follows == 0
    assert "guessed" in again.because
    assert again.question.maker == record[0].maker
    record.append(answered(again, sure=SURE))
    assert returns_of(record) == []


def test_who_misses_twice_in_a_row_meets_something_else_before_it_comes_a_third_time():
    record = []
    for _ in range(2):
        record.append(answered(next_item(IDEAS, record), right=False))
    assert [each.follows for each in record] == [-1, 0]
    between = []
    for _ in range(3):
        item = next_item(IDEAS, record)
        between.append(item.follows)
        record.append(answered(item))
    assert between == [-1, -1, -1]
    assert next_item(IDEAS, record).follows == 1


def first_calculation(record):
    """Go on with right answers up to a new calculation with steps enough to fade."""
    while True:
        item = next_item(QUANTITIES, record)
        if item.left == WHOLE and item.steps >= 3:
            return item
        record.append(answered(item, sure=SURE))


def test_a_calculation_begins_as_a_worked_example_and_fades_until_it_is_done_alone():
    record = []
    item = first_calculation(record)
    maker, left = item.question.maker, []
    while item.question.maker == maker:
        left.append(item.left)
        shown = item.steps - (item.steps if item.left == ALONE else item.left)
        assert len(item.shown) == shown
        record.append(answered(item))
        item = next_item(QUANTITIES, record)
    assert left == [WHOLE, 1, 2, ALONE]
    assert len({each.item for each in record}) == len(record), "never the same numbers"


def test_who_can_do_it_alone_says_so_and_who_cannot_is_shown_more():
    record = []
    record.append(answered(first_calculation(record), sure=SURE))
    alone = next_item(QUANTITIES, record)
    assert (alone.left, alone.shown) == (ALONE, ())
    record.append(answered(alone, right=False))
    assert next_item(QUANTITIES, record).left == 2


@pytest.mark.parametrize("steps", [1, 2, 3, 4, 6])
def test_examples_fade_forwards_and_come_back_by_one(steps):
    left, way = WHOLE, [WHOLE]
    while left != ALONE:
        left = next_left(left, steps, earned=True, sure=False)
        way.append(left)
    assert way == [WHOLE, *[n for n in (1, 2) if n < steps], ALONE]
    while left != WHOLE:
        before, left = left, next_left(left, steps, earned=False, sure=False)
        assert left < before
    assert next_left(WHOLE, steps, earned=False, sure=False) == WHOLE


@pytest.mark.parametrize("name", CALCULATIONS)
def test_only_the_steps_that_are_left_earn_marks(name):
    for seed in range(4):
        question = another(name, seed)
        for left in (1, 2):
            example = worked_example(question, left)
            if example.left == ALONE:
                assert left >= steps_of(question)
                assert example.question == question
                continue
            assert example.question.marks == left
            assert len(example.shown) + left == steps_of(question)
            assert example.question.mark(example.question.answer).earned == left
            assert example.question.mark("").earned == 0
            assert all(miss.lost for part in example.question.parts for miss in part.near_misses)
            for part in example.question.parts:
                for miss in part.near_misses:
                    wrong = f"{miss.value:.6g} {part.unit}"
                    assert example.question.mark(wrong).earned < left or len(question.parts) > 1
                    assert max(miss.lost) < len(part.steps)
        assert worked_example(question, WHOLE).question == question


@pytest.mark.parametrize("name", sorted(MAKERS))
def test_a_sibling_is_never_the_same_question(name):
    first = another(name, 1)
    idea = min(ideas_behind(first), default=0)
    other = sibling(name, 7, asked={item_key(first)}, idea=idea)
    if other is None:
        assert len({another(name, seed).text for seed in range(60)}) == 1
        return
    assert other.maker == name
    assert other.text != first.text
    assert sibling(name, 7, asked={text_key(first.text)}) is not None


def test_a_sibling_tries_the_idea_behind_the_mistake_where_its_maker_can():
    for name, idea in (("product at the cathode", 21), ("mixture", 18), ("ions present", 1)):
        made = [sibling(name, seed, asked=(), idea=idea) for seed in range(12)]
        assert all(idea in ideas_behind(each) for each in made), name
        without = [another(name, seed) for seed in range(12)]
        assert not all(idea in ideas_behind(each) for each in without), "so that it can fail"


def test_a_sibling_asks_something_else_rather_than_the_same_in_other_words():
    first = another("which way", 1)
    asked = item_key(first)
    made = [sibling("which way", seed, asked={asked}) for seed in range(12)]
    assert all(each.answer != first.answer for each in made)


def test_no_error_of_a_shown_answer_is_carried_on():
    examples = [worked_example(another("plating time", seed), 1) for seed in range(4)]
    examples += [worked_example(another("mass from a melt", seed), 1) for seed in range(4)]
    assert any(another("mass from a melt", seed).parts[-1].factor for seed in range(4)), (
        "so that it can fail"
    )
    for example in examples:
        assert example.question.parts[0].factor == 0


def test_the_second_step_asks_for_the_reason_and_has_one_true_sentence():
    assert set(MAKERS) >= HAVE_REASONS
    made = set()
    false = {each.wrong for each in misconceptions().values()}
    for name in MAKERS:
        for seed in range(6):
            question = another(name, seed)
            if question.kind != "choice":
                continue
            whole = in_two_steps(question, RandomSource(seed))
            if whole is None:
                assert name not in HAVE_REASONS or not ideas_behind(question)
                continue
            made.add(name)
            assert isinstance(whole, StructuredQuestion)
            answer, reason = whole.sections
            assert whole.marks == question.marks + 1
            assert [each.text for each in answer.options] == [o.text for o in question.options]
            assert {o.text for o in reason.options if not o.right} <= false
            assert reason.answer not in false
            right = next(o for o in question.options if o.right)
            assert reason.answer == right.reason
            assert reason.answer not in {o.text for o in question.options}
            assert 2 <= len(reason.options) <= 4
            assert len({o.text for o in reason.options}) == len(reason.options)
            behind = {o.misconception for o in question.options if o.misconception}
            assert behind & ideas_behind(reason)
    assert made == HAVE_REASONS


def test_practice_ends_where_a_topic_has_no_more_questions():
    chosen = QuestionSet(1, topics=("words",), level=14, style="follow")
    record = []
    while item := next_item(chosen, record):
        record.append(answered(item))
        assert len(record) < 400
    assert len({each.item for each in record}) == len(record) > 5


def test_a_record_is_read_up_to_what_is_no_entry_of_one():
    good = asdict(Attempt("gas test", "a-b", right=False, sure=SURE))
    assert len(read_record([good, good])) == 2
    for bad in (
        None,
        3,
        [],
        {},
        good | {"maker": 3},
        good | {"right": "yes"},
        good | {"item": None},
    ):
        assert len(read_record([good, bad, good])) == 1
    odd = good | {"sure": "very", "follows": 7, "left": -2, "steps": True, "idea": "6"}
    assert read_record([odd]) == [Attempt("gas test", "a-b", right=False)]
    assert len(read_record([good] * (MAX_RECORD + 5))) == MAX_RECORD
    unknown = read_record([good | {"maker": "__import__"}])
    assert next_item(IDEAS, unknown).follows == -1


def test_a_set_opened_from_a_link_stays_a_fixed_list_and_practice_is_its_own_choice():
    fixed = QuestionSet(7, 5, level=14)
    chosen = QuestionSet(7, 5, level=14, style="follow")
    assert "style=follow" in write_set(chosen)
    assert read_set(write_set(chosen))[0] == chosen
    assert fixed.questions() == chosen.questions()


def test_examples_that_fade_ask_for_the_same_quantity_until_one_is_done_alone():
    """ "charge" asks for a charge, a time or a current: an example of one leaves no step of another."""
    for seed in range(12):
        chosen = QuestionSet(seed, topics=("quantities",), level=14, style="follow")
        record, shown = [], {}
        for _ in range(10):
            item = next_item(chosen, record)
            name = item.question.maker
            if item.steps and name in {"charge", "ratio"}:
                units = units_of(item.question)[-1:]
                assert shown.setdefault(name, units) == units, (seed, name)
                if item.left == ALONE:
                    break
            record.append(answered(item))
        assert "charge" in shown or "ratio" in shown
