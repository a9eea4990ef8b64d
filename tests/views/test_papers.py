"""Papers and mark schemes as HTML: nothing left out, nothing given away, and marked as the page marks."""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from tests.questions.plain_spaces import with_plain_spaces
from tests.views.sample_questions import (
    FARADAY,
    MASS,
    alkaline,
    as_printed,
    choice,
    half,
    mass,
    observation,
    plan,
    reading,
    steps,
    ten,
)

from fizzplate.chemistry import half_equation
from fizzplate.lesson.equations.equation_judge import judge
from fizzplate.lesson.equations.equation_tasks import half_task
from fizzplate.questions.content import NearMiss, Part, Point, data_sentence
from fizzplate.questions.question_types import NumberQuestion
from fizzplate.questions.sets import LEVELS, MAKERS, another, questions
from fizzplate.questions.versions import by_demand
from fizzplate.views.pages.revise import Revise
from fizzplate.views.paper.blueprint import KINDS, blueprint_html
from fizzplate.views.paper.mark_scheme import scheme_html
from fizzplate.views.paper.papers import papers
from fizzplate.views.paper.scheme_words import wordings
from fizzplate.views.web.stylesheets import style_text
from fizzplate.words.wording import Wording

VOID = {"br", "hr", "img", "input", "path", "use", "rect", "line", "meta"}
DOES = ("are left", "are left over", "stay", "are left behind", "remain", "are made", "build up")
BLOCKS = {"p", "li", "td", "th", "h3", "figcaption", "text"}


class Outline(HTMLParser):
    """Read a sheet: its words, its ids and classes, and whether every tag is closed in its turn."""

    def __init__(self, html):
        super().__init__()
        self.open: list[str] = []
        self.text: list[str] = []
        self.ids: list[str] = []
        self.classes: list[str] = []
        self.feed(html)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        self.ids += [given["id"]] if "id" in given else []
        self.classes += (given.get("class") or "").split()
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if tag not in VOID:
            assert self.open.pop() == tag
        self.text += [" "] if tag in BLOCKS else []

    def handle_data(self, data):
        self.text.append(data)

    @property
    def words(self):
        return " ".join("".join(self.text).split())


def sheets_of(*questions, number=31, **options):
    """Give the paper and the mark scheme of questions, read."""
    return [Outline(sheet.html) for sheet in papers([(number, list(questions))], **options)]


def test_each_version_has_a_paper_and_a_mark_scheme():
    made = papers([(31, ten()), (32, ten()[:3])], minutes=40)
    assert [sheet.name for sheet in made] == ["paper-31", "scheme-31", "paper-32", "scheme-32"]
    assert [sheet.title for sheet in made] == [
        "Paper 31",
        "Mark scheme 31",
        "Paper 32",
        "Mark scheme 32",
    ]
    paper, scheme, other, _ = (Outline(sheet.html) for sheet in made)
    for words in ("Version 31", "10 questions", "26 marks", "40 minutes", "16 to 18 years"):
        assert words in paper.words
        assert words in scheme.words
    assert "Version 32" in other.words
    assert "5 marks" in other.words
    assert "Name Class Date Marks / 26" in paper.words
    assert "minutes" not in sheets_of(choice())[0].words


def test_topics_and_level_are_those_that_were_asked_for():
    assert "Electrolysis 14 to 16 years" in sheets_of(choice())[0].words
    named = sheets_of(choice(), topics=["products", "melts"], level=16)
    for sheet in named:
        assert "Products, melts 16 to 18 years" in sheet.words


def test_the_paper_asks_everything_and_tells_no_answer():
    paper, _ = sheets_of(*ten())
    for question in ten():
        assert as_printed(question.text) in paper.words
        for option in question.options:
            assert option.text in paper.words
            assert option.reason not in paper.words
        for part in question.parts:
            assert as_printed(part.prompt) in paper.words
            assert not any(step in paper.words for step in part.steps)
            assert not part.unit or part.answer not in paper.words
        for point in question.points:
            assert (
                not (point.words or question.kind in {"list", "plot"})
                or point.statement not in paper.words
            )
        if question.kind == "equation":
            assert question.task.hints[-1] not in paper.words


def test_what_is_typed_is_shown_and_not_run():
    html = papers([(1, [choice(), replace(half(), text="<img src=x onerror=alert(1)>")])])
    for sheet in html:
        assert "<img" not in sheet.html
        assert "<inert>" not in sheet.html
    assert "<inert> & only conducts" in Outline(html[0].html).words


def test_every_part_shows_its_own_marks():
    for question in ten():
        paper, _ = sheets_of(question)
        shown = [int(found) for found in re.findall(r"\[(\d) marks?\]", paper.words)]
        several = len(question.parts) > 1
        assert shown == (
            [len(part.steps) for part in question.parts] if several else [question.marks]
        )


@pytest.mark.parametrize(
    ("question", "lines", "answers"),
    [(half(), 1, 0), (observation(), 4, 0), (plan(), 12, 0), (mass(), 0, 1), (reading(), 0, 2)],
)
def test_there_is_room_by_kind_and_marks(question, lines, answers):
    html = papers([(1, [question])])[0].html
    assert html.count("<div></div>") == lines
    assert html.count("fp-paper-answer") == html.count("fp-paper-working") == answers


def test_units_are_given_unless_they_count():
    assert "Answer g" in sheets_of(mass())[0].words
    strict = sheets_of(replace(mass(), strict=True))[0].words
    assert "Answer Unit" in strict
    assert "Give units" in strict
    assert "Answer g" not in strict


def test_constants_that_all_questions_take_are_given_once():
    paper, _ = sheets_of(mass(), steps())
    assert paper.words.count("96 500") == 1
    assert "Data Faraday constant F = 96 500 C/mol" in paper.words
    assert "Take M(Cu) = 63.5 g/mol." in paper.words
    assert "Data" not in sheets_of(choice())[0].words
    precise = replace(FARADAY, text="F = 96 485 C/mol")
    data = (precise, "M(Cu) = 63.5 g/mol")
    exact = replace(mass(), text=f"{MASS} {data_sentence(*data)}", data=data)
    both = sheets_of(exact, steps())[0].words  # each its own: neither is moved
    assert "Data" not in both
    assert "Take F = 96 485 C/mol and M(Cu)" in both
    assert "Take F = 96 500 C/mol." in both


def test_a_list_is_not_ticked_on_paper():
    paper, scheme = sheets_of(plan())
    assert "Write your plan. [6 marks]" in paper.words
    assert "tick" not in paper.words + scheme.words


def test_of_many_words_some_that_differ_are_shown():
    phrases = [f"{ion} {does}" for ion in ("oh- ion", "oh- ions", "oh^- ions") for does in DOES]
    point = replace(alkaline().points[1], words=(*phrases, "alkali is left", "leaving alkali"))
    said = sheets_of(replace(alkaline(), points=(point, point)))[1].words
    shown = re.search(r"accept, for example, (.*?) or equivalent\.", said)[1].split(", ")
    assert len(shown) <= 5
    assert "OH⁻ ions are left" in shown
    assert "alkali is left" in shown
    assert not any("OH⁻ ion " in phrase or "^" in phrase for phrase in shown)


def test_charts_stay_text_and_ids_are_met_once_in_all_versions():
    made = papers([(31, [reading(), reading()]), (32, [reading()])])
    outlines = [Outline(sheet.html) for sheet in made]
    ids = [each for outline in outlines for each in outline.ids]
    assert len(set(ids)) == len(ids) > 20
    assert "volume, cm³" in outlines[0].words
    assert (
        "cathode: 0 at 0, 3.6 at 6, 7.2 at 12" in outlines[0].words
    )  # for those who do not see it
    assert "cathode" in outlines[0].words
    assert "#" not in "".join(re.findall(r"(?:stroke|fill): (#\w+)", made[0].html))


def test_a_scheme_has_a_point_for_every_mark():
    for question in ten():
        html = papers([(1, [question])])[1].html
        points = sum(found.count("<li>") for found in re.findall(r"<ol>.*?</ol>", html))
        assert points == (0 if question.kind == "choice" else question.marks)
        rows = re.findall(r"<th scope=\"row\">[^<]*</th><td>.*?</td><td>(\d+)</td>", html)
        *each, total = map(int, rows)
        assert sum(each) == total == question.marks


def test_a_choice_tells_what_is_behind_the_wrong_boxes():
    _, scheme = sheets_of(choice())
    assert "B: oxygen" in scheme.words
    assert "C: Hydrogen forms at the cathode." in scheme.words
    assert "A: Sulfate is not discharged. “Sulfate solutions give sulfur dioxide" in scheme.words
    assert "B: Hydroxide" not in scheme.words


def test_words_and_rules_are_those_of_the_marking():
    _, scheme = sheets_of(observation(), alkaline())
    assert "A deposit: accept deposit, layer, coat; reject precipitate." in scheme.words
    assert "Its colour: accept orange, brown, pink; not enough alone: red." in scheme.words
    assert "accept hydroxide, OH⁻." in scheme.words
    assert "Words after “accept”" in scheme.words
    assert "rounded" not in scheme.words
    assert "Accept any multiple" not in scheme.words
    assert "take no mark" in sheets_of(mass())[1].words
    assert "costs the last mark" in sheets_of(steps())[1].words


def numbers():
    """Give questions of one number, whose roundings differ."""
    made = []
    for value in (0.0790, 450.0, 1.14, 9.96, 0.00233, 20.0, 1250.0, 88.4):
        part = replace(mass().parts[0], value=value, near_misses=())
        made.append(replace(mass(), parts=(part,)))
    return made


@pytest.mark.parametrize("question", numbers(), ids=lambda question: question.answer)
def test_what_a_scheme_accepts_is_what_is_marked_right(question):
    said = sheets_of(question)[1].words
    low, high = map(float, re.search(r"Accept ([\d.]+) to ([\d.]+)", said).groups())
    value = question.parts[0].value
    assert 0.985 * value < low < value < high < 1.015 * value
    for number in (low, high):
        assert question.mark(f"{number:.6g} g").earned == question.marks
    for number in (0.987 * value, 1.013 * value):
        assert question.mark(f"{number:.6g} g").earned < question.marks
    also = re.search(r"also ([\d.]+) g", said)
    assert (question.mark(f"{value:.2g} g").earned == question.marks) or also is None
    if also:
        assert question.mark(f"{also[1]} g").earned == question.marks
    too_far = re.search(r"; ([\d.]+) g is rounded too far", said)
    once = too_far[1] if too_far else f"{float(f'{value:.1g}'):g}"
    assert question.mark(f"{once} g").earned == question.marks - bool(too_far)


def test_a_rough_reading_is_given_no_finer_than_its_answer():
    part = Part(9.0, "min", ("Read: 9 min.",), tolerance=0.2, figures=1)
    question = replace(reading(), parts=(part,))
    assert "Accept 8 to 10 min." in sheets_of(question)[1].words
    fine = replace(part, value=9.04, tolerance=0.02, figures=1)  # nothing whole lies within it
    question = replace(reading(), parts=(fine,))
    assert "Accept 8.86 to 9.22 min" in sheets_of(question)[1].words


def test_numbers_below_nought_are_printed_with_a_minus_sign():
    part = Part(-1.35, "V", ("The lower one.",), near_misses=(NearMiss(-2.7, (0,), "Twice."),))
    question = replace(reading(), parts=(part,))
    said = sheets_of(question)[1].words
    assert "Accept −1.36 to −1.34 V" in said
    assert "−2.70 V: no mark" in said
    assert not re.search(r"-\d", said)


def test_a_scheme_shows_whole_words_where_parts_of_words_are_searched_for():
    point = Point("gas forms", ("oxygen", "bubbl", "gas", "fizz", "effervesc"), ("decompos",))
    question = replace(alkaline(), points=(point, point))
    assert (
        "accept oxygen, bubbles, gas, fizz, effervescence; reject decomposes."
        in sheets_of(question)[1].words
    )


def test_no_scheme_of_the_makers_shows_a_part_of_a_word():
    shown = set()
    for level in (14, 16):
        for seed in range(20):
            points = [
                p for each in questions(seed=seed, count=20, level=level) for p in each.points
            ]
            for point in points:
                shown |= set(re.findall(r"[\w'-]+", wordings(point).lower()))
    assert len(shown) > 100
    # what somebody who types would go on with: no English word is just that
    parts = {"bubbl", "chang", "col", "copper-col", "decolori", "decolouri", "decompos", "dissolv"}
    assert not shown & (parts | {"effervesc", "explo", "n't", "separat", "electroly", "oxidis"})


def test_near_misses_earn_what_the_marking_gives():
    said = sheets_of(mass())[1].words
    for miss in mass().parts[0].near_misses:
        number, worth = re.search(
            rf"([\d.]+) g: (no mark|\d marks?)\. {re.escape(miss.reason)}", said
        ).groups()
        earned = mass().mark(f"{number} g").earned
        assert worth == ("no mark" if not earned else f"{earned} mark{'s' if earned > 1 else ''}")


def test_an_answer_carried_forward_is_named_and_marked_so():
    said = sheets_of(steps())[1].words
    assert "A wrong answer to (a) ÷ 193 000 earns all marks." in said
    marked = steps().mark(f"480 C; {480 / 193_000:.3g} mol")
    assert [line.earned for line in marked.lines] == [False, False, True, True]


def test_every_printed_form_of_an_equation_is_accepted():
    for product, role in (("O2", "anode"), ("H2", "cathode"), ("Cu", "cathode")):
        question = half(product, role)
        html = papers([(1, [question])])[1].html
        forms = re.findall(r'<(?:p|span) class="[^"]*fp-scheme-equation">([^<]*)</', html)
        assert len(forms) == len(question.task.accepted)
        assert all(judge(form, question.task).code == "right" for form in forms)


@pytest.mark.parametrize("level", [14, 16])
def test_whole_sets_become_papers(level):
    for seed in range(6):
        whole_set = questions(seed=seed, count=20, level=level)
        paper, scheme = sheets_of(*whole_set, number=seed)
        total = sum(each.marks for each in whole_set)
        assert f"{total} marks" in paper.words
        assert scheme.words.endswith(f"Total {total}")
        shown = [int(found) for found in re.findall(r"\[(\d) marks?\]", paper.words)]
        assert sum(shown) == total
        for each in whole_set:
            assert as_printed(each.text) in paper.words
            for part in each.parts:
                assert as_printed(part.prompt) in paper.words
                assert with_plain_spaces(part.answer) in scheme.words
        assert "None" not in paper.words + scheme.words
        assert "nan" not in re.findall(r"[a-z]+", paper.words + scheme.words)


APART = re.compile(
    r"\d (?:mol|cm³|cm²|dm³|g|mg|kg|mA|A|V|C|K|kPa|Pa|s|min|minutes|hours|°C|%)(?![\w³])"
    r"|\b\d{1,3} \d{3}\b"  # thousands
    r"|[FRM](?:\([^)]*\))? = \d"  # a datum
)


@pytest.mark.parametrize("level", [14, 16])
def test_no_line_of_a_paper_ends_between_a_number_and_its_unit(level):
    kept = 0
    for seed in range(2):
        for sheet in sheets_of(*questions(seed=seed, count=20, level=level)):
            assert [each for each in sheet.text if APART.search(each)] == []
            kept += sum(bool(APART.search(each)) for each in with_plain_spaces(sheet.text))
    assert kept > 20


def test_the_look_of_papers_is_part_of_every_page():
    assert "@page fp-paper" in style_text()


def test_a_mark_scheme_is_written_in_the_boards_wording():
    board = Wording(electrons="minus", states=True, electrode_names="negative")
    task = half_task(half_equation("Cl2", electrons="minus", states=True), "Cl2", "anode", board)
    options = tuple(
        replace(each, text="An answer.", reason="A reason.", misconception=0 if each.right else 10)
        for each in choice().options
    )
    questions = [replace(choice(), options=options), replace(half("Cl2"), task=task)]
    scheme = papers([(1, questions)], wording=board)[1].html
    assert "2Cl⁻(aq) − 2e⁻ → Cl₂(g)" in scheme
    assert "“At the negative electrode ions give electrons to the electrode.”" in scheme
    assert not re.search("cathode|anode", scheme)


@pytest.mark.parametrize("maker", ["plating in words", "works in words", "carbon or copper"])
def test_a_mark_scheme_lists_only_words_that_name_electrodes_as_the_board_does(maker):
    signs = Wording(electrode_names="negative")
    for seed in range(6):
        question = another(maker, seed, wording=signs)
        assert any("anode" in word for point in question.points for word in point.words)
        assert not re.search("cathode|anode", scheme_html([question], signs))


def test_the_blueprint_of_a_paper_counts_topics_kinds_marks_and_time():
    asked = by_demand(questions(seed=7, count=12, level=16))
    shown = Outline(blueprint_html(asked)).words
    total = sum(each.marks for each in asked)
    assert f"12 questions, {total} marks, about {total} minutes" in shown
    for topic in {each.topic for each in asked}:
        for level in {each.level for each in asked if each.topic == topic}:
            group = [each for each in asked if (each.topic, each.level) == (topic, level)]
            marks = sum(each.marks for each in group)
            years, count = LEVELS[level], len(group)
            row = rf"{topic} {years} {count} [a-z0-9, ]+ {marks}\b"
            assert re.search(row, shown), (topic, level, shown)
    assert {each.kind for each in map(another, MAKERS, range(len(MAKERS)))} <= set(KINDS)
    hostile = replace(choice(), topic="<img src=x>")
    assert "<img" not in blueprint_html([hostile])


def test_the_page_makes_parallel_versions_in_order_of_demand():
    page = Revise()
    page.open_query("?set=5&count=8&level=16")
    page.papers_panel.show("3")
    page.papers_panel.make()
    made = page.printing.sheets
    assert [sheet["title"] for sheet in made[::2]] == ["Paper 5", "Paper 5 B", "Paper 5 C"]
    assert [sheet["name"] for sheet in made[::2]] == ["paper-5", "paper-5-B", "paper-5-C"]
    marks = [re.findall(r"\[(\d)", Outline(sheet["html"]).words) for sheet in made[::2]]
    assert marks[0]
    for version in marks[1:]:
        assert len(version) == len(marks[0])
        assert all(abs(int(a) - int(b)) <= 1 for a, b in zip(marks[0], version, strict=True))
    assert "Blueprint of the paper: 8 questions" in page.papers_panel.parts[2].value
    page.papers_panel.clear()
    assert page.papers_panel.parts[2].value == ""


def test_a_mark_scheme_says_once_why_the_right_option_is_right():
    for seed in range(12):
        for maker in ("pure copper", "melt", "product at the cathode", "ions present"):
            question = another(maker, seed)
            right = next(option.reason for option in question.options if option.right)
            scheme = sheets_of(question)[1].words
            plain_right = " ".join(right.split())
            assert scheme.count(plain_right) == 1, (maker, seed)
            notes = re.findall(
                r"(?<= )([A-D](?:, [A-D])*): (.+?)(?= [A-D](?:, [A-D])*: | Total)", scheme
            )
            assert len({note for _, note in notes}) == len(notes), notes


def test_long_lists_are_shortened_on_paper_and_whole_on_the_page():
    point = Point("a gas", ("bubbl", "effervesc", "foam", "froth", "fizz", "gas given off"))
    question = replace(alkaline(), points=(point, alkaline().points[1]))
    html = scheme_html([question])
    printed = re.sub(r"<details.*?</details>", "", html, flags=re.DOTALL)
    folded = " ".join(re.findall(r"<details.*?</details>", html, re.DOTALL))
    assert "or equivalent" in printed
    assert "gas given off" in folded
    assert "Long lists are shortened here" in printed
    assert "shortened" not in scheme_html([choice()])
    assert ".fp-scheme-more { display: none; }" in style_text()


def test_wrong_numbers_with_one_reason_share_a_line_and_the_least_likely_are_folded():
    misses = [
        NearMiss(k, (1,), f"Reason {int(k) % 7}.") for k in (2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0)
    ]
    part = Part(45.0, "C", ("A step.", "Another."), near_misses=tuple(misses))
    html = scheme_html([NumberQuestion("charge", "quantities", 14, "?", "", parts=(part,))])
    printed = re.sub(r"<details.*?</details>", "", html, flags=re.DOTALL)
    assert with_plain_spaces("2.00 C or 9.00 C: 1 mark. Reason 2.") in with_plain_spaces(printed)
    assert printed.count("Reason 2.") == 1
    assert html.count("Reason") == 7
    assert printed.count("Reason") == 4
