"""A result of earlier settings is marked as old, for eyes and ears, until the new one is there."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect
from tests.browser.test_measure import PASTE
from tests.browser.visit import LOADING_MS, violations

SHEET = "A\t8.214\t8.292\t9.105\t9.018\t0.20\t20\nB\t7.906\t8.063\t8.871\t8.702\t0.40\t20\n"
# keeps what was said in the page's live regions, and when, and whether something was marked as being made
RECORD = """() => {
  const began = performance.now();
  window.seen = [];
  new MutationObserver(() => {
    const said = [...document.querySelectorAll('[role=status]')].map((node) => node.textContent).join(' ');
    const busy = document.querySelector('[aria-busy=true]') !== null;
    const page = document.querySelector('.fp-page').innerText;
    window.seen.push({ said, busy, page, ms: performance.now() - began });
  }).observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
}"""


@pytest.fixture(scope="module")
def host(address_of):
    return address_of("/")


@pytest.fixture
def opened(open_at, host):
    def open_page(path, role, name):
        page = open_at(host + path)
        page.get_by_role(role, name=name).first.wait_for(timeout=LOADING_MS)
        return page

    return open_page


def seen_busy(page, words):
    """Tell whether something was marked as being made while these words were said."""
    return page.evaluate("(words) => seen.some((at) => at.busy && at.said.includes(words))", words)


def type_into(page, label, value):
    field = page.get_by_role("textbox", name=label, exact=True)
    field.fill(value)
    field.press("Tab")


def test_masses_come_at_once_and_what_needs_a_run_is_old_until_it_has_come(opened):
    page = opened("prepare?cells=CuSO4", "tab", "Bottle labels")
    expect(page.locator(".fp-prepared")).to_contain_text("124.8 g")
    page.evaluate(RECORD)
    type_into(page, "Concentration, mol/dm³", "0.37")
    expect(page.locator(".fp-prepared")).to_contain_text("92.4 g")
    expect(page.get_by_text("Calculating the new results")).to_be_visible()
    expect(page.get_by_role("button", name="Print this sheet")).to_be_disabled()
    assert violations(page) == []
    expect(page.get_by_text("Calculating the new results")).to_have_count(0)
    expect(page.get_by_role("button", name="Print this sheet")).to_be_enabled()
    expect(page.locator(".fp-printing")).to_contain_text("92.4 g")
    assert seen_busy(page, "Calculating the new results")
    masses_ms, rest_ms = page.evaluate(
        """() => [
          seen.find((at) => at.page.includes('92.4\u00a0g')).ms,
          seen.find((at, k) => seen[k - 1]?.busy && !at.busy).ms,
        ]"""
    )
    assert masses_ms < rest_ms / 2  # they do not wait for runs
    type_into(page, "Groups", "30")
    expect(page.locator(".fp-printing")).to_contain_text("30 groups")


def test_another_cell_is_awaited(opened):
    page = opened("demonstrate?cells=CuSO4;NaCl&ask=off", "article", "Anode")
    page.get_by_role("button", name="Switch on").click()
    page.get_by_role("button", name="Switch off").wait_for()
    page.evaluate(RECORD)
    page.get_by_role("button", name="NaCl").click()
    page.get_by_role("button", name="Switch on").wait_for()
    assert seen_busy(page, "Calculating")
    expect(page.locator(".fp-bench")).to_have_attribute("aria-busy", "false")


def test_a_fit_is_old_until_the_new_one_is_there(opened):
    page = opened("measure", "table", "One row for each group")
    page.evaluate(PASTE, ["Group, row 1", SHEET])
    constant = page.get_by_text("The class's Faraday constant")
    constant.first.wait_for()
    before = constant.first.inner_text()
    page.evaluate(RECORD)
    page.get_by_role("textbox", name="Current, row 2").fill("0.42")
    expect(constant.first).not_to_have_text(before)
    expect(page.locator(".fp-outdated")).to_have_count(0)
    assert seen_busy(page, "Calculating the new results")


def test_another_set_is_awaited(opened):
    page = opened("revise?set=1", "button", "Mark it")
    before = page.locator(".fp-question").inner_text()
    page.evaluate(RECORD)
    page.get_by_role("button", name="Another set like this").click()
    expect(page.locator(".fp-question")).not_to_have_text(before)
    assert seen_busy(page, "Making the new set")
    expect(page.locator(".fp-quiz [aria-busy=true]")).to_have_count(0)
    expect(page.get_by_text("Making the new set")).to_have_count(0)
