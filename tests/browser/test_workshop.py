"""The workshop judges in the page as Python does, and is used by keyboard without a program behind it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from playwright.sync_api import expect
from tests.browser.visit import expect_mended, expect_wrong, violations

from fizzplate.lesson import Wording
from fizzplate.lesson.equations.equation_judge import judge
from fizzplate.views.web.module_joining import join_modules
from fizzplate.views.web.theme import stylesheet
from fizzplate.views.workshop import plain_species, workshop_data

sys.path.insert(0, str(Path(__file__).parents[1] / "lesson"))
from equation_forms import accepted, refused, tasks  # shared with Python's own tests

LOAD = """async (text) => {
  const whole = text + '\\nexport const scopes = [workshop$judge$js, workshop$workshop$js];';
  const address = URL.createObjectURL(new Blob([whole], { type: 'text/javascript' }));
  Object.assign(window, ...(await import(address)).scopes);
}"""


@pytest.fixture
def page(windows):
    """Open a page that holds the workshop's module and nothing else."""
    opened = windows.lend(viewport={"width": 1000, "height": 800})
    opened.set_content(
        f"<!doctype html><html lang=en><title>workshop</title><style>{stylesheet()}</style>"
        "<body><main class=fp-page><h1>Workshop</h1></main></body></html>"
    )
    opened.evaluate(LOAD, join_modules("workshop/workshop.js", render="renderWorkshop"))
    yield opened
    windows.take_back(opened)


def test_the_page_judges_as_python_does(page):
    page.evaluate("(species) => Object.assign(window, { species })", plain_species())
    for name, task in tasks().items():
        answers = [text for text, _ in accepted(task)] + list(refused(task))
        answers = list(dict.fromkeys(answers))
        plain = {"accepted": [dict(net) for net in task.accepted], "goal": task.goal}
        here = [judge(text, task) for text in answers]
        there = page.evaluate(
            "([texts, task]) => texts.map((text) => judge(text, task, species))",
            [answers, plain],
        )
        for text, python, javascript in zip(answers, here, there, strict=True):
            assert javascript["code"] == python.code, (name, text)
            assert javascript["sentences"] == list(python.sentences), (name, text)


def test_a_cell_is_worked_through_by_keyboard(page):
    page.evaluate(
        "(data) => renderWorkshop({ model: { get: (name) => ({ data })[name], on() {}, off() {} }, "
        "el: document.querySelector('main') })",
        workshop_data(Wording()),
    )
    page.get_by_label("Cell").select_option(label="sodium chloride, NaCl")
    cathode = page.get_by_role("region", name="Cathode")
    field = cathode.get_by_role("textbox")
    field.fill("H+ + e- -> H2")
    field.press("Enter")
    expect(cathode.get_by_role("status")).to_contain_text("H atoms: 1 on the left, 2 on the right.")
    field.fill("")
    for tile in ("2", "H⁺", "+", "2", "e⁻", "→", "H₂"):
        cathode.get_by_role("button", name=tile, exact=True).press("Enter")
    cathode.get_by_role("button", name="Check").press("Enter")
    expect(cathode.get_by_role("status")).to_contain_text("Right")
    anode = page.get_by_role("region", name="Anode")
    for _ in range(4):
        anode.get_by_role("button", name="Hint").press("Enter")
    expect(anode.get_by_role("status")).to_contain_text("2Cl⁻ → Cl₂ + 2e⁻")
    expect(anode.get_by_role("button", name="Hint")).to_be_disabled()
    anode.get_by_role("textbox").fill("2Cl⁻ − 2e⁻ → Cl₂")
    anode.get_by_role("textbox").press("Enter")
    overall = page.get_by_role("region", name="Overall")
    overall.get_by_role("textbox").fill("2NaCl + 2Xx -> H2 + Cl2 + 2NaOH")
    overall.get_by_role("textbox").press("Enter")
    expect(overall.get_by_role("status")).to_contain_text("cannot be read")
    expect_wrong(overall.get_by_role("textbox"), "cannot be read")
    overall.get_by_role("textbox").fill("2NaCl + 2H2O -> H2 + Cl2 + 2NaOH")
    overall.get_by_role("textbox").press("Enter")
    expect(page.get_by_text("All equations of this cell are right.")).to_be_visible()
    expect_mended(overall.get_by_role("textbox"))
    assert violations(page) == []
