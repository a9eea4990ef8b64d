"""A phone that answers with its class: what it survives, how light it is, and how it is read and steered."""

from __future__ import annotations

import json
import re

from playwright.sync_api import expect
from tests.browser.class_phones import (
    ARRIVED,
    ask,
    counts,
    open_room,
    panel_of,
    predict,
    send,
)
from tests.browser.visit import (
    SIDEWAYS,
    violations,
)

#: from now on, ``said`` holds what the page said whenever it changed
KEEP_WHAT_IS_SAID = """() => {
  window.said = [];
  const keep = () => window.said.push(document.body.innerText);
  new MutationObserver(keep).observe(document.body, { subtree: true, childList: true, characterData: true });
}"""


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
