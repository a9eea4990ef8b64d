"""Break lines of the package at random, one at a time, and see which breaks the tests notice.

    python tests/breaks/break_lines.py                          150 breaks over all layers
    python tests/breaks/break_lines.py --seed 3 --each 5 cell lesson
    python tests/breaks/break_lines.py --again --log FILE       what survived by a log, once more

Works on a copy of the checkout, never on the checkout itself. For each layer a sample of lines is drawn
from the seed, and in each line one operator, number, condition or call is broken (``breaks_in_python.py``,
``breaks_in_javascript.py``, ``breaks_in_tables.py``). Then the tests of that room run (``rooms.py``) until
one fails. What nobody noticed is printed, with the share of each layer at the end. Every result is a line
of the log, so that a run that was stopped goes on where it was: the same command again.

``--control`` first runs all tests of the rooms on the unbroken copy: what fails there notices nothing.
"""

from __future__ import annotations

import argparse
import importlib
import json
import multiprocessing
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from importlib.util import cache_from_source
from pathlib import Path

import pytest
from breaks_in_javascript import javascript_breaks
from breaks_in_python import python_breaks
from breaks_in_tables import table_breaks
from rooms import LAYERS, commands_for, layer_of

ROOT = Path(__file__).parents[2]
PACKAGE = "widgets/fizzplate"
MODULES = "tests/javascript/node_modules"
FINDERS = {".py": python_breaks, ".js": javascript_breaks, ".csv": table_breaks}
EACH = {layer: 16 if layer in {"data", "words", "chemistry"} else 17 for layer in LAYERS}
EACH_FILE = {".csv"}  # a long table is no more important than a short one
MAX_WAIT_S = 900  # of waiting for a room's tests
MAX_TEST_S = 90  # of a processor, for one test: whatever takes longer does not end
#: without the plugins that these tests do not use
PYTEST = (
    *("-o", "addopts=--import-mode=importlib", "-p", "no:nbval", "-p", "no:xdist"),
    *("-p", "no:cacheprovider", "-q", "--no-header", "--tb=no", "-x"),
)
#: what nearly all tests import, loaded once; each trial is forked with it
LOADED = ("numpy", "hypothesis", "matplotlib.figure", "ipywidgets", "anywidget", "scipy.integrate")
FORK = multiprocessing.get_context("fork")


@dataclass(frozen=True)
class Break:
    """One line as it was and as it is broken."""

    layer: str
    file: str
    line: int
    start: int
    end: int
    now: str
    was_line: str
    now_line: str

    def made_in(self, text):
        """Return a file's text with the break."""
        return text[: self.start] + self.now + text[self.end :]


def breaks_of(root, file):
    """Give the breaks of a file by line, each with the line as it was and is."""
    text = (root / file).read_text(encoding="utf-8")
    found = defaultdict(list)
    for start, end, now in FINDERS[Path(file).suffix](text):
        line = text.count("\n", 0, start) + 1
        first = text.rfind("\n", 0, start) + 1
        last = text.find("\n", end) % (len(text) + 1)
        was, became = text[first:last], text[first:start] + now + text[end:last]
        made = Break(layer_of(file), file, line, start, end, now, was.strip(), became.strip())
        found[line].append(made)
    return found


def files_of(root):
    """List the files of the package that can be broken."""
    every = (path for path in (root / PACKAGE).rglob("*") if path.suffix in FINDERS)
    return sorted(path.relative_to(root).as_posix() for path in every if path.name != "sources.csv")


def sample(root, layers, seed, each):
    """Draw lines of each layer, and a break in each; of tables, a table first and then a line."""
    places = defaultdict(list)
    for file in (each for each in files_of(root) if layer_of(each) in layers):
        places[layer_of(file)] += [(file, lines) for lines in breaks_of(root, file).values()]
    drawn = []
    for layer in layers:
        rng = random.Random(f"{seed} {layer}")  # noqa: S311
        of_file = Counter(file for file, _ in places[layer])
        weights = [
            1 / of_file[file] if Path(file).suffix in EACH_FILE else 1.0
            for file, _ in places[layer]
        ]
        # without a line twice: the largest of random keys, each the further up the more it weighs
        keys = [rng.random() ** (1 / weight) for weight in weights]
        order = sorted(range(len(keys)), key=lambda k: -keys[k])
        chosen = order[: each or EACH[layer]]
        drawn += [rng.choice(places[layer][k][1]) for k in chosen]
    return drawn


def survivors(root, log):
    """Find what survived by a log in the files as they are now; what is no more there is left out."""
    survived = {key for key, result in read(log).items() if not result["noticed"]}
    files = sorted({file for file, *_ in survived} & set(files_of(root)))
    found = [each for file in files for lines in breaks_of(root, file).values() for each in lines]
    return list(
        {_key(asdict(each)): each for each in found if _key(asdict(each)) in survived}.values()
    )


@contextmanager
def copied():
    """Give a copy of what the checkout holds, with its changes; the JavaScript packages are linked."""
    told = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    names = subprocess.run(told, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    with tempfile.TemporaryDirectory(prefix="breaks-") as folder:
        copy = Path(folder, "copy")
        for name in names.splitlines():
            if (ROOT / name).is_file():
                (copy / name).parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(ROOT / name, copy / name)
        if (ROOT / MODULES).is_dir():
            (copy / MODULES).symlink_to(ROOT / MODULES)
        yield copy


def noticed_by(copy, file, max_s=MAX_WAIT_S):
    """Run the tests of a file's room until one fails; return which, or nothing."""
    said = copy.parent / "said"
    for command, *arguments in commands_for(file):
        process = FORK.Process(target=_carry_out, args=(copy, said, command, arguments))
        process.start()
        try:
            process.join(max_s)
        finally:
            ended = not process.is_alive()
            if not ended:
                os.killpg(process.pid, signal.SIGKILL)
                process.join()
        if not ended:
            return f"no end of {command} {' '.join(arguments)} within {max_s:g} s"
        if process.exitcode == -signal.SIGVTALRM:
            return f"a test took more than {MAX_TEST_S} s of a processor"
        if process.exitcode:
            lines = said.read_text(encoding="utf-8", errors="replace").strip().splitlines()
            failed = [line for line in lines if line.startswith(("FAILED", "ERROR", "not ok"))]
            return (failed or lines or [f"{command} ended with {process.exitcode}"])[0][:200]
    return ""


def _carry_out(copy, said, command, arguments):
    """Carry one command out, in a process of its own whose package is the copy's."""
    os.setsid()  # so that all it starts can be ended with it
    with said.open("w", encoding="utf-8") as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)
    os.environ |= {"PYTHONPATH": str(copy / "widgets"), "TMPDIR": str(copy.parent)}
    sys.path[:0] = [str(copy), str(copy / "widgets")]
    os.chdir(copy)
    signal.setitimer(signal.ITIMER_VIRTUAL, MAX_TEST_S)
    if command == "node":
        os.chdir(copy / "tests" / "javascript")
        os.execvp("node", ["node", "--test", *arguments])  # noqa: S606
    elif command == "doctest":
        from tests.docstring_examples import failed_examples  # the copy's

        failed = failed_examples(*arguments)
        sys.stdout.flush()
        sys.exit("ERROR in the docstrings' examples" if failed else 0)
    else:
        sys.exit(int(pytest.main([*PYTEST, *arguments], plugins=[Timed()])))


class Timed:
    """End a process whose test takes too much of the processor."""

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self):
        signal.setitimer(signal.ITIMER_VIRTUAL, MAX_TEST_S)
        return (yield)


def tried(copy, each):
    """Break a line, run the tests of its room, and mend it again; return what noticed."""
    path = copy / each.file
    whole = path.read_text(encoding="utf-8")
    _write(path, each.made_in(whole))
    try:
        return noticed_by(copy, each.file)
    finally:
        _write(path, whole)


def _write(path, text):
    """Write a file; what Python compiled of it goes, since its date is good to a second only."""
    path.write_text(text, encoding="utf-8")
    Path(cache_from_source(path)).unlink(missing_ok=True)


def read(log):
    """Return the last result of each break in a log."""
    lines = log.read_text(encoding="utf-8").splitlines() if log.exists() else []
    results = map(json.loads, lines)
    return {_key(result): result for result in results}


def _key(result):
    return result["file"], result["was_line"], result["now_line"]


def report(results):
    """Print what survived, and the share noticed of each layer."""
    counts, noticed = Counter(), Counter()
    for each in results:
        counts[each["layer"]] += 1
        noticed[each["layer"]] += bool(each["noticed"])
        if not each["noticed"]:
            print(f"\nsurvived: {each['file']}:{each['line']}")
            print(f"  - {each['was_line']}\n  + {each['now_line']}")
    print(f"\n{'layer':14}{'breaks':>8}{'noticed':>9}{'share':>8}")
    rows = [(layer, counts[layer], noticed[layer]) for layer in LAYERS if counts[layer]]
    for layer, count, seen in [*rows, ("all", counts.total(), noticed.total())]:
        print(f"{layer:14}{count:8}{seen:9}{seen / max(count, 1):8.0%}")


def control(copy, breaks):
    """Run the rooms' tests on the unbroken copy; say what fails, once for each set of commands."""
    rooms = {tuple(commands_for(each.file)): each.file for each in breaks}
    failed = [said for file in rooms.values() if (said := noticed_by(copy, file))]
    print("\n".join(failed) or f"{len(rooms)} rooms pass unbroken", flush=True)
    return not failed


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("layers", nargs="*", metavar="layer", help=", ".join(LAYERS))
    chosen.add_argument("--seed", type=int, default=1)
    chosen.add_argument("--each", type=int, help="lines of each layer (150 in all without)")
    chosen.add_argument(
        "--log", type=Path, help="default: breaks-SEED.jsonl in the temporary folder"
    )
    chosen.add_argument("--again", action="store_true", help="try what survived by the log")
    chosen.add_argument("--control", action="store_true", help="run the tests unbroken first")
    chosen.add_argument("--list", action="store_true", help="print the sample and run nothing")
    options = chosen.parse_args()
    if set(options.layers) - set(LAYERS):
        chosen.error(f"layers are {', '.join(LAYERS)}")
    log = options.log or Path(tempfile.gettempdir(), f"breaks-{options.seed}.jsonl")
    if options.again:
        drawn = survivors(ROOT, log)
    else:
        drawn = sample(ROOT, options.layers or LAYERS, options.seed, options.each)
    if options.list:
        for each in drawn:
            print(
                f"{each.layer}  {each.file}:{each.line}\n  - {each.was_line}\n  + {each.now_line}"
            )
        return
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # what was copied and started goes too
    os.environ["OPENBLAS_NUM_THREADS"] = "1"  # one process is one processor
    for name in LOADED:
        importlib.import_module(name)
    known = read(log)
    with copied() as copy:
        if options.control and not control(copy, drawn):
            sys.exit(1)
        for number, each in enumerate(drawn, start=1):
            done = known.get(_key(asdict(each)))
            if done and (done["noticed"] or not options.again):
                continue
            began = time.monotonic()
            noticed = tried(copy, each)
            result = {**asdict(each), "noticed": noticed, "seconds": time.monotonic() - began}
            known[_key(result)] = result
            with log.open("a", encoding="utf-8") as file:
                file.write(json.dumps(result, ensure_ascii=False) + "\n")
            said = noticed or "SURVIVED"
            print(
                f"{number}/{len(drawn)} {each.file}:{each.line} {result['seconds']:.0f} s: {said}",
                flush=True,
            )
    report([known[_key(asdict(each))] for each in drawn])


if __name__ == "__main__":
    main()
