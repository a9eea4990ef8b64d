"""Weigh a first and a second visit to each page, beside stock Voila with the same notebook.

    python tests/serving/compare_weight.py [page ...] [--quiet-ms 2000] [--server ADDRESS]

Chromium reaches the server through a stand-in that counts every byte on the wire, heads and both
directions included, compressed as they travel; websockets are counted apart. A visit lasts until the
page stands and less than 2 kB have passed in that time. The requests are those that the browser sent (what
it took from its own cache is not among them), and hosts other than the server's are named.
"""

from __future__ import annotations

import argparse
from urllib.parse import urlsplit

from chromium import chromium
from counting_proxy import counted
from servers import notebook_of, page_at, stock_voila

from fizzplate.lesson.state import PAGES

STANDS_MS = 120_000
QUIET_MS = 2_000
HEARTBEAT_BYTES = 2_000
KB, MB = 1e3, 1e6
AIMS = {"first": 2.5 * MB, "requests": 40, "second": 150 * KB, "websocket": 600 * KB}


class Visitor:
    """A browser that has never been here, with the requests that left it."""

    def __init__(self, browser, address, count, quiet_ms):
        self._quiet_ms = quiet_ms
        self._context = browser.new_context()
        self._page = self._context.new_page()
        self._address, self._count = address, count
        self._sent, self._cached = {}, set()
        wire = self._context.new_cdp_session(self._page)
        wire.on("Network.requestWillBeSent", self._note)
        wire.on("Network.requestServedFromCache", lambda e: self._cached.add(e["requestId"]))
        wire.on("Network.responseReceived", self._look)
        wire.send("Network.enable")

    def _note(self, event):
        self._sent[event["requestId"]] = event["request"]["url"]

    def _look(self, event):
        if event["response"].get("fromDiskCache"):
            self._cached.add(event["requestId"])

    def visit(self):
        """Open the page; give requests, bytes of HTTP and of websockets, and hosts elsewhere."""
        self._page.goto("about:blank")
        self._page.wait_for_timeout(
            self._quiet_ms
        )  # whatever the old page still said is not counted
        self._sent.clear()
        self._cached.clear()
        before = self._count.http, self._count.websocket
        self._page.goto(self._address, timeout=STANDS_MS)
        self._page.locator(".fp-page").first.wait_for(timeout=STANDS_MS)
        self._rest()
        sent = {key: url for key, url in self._sent.items() if key not in self._cached}
        hosts = {urlsplit(url).netloc for url in sent.values() if url.startswith("http")}
        return {
            "requests": sum(url.startswith("http") for url in sent.values()),
            "http": self._count.http - before[0],
            "websocket": self._count.websocket - before[1],
            "foreign": hosts - {urlsplit(self._address).netloc},
            "urls": sorted(sent.values()),
        }

    def _rest(self):
        """Wait until next to nothing passes any more; a page asks now and then whether all is well."""
        for _ in range(STANDS_MS // self._quiet_ms):
            before = self._count.http + self._count.websocket
            self._page.wait_for_timeout(self._quiet_ms)
            if self._count.http + self._count.websocket - before < HEARTBEAT_BYTES:
                return

    def close(self):
        """Forget it all."""
        self._context.close()


def weigh(browser, address, quiet_ms):
    """Visit a page twice."""
    with counted(address) as (way, count):
        visitor = Visitor(browser, way, count, quiet_ms)
        first, second = visitor.visit(), visitor.visit()
        visitor.close()
    return first, second


def line(name, first, second):
    """Print the figures of a page."""
    print(
        f"{name:24}{first['requests']:9d}{first['http'] / MB:10.2f}{first['websocket'] / KB:11.0f}"
        f"{second['requests']:9d}{second['http'] / KB:10.0f}{second['websocket'] / KB:11.0f}  "
        f"{', '.join(sorted(first['foreign'] | second['foreign'])) or '-'}"
    )


def misses(page, first, second):
    """Say what is above its aim."""
    found = {
        "first": first["http"],
        "requests": first["requests"],
        "second": second["http"],
        "websocket": max(first["websocket"], second["websocket"]),
    }
    said = [f"{page}: {key} {found[key]:,.0f}" for key in AIMS if found[key] > AIMS[key]]
    hosts = first["foreign"] | second["foreign"]
    return said + [f"{page}: asks {host}" for host in sorted(hosts)]


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("pages", nargs="*", metavar="page", default=PAGES)
    chosen.add_argument("--quiet-ms", type=int, default=QUIET_MS)
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    heads = ("", "requests", "HTTP MB", "socket kB", "again", "HTTP kB", "socket kB")
    print("{:24}{:>9}{:>10}{:>11}{:>9}{:>10}{:>11}  other hosts".format(*heads))
    missed = []
    with chromium() as browser:
        for page in options.pages:
            with page_at(options.server, page) as address:
                ours = weigh(browser, address, options.quiet_ms)
            with stock_voila(notebook_of(page)) as (_, address):
                stock = weigh(browser, address, options.quiet_ms)
            line(f"{page}, fizzplate", *ours)
            line(f"{page}, stock Voila", *stock)
            ratios = [
                ours[k][key] / stock[k][key]
                for k in (0, 1)
                for key in ("requests", "http", "websocket")
            ]
            print(("{:24}{:9.2f}{:10.2f}{:11.2f}{:9.2f}{:10.2f}{:11.2f}").format("ratio", *ratios))
            missed += misses(page, *ours)
    print(
        "aimed at: 2.5 MB and 40 requests first, 150 kB of HTTP again, 600 kB of websocket, no other host"
    )
    print("\n".join(f"above its aim: {miss}" for miss in missed) or "all within")


if __name__ == "__main__":
    main()
