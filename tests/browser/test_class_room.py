"""The class answers together: two phones beside the projector, through each round of a lesson."""

from __future__ import annotations

import csv
import json
import re
from types import SimpleNamespace

import pytest
from playwright.sync_api import expect
from tests.browser.test_telling import CELLS, told_in
from tests.browser.visit import (
    BEYOND,
    LOADING_MS,
    PHONE,
    PROJECTOR,
    SIDEWAYS,
    WATCH_THE_PEN,
    Visit,
    violations,
)

HERE = "127.0.0.1"
ARRIVED = re.compile("Your answer has arrived")
#: remembers the page's connections, so that a test can break one off or make it deaf
SOCKETS = """
  const Own = WebSocket;
  window.sockets = [];
  window.WebSocket = class extends Own {
    constructor(...given) { super(...given); window.sockets.push(this); }
  };
"""

#: from now on, ``said`` holds what the page said whenever it changed
KEEP_WHAT_IS_SAID = """() => {
  window.said = [];
  const keep = () => window.said.push(document.body.innerText);
  new MutationObserver(keep).observe(document.body, { subtree: true, childList: true, characterData: true });
}"""


@pytest.fixture
def lesson(windows, demonstrate_address):
    seen = Visit(
        windows,
        f"{demonstrate_address}?cells=NaCl;CuSO4",
        viewport=PROJECTOR,
        reduced_motion="reduce",
        script=WATCH_THE_PEN,
    )
    yield seen
    again = seen.page.get_by_role("button", name="Show the code")
    if again.is_visible():  # at any step
        again.click()
        seen.page.get_by_role("dialog").get_by_role("button", name="Close the room").click()
        expect(seen.page.get_by_role("button", name="Ask the class")).to_be_visible()
    seen.close()


@pytest.fixture
def phones(browser):
    """Windows of their own: a phone keeps its mark."""
    opened = []

    def open_phone(link, **options):
        context = browser.new_context(viewport=PHONE, **options)
        context.add_init_script(SOCKETS)
        page = context.new_page()
        page.complaints = []
        page.on("pageerror", lambda error: page.complaints.append(str(error)))
        page.on("console", lambda m: m.type == "error" and page.complaints.append(m.text))
        page.asked = []
        page.on("request", lambda request: page.asked.append(request.url))
        page.on("websocket", lambda socket: page.asked.append(socket.url))
        page.goto(link)
        opened.append(context)
        return page

    yield open_phone
    for context in opened:
        context.close()


def open_room(seen):
    """Open the room at this computer's own address; give its link."""
    page = seen.page
    page.get_by_role("button", name="Ask the class").click()
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text("everybody on this network who has its link")
    dialog.get_by_label("Listen on").select_option(HERE)
    dialog.get_by_role("button", name="Open the room").click()
    expect(dialog.get_by_role("img", name="Code of the room's link")).to_be_visible()
    link = dialog.locator(".fp-code-address").inner_text()
    assert link.startswith(f"http://{HERE}:")
    return link


def predict(phone, cathode, anode=None):
    phone.get_by_role("group", name="What forms at the cathode?").get_by_label(cathode).check()
    if anode:
        phone.get_by_role("group", name="What forms at the anode?").get_by_label(anode).check()
    send(phone)


def send(phone):
    phone.get_by_role("button", name=re.compile("Send my answer")).click()
    expect(phone.get_by_text(ARRIVED)).to_be_visible()


def ask(seen, name):
    seen.page.get_by_label("Ask another question").select_option(label=name)


def panel_of(seen):
    return seen.page.get_by_role("region", name="The class's answers")


def what_the_class_said(seen):
    """Save what the class said; give the file's rows."""
    with seen.page.expect_download() as saving:
        panel_of(seen).get_by_role("button", name="Save what the class said").click()
    text = saving.value.path().read_text(encoding="utf-8-sig")
    return list(csv.reader(text.splitlines()))


def counts(panel, question, option):
    """The counts of an option, vote by vote."""
    row = panel.get_by_role("table", name=question).get_by_role("row", name=option)
    return row.locator(".fp-count")


def test_a_class_predicts_talks_votes_again_and_sees_the_cell_decide(lesson, phones):
    page, panel = lesson.page, panel_of(lesson)
    link = open_room(lesson)
    first, second = phones(link), phones(link)
    expect(page.get_by_role("dialog")).to_contain_text("2 phones have joined")
    page.get_by_role("button", name="Go on").click()
    predict(first, "hydrogen", "chlorine")
    predict(second, "sodium", "chlorine")
    expect(panel).to_contain_text("2 joined · 2 answered · none missing")
    expect(panel.get_by_role("table")).to_have_count(0)  # hidden until the teacher shows them
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "What forms at the cathode?", "sodium")).to_have_text("1")
    expect(counts(panel, "What forms at the anode?", "chlorine")).to_have_text("2")
    panel.get_by_role("button", name="Vote again").click()
    expect(second.get_by_text("Answer once more")).to_be_visible()
    predict(first, "hydrogen", "chlorine")
    predict(second, "hydrogen", "oxygen")
    expect(counts(panel, "What forms at the cathode?", "hydrogen")).to_have_text("1 → 2")
    expect(counts(panel, "What forms at the anode?", "oxygen")).to_have_text("0 → 1")
    assert "the cell" not in panel.inner_text()  # nothing is told before the cell has run
    lesson.next()
    lesson.expect_step("Watch")
    expect(panel.get_by_role("table")).to_have_count(0)  # folded: the picture is in sight
    panel.get_by_role("button", name="Answers", exact=True).click()
    assert "the cell" not in panel.inner_text()
    for title in ("Test", "Explain"):
        lesson.next()
        lesson.expect_step(title)
    panel.get_by_role("button", name="Answers", exact=True).click()
    expect(panel.get_by_role("rowheader", name="hydrogen ✓ the cell").first).to_be_visible()
    expect(panel.get_by_role("rowheader", name="chlorine ✓ the cell")).to_be_visible()
    assert rows_of_buttons(panel) == 1
    saved = what_the_class_said(lesson)
    asked = ("What will form at each electrode?", "What forms at the cathode?")
    assert [*asked, "hydrogen", "1", "2", "", "yes"] in [row[1:] for row in saved]
    assert [*asked, "sodium", "1", "0", "", "no"] in [row[1:] for row in saved]
    assert {row[0] for row in saved[1:]} == {"NaCl"}
    page.get_by_role("navigation", name="Steps").get_by_role(
        "button", name=re.compile("Record")
    ).click()
    page.get_by_role("button", name="Reveal all").click()
    row = page.get_by_role("region", name="Results table")
    expect(row.get_by_role("textbox", name="Predicted, cathode, NaCl")).to_have_value("hydrogen")
    expect(row).to_contain_text("The class: hydrogen 1, sodium 1; then hydrogen 2")
    expect(row).to_contain_text("The class: chlorine 2; then chlorine 1, oxygen 1")
    save = panel.get_by_role("button", name="Save what the class said")
    for press, offered in (("New class", 0), ("Undo: New class", 1)):
        page.get_by_role("button", name=press, exact=True).click()
        page.get_by_role("navigation", name="Steps").get_by_role(
            "button", name=re.compile("Predict")
        ).click()
        expect(panel.get_by_role("button", name="Show answers")).to_be_visible()
        expect(save).to_have_count(offered)
        page.get_by_role("navigation", name="Steps").get_by_role(
            "button", name=re.compile("Record")
        ).click()
    for phone in (first, second):
        assert phone.complaints == []
    assert lesson.errors == []


def test_while_the_class_answers_nothing_on_the_projector_tells(lesson, phones):
    phone = phones(open_room(lesson))
    lesson.page.get_by_role("button", name="Go on").click()
    predict(phone, "sodium")
    lesson.page.evaluate("() => window.written.clear()")
    lesson.next()
    lesson.expect_step("Watch")
    ask(lesson, "What do you see at the anode?")
    expect(phone.get_by_role("heading", level=1)).to_have_text("What do you see at the anode?")
    expect(panel_of(lesson)).to_contain_text("0 answered")
    assert told_in(lesson.page, CELLS["NaCl"]) == []


def test_each_round_of_a_lesson_is_answered_and_gathered(lesson, phones):
    page, panel = lesson.page, panel_of(lesson)
    link = open_room(lesson)
    first, second = phones(link), phones(link)
    page.get_by_role("button", name="Go on").click()

    ask(lesson, "Which ions travel where")
    for phone in (first, second):
        group = phone.get_by_role("group", name="Which ions travel to the cathode?")
        group.get_by_label("Na⁺").check()
        send(phone)
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "Which ions travel to the cathode?", "Na⁺")).to_have_text("2")

    lesson.next()
    ask(lesson, "What do you see at the cathode?")
    first.get_by_label("bubbles of a colourless gas").check()
    first.get_by_label("In your own words").fill("<b>fizz</b>")
    send(first)
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "Pick what fits", "bubbles of a colourless gas")).to_have_text("1")
    expect(panel).to_contain_text("1 written")
    assert "<b>fizz" not in panel.inner_html().replace(
        "&lt;", "<"
    )  # only a press shows what was written
    expect(panel).to_contain_text("Whatever you show, the class sees at once")
    panel.get_by_role("button", name="Show one of 1").click()
    expect(panel.get_by_role("listitem")).to_contain_text("<b>fizz</b>")
    panel.get_by_role("button", name="Hide: <b>fizz</b>").click()
    expect(panel.get_by_role("listitem")).to_have_count(0)

    lesson.next()
    ask(lesson, "Which test for the gas at the anode?")
    first.get_by_label("damp blue litmus").check()
    first.get_by_label("it is bleached").check()
    send(first)
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "Choose a test", "damp blue litmus")).to_have_text("1")
    expect(counts(panel, "What will it show?", "it is bleached")).to_have_text("1")

    lesson.next()
    lesson.expect_step("Explain")
    ask(lesson, "Half-equations")
    first.get_by_label("Half-equation at the anode").fill("2Cl- -> Cl2 + 2e-")
    tiles = second.get_by_role("group", name="Tiles to build it from").last
    for tile in ("2", "Cl⁻", "+", "2", "e⁻", "→", "Cl₂"):
        tiles.get_by_role("button", name=tile, exact=True).click()
    second.reload()
    expect(second.get_by_label("Half-equation at the anode")).to_have_value("2Cl- + 2e- → Cl2")
    send(first)
    send(second)
    panel.get_by_role("button", name="Show answers").click()
    half = "Half-equation at the anode"
    expect(counts(panel, half, "right")).to_have_text("1")
    expect(counts(panel, half, "electrons on the wrong side")).to_have_text("1")
    panel.get_by_role("button", name="Stop answers").click()
    expect(second.get_by_text("This round is closed.")).to_be_visible()
    expect(second.get_by_text("Charge: 4− on the left, 0 on the right.")).to_be_visible()

    ask(lesson, "A mass or a volume")
    first.get_by_label("Volume of hydrogen").fill("1,4")
    send(first)
    for typed in ("a lot", "1e13", "1e999"):  # nor more than there is
        second.get_by_label("Volume of hydrogen").fill(typed)
        expect(second.get_by_text("needs a number")).to_have_count(0)
        second.get_by_role("button", name=re.compile("Send")).click()
        expect(second.get_by_text("needs a number")).to_be_visible()
    panel.get_by_role("button", name="Show answers").click()
    plot = panel.get_by_role("img", name="1 answers: 1.40")
    expect(plot).to_be_visible()
    expect(panel).to_contain_text("The model's number stands here once you stop answers")
    assert "The model:" not in panel.inner_text()  # which others could copy
    panel.get_by_role("button", name="Stop answers").click()
    plot = panel.get_by_role("img", name=re.compile("1 answers: 1.40; the model: "))
    expect(plot.locator("circle")).to_have_count(1)

    rounds = panel.get_by_label("Ask another question")
    rounds.select_option(label="Which test for the gas at the anode?")
    expect(counts(panel, "Choose a test", "damp blue litmus ✓ the cell")).to_have_text("1")
    expect(counts(panel, "What will it show?", "it is bleached ✓ the cell")).to_have_text("1")
    rounds.select_option(label="Which ions travel where?")
    expect(counts(panel, "Which ions travel to the cathode?", "Na⁺ ✓ the cell")).to_have_text("2")
    assert lesson.errors == []


def rows_of_buttons(panel):
    return len({round(b.bounding_box()["y"]) for b in panel.locator(".fp-options > *").all()})


def test_the_teachers_phone_reads_what_is_written_before_the_class_sees_it(lesson, phones):
    page, panel = lesson.page, panel_of(lesson)
    link = open_room(lesson)
    own, other = phones(link), phones(link)
    for phone in (own, other):
        phone.get_by_role("button", name="For the teacher").click()
        expect(phone.get_by_role("heading", name="For the teacher")).to_be_focused()
        assert violations(phone) == []
    code = own.locator(".code").inner_text()
    assert code != other.locator(".code").inner_text()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name="Teacher's phone").click()
    dialog.get_by_label("Its code").fill("12")
    dialog.get_by_role("button", name="Let it read").click()
    expect(dialog).to_contain_text("A code has six digits.")
    assert violations(page) == []
    dialog.get_by_label("Its code").fill(code)
    dialog.get_by_role("button", name="Let it read").click()
    expect(dialog).to_be_hidden()
    expect(own.get_by_role("heading", level=1)).to_have_text("What the class writes")
    expect(other.locator(".code")).to_have_count(0)
    expect(panel).to_contain_text("1 joined")
    lesson.next()
    ask(lesson, "What do you see at the cathode?")
    other.get_by_label("In your own words").fill("<i>boring</i>")
    send(other)
    expect(own.get_by_role("listitem")).to_contain_text("<i>boring</i>")
    expect(panel).to_contain_text("1 answered")
    panel.get_by_role("button", name="Show answers").click()
    expect(panel).to_contain_text("The teacher's phone shows what was written.")
    assert "boring" not in page.content()
    panel.get_by_role("button", name="Fold").click()
    own.get_by_role("button", name="Show: <i>boring</i>").click()
    expect(panel.get_by_role("listitem")).to_contain_text("<i>boring</i>")  # unfolded
    expect(own.get_by_role("button", name="Hide: <i>boring</i>")).to_be_focused()
    assert rows_of_buttons(panel) == 1
    assert violations(own) == []
    own.set_viewport_size({"width": 320, "height": 568})
    assert own.evaluate(SIDEWAYS) is False
    own.reload()
    own.get_by_role("button", name="Hide: <i>boring</i>").click()
    expect(panel.get_by_role("listitem")).to_have_count(0)
    own.get_by_role("button", name="Answer like the others").click()
    expect(own.get_by_role("button", name=re.compile("Send my answer"))).to_be_visible()
    expect(panel).to_contain_text("2 joined")
    for phone in (own, other):
        assert phone.complaints == []
    assert lesson.errors == []


def test_a_phone_survives_a_reload_a_lost_connection_and_a_deaf_one(lesson, phones):
    phone = phones(open_room(lesson))
    lesson.page.get_by_role("button", name="Go on").click()
    predict(phone, "hydrogen")
    kept = json.loads(phone.evaluate("() => localStorage.getItem('fizzplate.room')"))
    assert not kept["draft"]["values"]  # the room has it
    phone.reload()
    expect(phone.get_by_text(ARRIVED)).to_be_visible()
    cathode = phone.get_by_role("group", name="What forms at the cathode?")
    expect(cathode.get_by_label("hydrogen")).to_be_checked()
    cathode.get_by_label("sodium").check()  # begun, and not sent
    phone.reload()
    expect(cathode.get_by_label("sodium")).to_be_checked()
    expect(phone.get_by_text("You have changed your answer: send it again.")).to_be_visible()
    predict(phone, "hydrogen")
    phone.evaluate("() => sockets[sockets.length - 1].close()")
    phone.wait_for_function("() => sockets.length === 2 && sockets[1].readyState === 1")
    predict(phone, "sodium")
    phone.evaluate("() => { sockets[1].send = () => {}; }")  # as a phone that lost its network
    cathode.get_by_label("chlorine").check()
    phone.evaluate(KEEP_WHAT_IS_SAID)  # it may be back before anybody looks
    phone.get_by_role("button", name=re.compile("Send")).click()
    phone.wait_for_function(
        "() => said.some((text) => text.includes('Not sent yet'))"
    )  # no longer "Sending"
    expect(phone.get_by_text(ARRIVED)).to_be_visible()  # it noticed, came back and sent it again
    panel = panel_of(lesson)
    expect(panel).to_contain_text("1 joined · 1 answered")
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "What forms at the cathode?", "chlorine")).to_have_text("1")
    expect(counts(panel, "What forms at the cathode?", "sodium")).to_have_text("0")


def test_a_phone_begins_each_question_at_its_head_and_names_the_solution(lesson, phones):
    phone = phones(open_room(lesson))
    lesson.page.get_by_role("button", name="Go on").click()
    predict(phone, "hydrogen")
    assert phone.evaluate("() => scrollY") > 0  # the button is at the end
    lesson.page.get_by_role("button", name="CuSO₄", exact=True).click()
    expect(lesson.page.get_by_role("radio", name="copper").first).to_be_visible()
    ask(lesson, "Prediction at each electrode")  # of the same title
    expect(phone.get_by_text("CuSO₄", exact=True)).to_be_visible()
    title = phone.get_by_role("heading", level=1)
    expect(title).to_be_focused()
    assert phone.evaluate("() => scrollY") == 0
    phone.get_by_role("radio").first.check()
    panel_of(lesson).get_by_role("button", name="Stop answers").click()
    expect(phone.get_by_text("This round is closed.")).to_be_visible()
    expect(phone.get_by_text("CuSO₄", exact=True)).to_be_visible()


def test_a_magnified_page_still_steers_and_closes_its_room(lesson, phones):
    page, panel = lesson.page, panel_of(lesson)
    link = open_room(lesson)
    page.get_by_role("button", name="Go on").click()
    phone = phones(link)
    predict(phone, "hydrogen")
    page.set_viewport_size({"width": 480, "height": 270})  # the projector's, at 400 %
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "What forms at the cathode?", "hydrogen")).to_have_text("1")
    assert page.evaluate(SIDEWAYS) is False
    assert page.evaluate(BEYOND) == []
    page.get_by_role("button", name="Show the code").click()
    page.get_by_role("dialog").get_by_role("button", name="Go on").click()
    panel.get_by_role("button", name="Close the room").click()
    expect(panel).to_be_hidden()
    expect(page.get_by_role("button", name="Ask the class")).to_be_hidden()
    page.set_viewport_size(PROJECTOR)


def test_an_answer_that_cannot_be_taken_goes_once_and_is_said(lesson, phones):
    phone = phones(open_room(lesson))
    lesson.page.get_by_role("button", name="Go on").click()
    lesson.next()
    ask(lesson, "What do you see at the cathode?")
    words = phone.get_by_label("In your own words")
    words.fill("\u200b")  # nothing that can be seen
    phone.evaluate(
        """() => {
          window.said = [];
          const own = sockets[0].send;
          sockets[0].send = (message) => { said.push(message); own.call(sockets[0], message); };
        }"""
    )
    phone.get_by_role("button", name=re.compile("Send")).click()
    expect(phone.get_by_text("could not be taken")).to_be_visible()
    words.fill("bubbles")
    send(phone)
    sent = phone.evaluate("() => said.filter((message) => message.includes('answer')).length")
    assert sent == 2
    assert phone.evaluate("() => sockets.length") == 1
    assert phone.complaints == []


def test_the_teachers_page_reloads_and_finds_its_room(lesson, phones):
    page = lesson.page
    phone = phones(open_room(lesson))
    page.get_by_role("button", name="Go on").click()
    predict(phone, "hydrogen")
    panel = panel_of(lesson)
    expect(panel).to_contain_text("1 joined · 1 answered")
    save = panel.get_by_role("button", name="Save what the class said")
    expect(save).to_have_count(0)  # nothing was shown
    panel.get_by_role("button", name="Show answers").click()
    expect(save).to_be_visible()
    page.reload()
    expect(panel).to_contain_text("1 joined · 1 answered")
    rows = what_the_class_said(lesson)  # as it was shown before
    assert ["hydrogen", "1", "", "", ""] in [row[3:] for row in rows]
    panel.get_by_role("button", name="Close the room").click()
    expect(phone.get_by_text("The room has been closed")).to_be_visible()
    expect(panel).to_be_hidden()
    assert phone.evaluate("() => localStorage.length") == 0


def test_a_phone_is_light_and_fits_its_narrowest_screen_by_keyboard_and_screen_reader(
    lesson, phones
):
    link = open_room(lesson)
    lesson.page.get_by_role("button", name="Go on").click()
    phone = phones(link)
    phone.set_viewport_size({"width": 320, "height": 568})
    expect(phone.get_by_role("heading", level=1)).to_have_text("What will form at each electrode?")
    assert phone.evaluate(SIDEWAYS) is False
    assert violations(phone) == []
    assert len(phone.asked) <= 5
    group = phone.get_by_role("group", name="What forms at the cathode?")
    phone.keyboard.press("Tab")
    expect(group.get_by_role("radio").first).to_be_focused()
    phone.keyboard.press("Space")
    for _ in range(3):
        phone.keyboard.press("Tab")
    expect(phone.get_by_role("button", name="Send my answer")).to_be_focused()
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("status").filter(has_text="arrived")).to_be_visible()
    for step, question in [
        ("Watch", "What do you see at the cathode?"),
        ("Explain", "Half-equations"),
    ]:
        lesson.page.get_by_role("navigation", name="Steps").get_by_role(
            "button", name=re.compile(step)
        ).click()
        lesson.expect_step(step)
        ask(lesson, question)
        expect(phone.get_by_role("button", name="Send my answer")).to_be_visible()
        assert phone.evaluate(SIDEWAYS) is False
        assert violations(phone) == []
    assert len(phone.asked) <= 5
    assert phone.complaints == []


def test_the_panel_and_the_dialog_are_accessible(lesson, phones):
    page = lesson.page
    page.get_by_role("button", name="Ask the class").click()
    expect(page.get_by_role("dialog")).to_be_visible()
    assert violations(page) == []
    page.get_by_role("button", name="Not now").click()
    phone = phones(open_room(lesson))
    assert violations(page) == []
    page.get_by_role("button", name="Go on").click()
    predict(phone, "hydrogen")
    panel_of(lesson).get_by_role("button", name="Show answers").click()
    expect(panel_of(lesson).get_by_role("button", name="Hide answers")).to_be_focused()
    assert violations(page) == []


def test_every_question_of_a_set_is_asked_or_said_to_be_left_out(open_at, address_of, phones):
    """A longer answer on paper, a question in parts, and the set at each phone's own pace."""
    link = f"{address_of('revise')}?set=36&count=6&level=14&style=board"
    seen = SimpleNamespace(page=open_at(link))
    seen.page.get_by_role("heading", name="Question 1 of 6").wait_for(timeout=LOADING_MS)
    page, panel = seen.page, panel_of(seen)
    phone = phones(open_room(seen))
    phone.set_viewport_size({"width": 320, "height": 568})
    page.get_by_role("button", name="Go on").click()
    rounds = panel.get_by_label("Ask another question")
    on_paper = rounds.locator("option", has_text="Question 1 is answered on paper")
    expect(on_paper).to_be_disabled()
    page.get_by_role("button", name="Reveal the answer").click()
    ask(seen, "Question 1: The level of your own answer")
    phone.get_by_label("Level 2").check()
    send(phone)
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "The level of your own answer", "Level 2")).to_have_text("1")
    for press in ("Next question", "Reveal the answer", "Next question"):
        page.get_by_role("button", name=press).click()
    expect(page.get_by_role("heading", name="Question 3 of 6")).to_be_visible()
    ask(seen, "Question 3 (b)")
    expect(phone.get_by_role("heading", level=1)).to_have_text("Question 3 (b)")
    expect(phone.locator(".stem")).to_contain_text("pure copper")  # what its parts are about
    phone.get_by_role("radio").first.check()
    send(phone)
    panel.get_by_role("button", name="Show answers").click()
    page.get_by_role("button", name="Reveal the answer").click()
    expect(panel).to_contain_text(re.compile(r"[01] of 1 right"))
    ask(seen, "At each phone's own pace: questions 1 to 6, without 1")
    expect(phone.get_by_role("heading", level=1)).to_have_text(
        "At your own pace: questions 1 to 6, without 1"
    )
    expect(phone.get_by_text("answered on paper")).to_be_visible()
    assert phone.evaluate(SIDEWAYS) is False
    assert violations(phone) == []
    for group in phone.get_by_role("group").filter(has=phone.get_by_role("radio")).all():
        group.get_by_role("radio").last.check()
    send(phone)
    panel.get_by_role("button", name="Show answers").click()
    panel.get_by_role("button", name="Stop answers").click()
    expect(panel).to_contain_text(re.compile(r"Fewest are right in question \d: [01] of 1"))
    panel.get_by_role("button", name="Put it on the board").click()
    expect(page.get_by_role("heading", name="Question 2 of 6")).to_be_focused()
    expect(panel.get_by_role("button", name="Watch it in a cell").first).to_be_visible()
    panel.get_by_role("button", name="Close the room").click()
    assert phone.complaints == []


def test_a_set_is_worked_through_together(open_at, address_of, phones):
    """Paced by the teacher, and then at each phone's own pace."""
    link = f"{address_of('revise')}?set=3&count=3&level=14&topics=products&style=board"
    seen = SimpleNamespace(page=open_at(link))
    seen.page.get_by_role("heading", name="Question 1 of 3").wait_for(timeout=LOADING_MS)
    page, panel = seen.page, panel_of(seen)
    phone = phones(open_room(seen))
    page.get_by_role("button", name="Go on").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Question 1")
    phone.get_by_role("radio").first.check()
    send(phone)
    expect(panel).to_contain_text("1 answered")
    panel.get_by_role("button", name="Show answers").click()
    expect(panel.get_by_role("table")).to_be_visible()
    assert "right" not in panel.inner_text()
    page.get_by_role("button", name="Reveal the answer").click()
    expect(panel).to_contain_text(re.compile(r"[01] of 1 right \((0|100) %\)"))
    ask(seen, "At each phone's own pace: questions 1 to 3")
    expect(phone.get_by_role("heading", level=1)).to_contain_text("At your own pace")
    phone.get_by_role("radio").first.check()
    send(phone)
    panel.get_by_role("button", name="Show answers").click()
    assert "right" not in panel.inner_text()
    panel.get_by_role("button", name="Stop answers").click()
    expect(panel).to_contain_text(re.compile(r"[01] of 1 right"))
    saved = what_the_class_said(seen)
    assert any(re.fullmatch(r"[01] of 1 right \((0|100) %\)", row[3]) for row in saved)
    assert violations(page) == []
    panel.get_by_role("button", name="Close the room").click()
    expect(phone.get_by_text("The room has been closed")).to_be_visible()


def test_a_graph_goes_to_the_phone_with_its_questions(open_at, address_of, phones):
    link = f"{address_of('revise')}?set=1&count=5&level=14&topics=charts&style=board"
    seen = SimpleNamespace(page=open_at(link))
    seen.page.get_by_role("heading", name="Question 1 of 5").wait_for(timeout=LOADING_MS)
    phone = phones(open_room(seen), color_scheme="dark")
    seen.page.get_by_role("button", name="Go on").click()
    ask(seen, "At each phone's own pace: questions 1 to 5")
    graphs = phone.locator("form img")
    expect(graphs).to_have_count(5)
    assert graphs.evaluate_all("all => all.every((each) => each.complete && each.naturalWidth)")
    expect(graphs.first).to_have_attribute("alt", re.compile("Time, minutes"))
    assert len({each for each in phone.asked if not each.startswith("data:")}) <= 5
    assert phone.evaluate(SIDEWAYS) is False
    assert violations(phone) == []
    phone.reload()
    expect(graphs).to_have_count(5)
    phone.locator("form").get_by_role("textbox").first.fill("12")
    send(phone)
    panel_of(seen).get_by_role("button", name="Close the room").click()
    assert phone.complaints == []
