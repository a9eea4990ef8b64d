"""Start the command again and again, and say what the way to its first page takes.

    python tests/serving/compare_starts.py [starts]

Timed is from the command to its printed address, and to the Demonstrate page's HTML with its program at work.
"Work" is the processor time used until then: of the server, and of all that it started (above all the
warm parent, which works beside it). It says the same on a machine that does other things too.
"""

from __future__ import annotations

import argparse
import time
import urllib.request
from statistics import median

from memory import Family
from servers import fizzplate

ROW = "{:16.2f}{:12.2f}{:17.2f}{:18.2f}"


def start():
    """Start it once; give seconds to the address and to the page, and the work of both kinds."""
    begun = time.perf_counter()
    with fizzplate() as (process, address):
        listening_s = time.perf_counter() - begun
        with urllib.request.build_opener().open(address, timeout=120) as answer:
            answer.read()
        page_s = time.perf_counter() - begun
        family = Family(process.pid)
        used_s = family.processor_s()
        times = family.head.cpu_times()
        server_s = times.user + times.system
    return listening_s, page_s, server_s, used_s - server_s


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("starts", nargs="?", type=int, default=5)
    options = chosen.parse_args()
    print(
        "{:>16}{:>12}{:>17}{:>18}".format(
            "address, s", "page, s", "server work, s", "other work, s"
        )
    )
    made = []
    for _ in range(options.starts):
        made.append(start())
        print(ROW.format(*made[-1]), flush=True)
    print("medians\n" + ROW.format(*map(median, zip(*made, strict=True))))


if __name__ == "__main__":
    main()
