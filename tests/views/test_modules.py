"""Small modules become one that a widget can load."""

import re
from importlib import resources

import pytest

from fizzplate import views
from fizzplate.views.web.module_joining import in_order, join_modules


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    (tmp_path / "a" / "one.js").write_text(
        "export const one = 1;\nexport function twice(n) {\n  return 2 * n;\n}\n"
    )
    (tmp_path / "b" / "two.js").write_text(
        'import { one, twice } from "../a/one.js";\nexport const two = twice(one);\n'
    )
    (tmp_path / "b" / "main.js").write_text(
        'import { one } from "../a/one.js";\nimport { two } from "./two.js";\n'
        "export function draw() {\n  return one + two;\n}\n"
    )
    return tmp_path


def test_each_file_stands_once_and_after_what_it_needs(folder):
    assert in_order(folder, "b/main.js") == ["a/one.js", "b/two.js", "b/main.js"]


def test_the_joined_module_has_one_export_and_no_import(folder):
    text = join_modules("b/main.js", render="draw", files=folder)
    assert re.findall(r"^(?:import|export).*$", text, re.MULTILINE) == [
        "export default { render: draw };"
    ]


def test_a_name_defined_twice_is_refused(folder):
    (folder / "b" / "two.js").write_text("export const one = 3;\n")
    with pytest.raises(ValueError, match=r"one is defined both in a/one\.js and in b/two\.js"):
        join_modules("b/main.js", render="draw", files=folder)


def test_a_circle_is_refused(folder):
    (folder / "a" / "one.js").write_text(
        'import { two } from "../b/two.js";\nexport const one = two;\n'
    )
    with pytest.raises(ValueError, match="circle"):
        in_order(folder, "b/main.js")


def test_a_form_that_cannot_be_joined_is_refused(folder):
    (folder / "a" / "one.js").write_text("export default 1;\n")
    with pytest.raises(ValueError, match=r"a/one\.js cannot be joined"):
        join_modules("b/main.js", render="draw", files=folder)


def test_the_bench_joins_every_drawing_file_once():
    package = resources.files(views)
    with resources.as_file(package) as root:
        files = {
            file.relative_to(root).as_posix()
            for folder in ("bench", "scene")
            for file in (root / folder).rglob("*.js")
        }
    ordered = in_order(package, "bench/bench.js")
    assert len(ordered) == len(set(ordered))
    others = {name for name in ordered if not name.startswith("kit/")}
    assert others == files | {"workshop/judge.js"}  # what the results table judges by
    assert join_modules("bench/bench.js", render="renderBench").count("export ") == 1
