"""A real command and a real browser."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import sync_playwright

CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
HOW_TO_INSTALL = (
    "The browser tests need Chromium, which was not found. On Debian and Ubuntu: "
    "apt-get install chromium"
)


@pytest.fixture(scope="session")
def demonstrate_address():
    """Start the command as a user does, and give the address that it prints."""
    command = Path(sys.executable).with_name("fizzplate")
    process = subprocess.Popen(  # our own command
        [command, "--no-browser", "--port", "0"], stdout=subprocess.PIPE, text=True
    )
    try:
        yield process.stdout.readline().strip()
    finally:
        process.terminate()
        process.wait(timeout=30)


@pytest.fixture(scope="session")
def browser():
    """Start Debian's Chromium."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is None:
        pytest.fail(HOW_TO_INSTALL)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=CHROMIUM_FLAGS)
        yield started
        started.close()
