"""A class's phones beside the projector, for tests of what both show."""

from __future__ import annotations

import csv
import re

from playwright.sync_api import expect

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


def rows_of_buttons(panel):
    return len({round(b.bounding_box()["y"]) for b in panel.locator(".fp-options > *").all()})
