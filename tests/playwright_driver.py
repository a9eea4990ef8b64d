"""Playwright, started once in a process: a second one beside it refuses to start."""

from __future__ import annotations

import atexit
from functools import cache

from playwright.sync_api import sync_playwright


@cache
def playwright_driver():
    """Start Playwright for all tests of this process, and end it with the process."""
    driver = sync_playwright().start()
    atexit.register(driver.stop)
    return driver
