"""The system's Chromium for a script that measures, without windows and what a browser does beside."""

from __future__ import annotations

import shutil
from contextlib import contextmanager

from playwright.sync_api import sync_playwright

BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser")
BROWSERS += ("google-chrome", "google-chrome-stable")
FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run"]
FLAGS += ["--disable-background-networking", "--disable-component-update", "--disable-sync"]


@contextmanager
def chromium():
    """Start it, and close it in the end."""
    path = next(filter(None, map(shutil.which, BROWSERS)))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield browser
        browser.close()
