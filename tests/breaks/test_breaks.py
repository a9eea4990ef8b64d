"""What is broken on purpose is what a reader of the code would call a mistake, and nothing else."""

from __future__ import annotations

import ast
import random
import sys
from pathlib import Path

import pytest
from tests.printed import printed_by

sys.path.insert(0, str(Path(__file__).parent))

from break_lines import ROOT, breaks_of, files_of, sample
from breaks_in_javascript import javascript_breaks
from breaks_in_python import python_breaks
from breaks_in_tables import table_breaks
from rooms import PACKAGE, ROOMS, commands_for

PYTHON = '''"""3 + 4."""
import math
LIMIT: Final[int] = 3  # 5 of them
def first(x: Literal[1], y=0.5):
    """7 < 8."""
    if x and not y >= 2:
        note(f"{x + 1} is {9}", strict=True)
    return min(x, -y) if x in y else x ** 2
'''
JAVASCRIPT = """import { a } from "./a-1.js"; // 5 + 6
/** @param {number} x 3 */
const b = x > 2 ? /[0-9]+/.exec("1 + 2") : `${x + 1}`;
const c = Math.max(x, 0.5) / 2 === 4 && !(x >>> 1);
"""
TABLE = 'what,electrons,value,caveat\n"Cu, red",2,1e-4,good to 5 %\nnone,,0,\n'


def made(finder, text):
    """Return every line that a finder makes of a text, as it becomes."""
    lines = []
    for start, end, now in finder(text):
        broken = text[:start] + now + text[end:]
        was = text.splitlines()
        (changed,) = (new for old, new in zip(was, broken.splitlines(), strict=True) if old != new)
        lines.append(changed.strip())
    return lines


def test_in_python_operators_numbers_conditions_and_calls_are_broken():
    assert sorted(made(python_breaks, PYTHON)) == sorted(
        [
            "LIMIT: Final[int] = 4  # 5 of them",
            "def first(x: Literal[1], y=0.625):",
            "if x or not y >= 2:",
            "if x and y >= 2:",
            "if x and not y > 2:",
            "if x and not y >= 3:",
            "pass",
            "return max(x, -y) if x in y else x ** 2",
            "return min(x, y) if x in y else x ** 2",
            "return min(x, -y) if x not in y else x ** 2",
            "return min(x, -y) if x in y else x * 2",
            "return min(x, -y) if x in y else x ** 3",
        ]
    )


def test_in_javascript_comments_texts_and_patterns_are_left():
    assert sorted(made(javascript_breaks, JAVASCRIPT)) == sorted(
        [
            'const b = x >= 2 ? /[0-9]+/.exec("1 + 2") : `${x + 1}`;',
            'const b = x > 3 ? /[0-9]+/.exec("1 + 2") : `${x + 1}`;',
            "const c = Math.min(x, 0.5) / 2 === 4 && !(x >>> 1);",
            "const c = Math.max(x, 0.625) / 2 === 4 && !(x >>> 1);",
            "const c = Math.max(x, 0.5) * 2 === 4 && !(x >>> 1);",
            "const c = Math.max(x, 0.5) / 3 === 4 && !(x >>> 1);",
            "const c = Math.max(x, 0.5) / 2 !== 4 && !(x >>> 1);",
            "const c = Math.max(x, 0.5) / 2 === 5 && !(x >>> 1);",
            "const c = Math.max(x, 0.5) / 2 === 4 || !(x >>> 1);",
            "const c = Math.max(x, 0.5) / 2 === 4 && (x >>> 1);",
            "const c = Math.max(x, 0.5) / 2 === 4 && !(x >>> 2);",
        ]
    )


def test_in_tables_cells_that_are_numbers_are_broken():
    assert made(table_breaks, TABLE) == [
        '"Cu, red",3,1e-4,good to 5 %',
        '"Cu, red",2,0.000125,good to 5 %',
        "none,,1,",
    ]


def test_a_broken_module_can_still_be_read():
    files = [file for file in files_of(ROOT) if file.endswith(".py")]
    for file in random.Random(1).sample(files, 6):  # noqa: S311
        text = (ROOT / file).read_text(encoding="utf-8")
        for lines in breaks_of(ROOT, file).values():
            for each in lines:
                ast.parse(each.made_in(text))


@pytest.mark.parametrize("file", files_of(ROOT)[::5])
def test_a_file_has_tests_that_should_notice(file):
    tests = [
        name for command, *names in commands_for(file) if command == "pytest" for name in names
    ]
    assert tests
    assert all((ROOT / name).exists() for name in tests)


def test_a_room_is_of_some_file():
    files = [file.removeprefix(PACKAGE) for file in files_of(ROOT)]
    assert [room for room in ROOMS if not any(file.startswith(room) for file in files)] == []


def test_the_sample_is_the_same_for_a_seed():
    one, same, other = (sample(ROOT, ["chemistry"], seed, 5) for seed in (3, 3, 4))
    assert one == same != other
    assert len({(each.file, each.line) for each in one}) == 5


def test_by_hand_a_sample_is_printed_as_it_was_and_as_it_is_broken():
    printed = printed_by("breaks/break_lines.py", "--list", "--each", "2", "data", "share")
    heads = [line.split("  ")[0] for line in printed.splitlines() if line[0] != " "]
    assert heads == ["data", "data", "share", "share"]
    assert printed.count("\n  - ") == printed.count("\n  + ") == 4
