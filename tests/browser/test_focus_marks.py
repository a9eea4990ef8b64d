"""Where the keyboard is can be seen: on every page, in both rooms, at a desk and from the back row."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect
from tests.browser.visit import LOADING_MS, PHONE

from fizzplate.lesson.state import PAGES

PLAIN = ("", "nothing-here", "class-link")
LOOKS = {"light": {}, "dim": {"fpRoom": "dim"}, "projector": {"fpSize": "projector"}}
MAX_TAB_STOPS = 250

# window.focusMark() tells what has the keyboard and what is wrong with the mark round it: thinner than 3 px,
# too little contrast against what is on either side of it, or cut off by the window or by what scrolls
WATCH_MARKS = """() => {
  const seen = new Set();
  const channels = (text) => {
    const numbers = text.match(/[\\d.]+/g).map(Number);
    const scale = text.startsWith('color(') ? 255 : 1;
    return [...numbers.slice(0, 3).map((each) => each * scale), numbers[3] ?? 1];
  };
  const luminance = (colour) => {
    const linear = (each) => (each <= 0.04045 ? each / 12.92 : ((each + 0.055) / 1.055) ** 2.4);
    const [r, g, b] = colour.map((each) => linear(each / 255));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (one, other) => {
    const [less, more] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (more + 0.05) / (less + 0.05);
  };
  function groundOf(node) {
    for (let each = node; each; each = each.parentElement) {
      const colour = channels(getComputedStyle(each).backgroundColor);
      if (colour[3] > 0.95) return colour;
    }
    return [255, 255, 255, 1];
  }
  function marked(node) {
    for (let each = node; each && !each.matches('body, .fp-page'); each = each.parentElement) {
      const { outlineStyle, outlineWidth, opacity } = getComputedStyle(each);
      if (outlineStyle !== 'none' && parseFloat(outlineWidth) > 0 && Number(opacity) > 0) return each;
    }
    return null;
  }
  function cutBy(box) {
    const inside = (frame, x, y) =>
      (!x || (box.left > frame.left - 0.6 && box.right < frame.right + 0.6)) &&
      (!y || (box.top > frame.top - 0.6 && box.bottom < frame.bottom + 0.6));
    if (!inside({ left: 0, top: 0, right: innerWidth, bottom: innerHeight }, true, true)) return 'the window';
    for (let each = box.from; each && each !== document.body; each = each.parentElement) {
      const { display, overflowX, overflowY } = getComputedStyle(each);
      if (display === 'contents') continue;
      const outer = each.getBoundingClientRect();
      const [left, top] = [outer.left + each.clientLeft, outer.top + each.clientTop];
      const frame = { left, top, right: left + each.clientWidth, bottom: top + each.clientHeight };
      if (!inside(frame, overflowX !== 'visible', overflowY !== 'visible')) return each.className;
    }
    return '';
  }
  window.focusMark = () => {
    const node = document.activeElement;
    if (!node || node === document.body || seen.has(node)) return null;
    seen.add(node);
    const words = node.getAttribute('aria-label') ?? node.labels?.[0]?.textContent ?? node.textContent;
    const name = `${node.localName} ${words.trim().slice(0, 30)}`;
    const holder = marked(node);
    if (!holder) return { name, wrong: ['no mark'] };
    const { outlineColor, outlineOffset, outlineStyle, outlineWidth } = getComputedStyle(holder);
    const [width, offset] = [parseFloat(outlineWidth), parseFloat(outlineOffset)];
    const colour = channels(outlineColor);
    const wrong = [];
    if (outlineStyle !== 'solid' || width < 3) wrong.push(`${outlineWidth} ${outlineStyle}`);
    const [own, around] = [groundOf(holder), groundOf(holder.parentElement)];
    const beside = offset <= -width ? [own] : offset > 0 ? [around] : [own, around];
    const least = Math.min(...beside.map((ground) => contrast(colour, ground)));
    if (least < 3) wrong.push(`contrast ${least.toFixed(2)}`);
    const { left, top, right, bottom } = holder.getBoundingClientRect();
    const reach = offset + width;
    const across = { left: left - reach, right: right + reach };
    // of what no window can show whole, the top and the sides are seen
    const isTaller = bottom - top + 2 * reach > innerHeight && top < innerHeight / 2;
    const down = { top: top - reach, bottom: isTaller ? innerHeight : bottom + reach };
    const cut = cutBy({ ...across, ...down, from: holder.parentElement });
    if (cut) wrong.push(`cut off by ${cut}`);
    return { name, wrong };
  };
  window.colours = { channels, contrast, groundOf };
  // goes again where a walk has led, without the keys: the mark of what is focused after a key is seen too
  window.walkAgain = () => {
    const stops = [...seen];
    window.startWalk();
    return stops.filter((each) => each.isConnected && each.checkVisibility()).map((each) => {
      each.focus();
      return window.focusMark();
    });
  };
  window.startWalk = () => {
    seen.clear();
    document.activeElement.blur();
    getSelection().removeAllRanges();
    scrollTo(0, 0);
  };
}"""


@pytest.fixture
def opened(open_at, demonstrate_address):
    def open_page(path, **options):
        address = path if ":" in path else demonstrate_address.replace("demonstrate", path)
        page = open_at(address, **options)
        page.evaluate(WATCH_MARKS)
        return page

    return open_page


def walk(page):
    """Go through all that the keyboard reaches; give what it reached, and what was wrong there."""
    page.evaluate("() => window.startWalk()")
    marks, nothing_new = [], 0
    while len(marks) < MAX_TAB_STOPS and nothing_new < 2:  # past the end it begins at the top
        page.keyboard.press("Tab")
        found = page.evaluate("() => window.focusMark()")
        if found is None:
            nothing_new += 1
        else:
            marks.append(found)
    return [each["name"] for each in marks], wrong_of(marks)


def wrong_of(marks):
    """Say what is wrong with marks."""
    return [f"{each['name']}: {', '.join(each['wrong'])}" for each in marks if each["wrong"]]


def show_as(page, look):
    """Show the page as in a room or for the back row."""
    page.evaluate(
        "(look) => { for (const name of ['fpRoom', 'fpSize']) delete document.documentElement.dataset[name];"
        " Object.assign(document.documentElement.dataset, look); }",
        LOOKS[look],
    )


def walk_all_looks(page):
    """Walk in every look; give what was reached, and what was wrong in any."""
    show_as(page, "light")
    reached, found = walk(page)
    wrong = {"light": found} if found else {}
    for look in LOOKS.keys() - {"light"}:
        show_as(page, look)
        marks = page.evaluate("() => window.walkAgain()")
        assert len(marks) == len(reached), look
        if found := wrong_of(marks):
            wrong[look] = found
    return reached, wrong


# what stands on the page once nothing in it has changed for a fifth of a second: a run has come
DRAWN_ANEW = """() => new Promise((resolve) => {
  const look = new MutationObserver(() => { clearTimeout(waiting); waiting = setTimeout(end, 200); });
  const end = () => { look.disconnect(); resolve(); };
  let waiting = setTimeout(end, 200);
  setTimeout(end, 5000); // what plays changes for ever
  look.observe(document.body, { childList: true, subtree: true });
})"""


def unfold(page):
    """Open what is folded, and close the switches."""
    page.locator(".fp-page button").filter(visible=True).first.wait_for(timeout=LOADING_MS)
    for name in ("Lesson settings", "Settings", "Topics: all"):
        for each in page.get_by_role("button", name=name, exact=True).filter(visible=True).all():
            each.click()
            page.locator(".fp-unfolded").filter(visible=True).first.wait_for()
    for each in page.locator(".fp-folded-line").filter(visible=True).all():
        each.click()
    switch = page.get_by_role("button", name="Switch on", exact=True)
    if switch.count():
        switch.click()
        page.get_by_role("button", name="Switch off", exact=True).wait_for()
        page.evaluate(DRAWN_ANEW)


# what is wrong in the reader's own palette: controls without a border, pressed ones that look like the
# others, pictures drawn in colours that do not show on their ground
LOST_IN_PALETTE = """() => {
  const { channels, contrast, groundOf } = window.colours;
  const wrong = [];
  const isShown = (each) => each.checkVisibility();
  const shown = (selector) => [...document.querySelectorAll(selector)].filter(isShown);
  const nameOf = (node) => `${node.localName} ${node.className} ${node.textContent.trim().slice(0, 20)}`;
  const field = 'input:not([type=radio], [type=checkbox])';
  const edged = `.fp-page :is(button, select, textarea, label.fp-option, ${field})`;
  for (const node of shown(`${edged}, .pages a, .press`)) {
    if (node.matches('[type=range], .fp-open input, .fp-spoken')) continue;
    const { borderBottomWidth, borderTopWidth, borderTopColor, borderTopStyle } = getComputedStyle(node);
    const width = Math.max(parseFloat(borderTopWidth), parseFloat(borderBottomWidth));
    const colour = channels(borderTopColor);
    const grounds = [groundOf(node), groundOf(node.parentElement)];
    const isSeen = colour[3] > 0.95 && grounds.some((ground) => contrast(colour, ground) >= 3);
    const isThere = width >= 1 && borderTopStyle !== 'none';
    if (!isThere || !isSeen) wrong.push(`no border: ${nameOf(node)}`);
  }
  const states = ['checked', 'selected', 'pressed'].map((each) => `[aria-${each}=true]`).join(', ');
  const on = `${states}, .fp-chosen, .mod-active, .fp-option:has(:checked), li[data-chosen]`;
  for (const node of shown(`.fp-page :is(${on})`)) {
    const [own, around] = [groundOf(node), groundOf(node.parentElement)];
    if (contrast(own, around) < 3) wrong.push(`looks as if not pressed: ${nameOf(node)}`);
    const words = channels(getComputedStyle(node).color);
    if (contrast(words, own) < 4.5) wrong.push(`cannot be read: ${nameOf(node)}`);
  }
  for (const node of shown('.fp-page :is(canvas, figure svg)')) {
    const ink = document.createElement('i');
    ink.style.cssText = 'forced-color-adjust: none; color: var(--fp-ink)';
    node.parentElement.append(ink);
    const drawn = channels(getComputedStyle(ink).color);
    if (contrast(drawn, groundOf(node)) < 7) wrong.push(`drawn unseen: ${nameOf(node)}`);
    ink.remove();
  }
  return [...new Set(wrong)];
}"""


def lost_in_palette(page, scheme):
    """Say what is lost where the reader's own palette is light or dark."""
    page.emulate_media(forced_colors="active", color_scheme=scheme, reduced_motion="reduce")
    return page.evaluate(LOST_IN_PALETTE)


@pytest.mark.parametrize("path", PAGES)
def test_every_stop_of_the_keyboard_is_marked(opened, path):
    page = opened(f"{path}?set=1" if path == "revise" else path)  # else it asks for the age alone
    unfold(page)
    reached, wrong = walk_all_looks(page)
    print(path, len(reached))
    assert len(reached) > 20
    assert wrong == {}
    if path == "revise":  # what is picked stays picked in the reader's own palette
        page.get_by_role("radio").first.check()
        assert lost_in_palette(page, "light") == []
        assert walk(page)[1] == []


def test_every_stop_of_the_bench_and_of_its_panels_is_marked_and_stays_in_the_readers_palette(
    opened,
):
    page = opened("demonstrate")
    page.get_by_role("switch", name="All controls").click(timeout=LOADING_MS)
    unfold(page)
    reached, wrong = walk_all_looks(page)
    assert len(reached) > 20
    assert wrong == {}
    for electrode in ("Cathode", "Anode"):
        side_card = page.get_by_role("article", name=electrode)
        side_card.get_by_role("button", name="Show", exact=True).click()
    assert page.locator(".fp-page .mod-active").count() > 0
    page.get_by_role("button", name="Close-up", exact=True).click()
    for panel in ("Explain", "Test the gas", "Results table"):
        page.get_by_role("tab", name=panel).click()
        _, wrong = walk_all_looks(page)
        assert wrong == {}, (panel, wrong)
    page.get_by_role("button", name="Close-up", exact=True).click()
    for scheme, look in (
        ("dark", "light"),
        ("light", "dim"),
    ):  # the page's look against the palette
        show_as(page, look)
        for panel in ("Charts", "Explain", "Test the gas"):
            page.get_by_role("tab", name=panel).click()
            lost = lost_in_palette(page, scheme)
            assert lost == [], (panel, scheme, lost)
        assert walk(page)[1] == []
        track = page.get_by_role("slider").evaluate("(node) => getComputedStyle(node).appearance")
        assert track == "auto"  # a drawn track would not be there


@pytest.mark.parametrize("path", PLAIN)
def test_the_marks_of_the_other_pages_are_seen(opened, path):
    page = opened(path, color_scheme="light")
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        reached, wrong = walk(page)
        print(path, reached)
        assert wrong == []
        assert reached or path == "class-link"
    if path == "":
        assert lost_in_palette(page, "light") == []
        assert walk(page)[1] == []
        page.set_viewport_size(PHONE)
        page.wait_for_function("() => document.documentElement.scrollWidth <= innerWidth")
        assert page.complaints == []


def test_the_marks_of_a_page_to_take_away_are_seen(opened, file):
    page = opened(file.as_uri())
    page.locator("#cell button").filter(visible=True).first.wait_for()
    for part in ("Cell", "Equations", "Questions", "About"):
        link = page.get_by_role("link", name=part, exact=True)
        link.click()
        expect(link).to_have_attribute("aria-current", "page")  # the part before it has gone
        reached, wrong = walk_all_looks(page)
        assert len(reached) > 4
        assert wrong == {}, part
