"""Small modules become one that a widget can load."""

import posixpath
import re
import subprocess
from collections import Counter
from importlib import resources

import pytest

from fizzplate import views
from fizzplate.views.web.module_joining import in_order, join_in_a_scope, join_modules


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


def run(program):
    """What Node prints when it runs a module's text."""
    command = ["node", "--input-type=module"]
    ran = subprocess.run(command, input=program, capture_output=True, text=True, check=True)
    return ran.stdout.split()


def test_the_joined_module_has_one_export_and_no_import(folder):
    text = join_modules("b/main.js", render="draw", files=folder)
    assert re.findall(r"^(?:import|export).*$", text, re.MULTILINE) == [
        "export default { render: b$main$js.draw };"
    ]


def test_data_that_a_module_imports_stand_in_the_joined_module(folder):
    (folder / "data.json").write_text('{\n  "one": "a\\\\b",\n  "import": [1, 2]\n}\n')
    (folder / "b" / "main.js").write_text(
        'import HELD from "../data.json" with { type: "json" };\n'
        "export function draw() {\n  return [HELD.one, HELD.import[1]].join();\n}\n"
    )
    scope = join_in_a_scope("b/main.js", function="draw", files=folder)
    assert "const HELD = {" in scope
    assert run(f"{scope}\nconsole.log(draw());") == ["a\\b,2"]


def test_files_that_use_one_name_for_two_things_run_together(folder):
    (folder / "a" / "one.js").write_text(
        "const size = 3;\nconst hidden = 10;\n"
        "export function* ones() {\n  yield size;\n}\n"
        "export async function hiddenOf() {\n  return hidden;\n}\n"
    )
    (folder / "b" / "two.js").write_text(
        'import {\n  ones,\n} from "../a/one.js";\n'
        "const size = 100;\nexport const total = size + [...ones()][0];\n"
    )
    (folder / "b" / "main.js").write_text(
        'import { hiddenOf as other } from "../a/one.js";\nimport { total } from "./two.js";\n'
        "const size = 1000;\n"
        "export async function draw() {\n  return size + total + (await other());\n}\n"
    )
    module = join_modules("b/main.js", render="draw", files=folder)
    drawn = module.replace("export default", "const widget =")
    assert run(f"{drawn}\nconsole.log(await widget.render(), typeof size);") == [
        "1113",
        "undefined",
    ]
    scope = join_in_a_scope("b/main.js", function="draw", files=folder)
    assert run(f"{scope}\nconsole.log(await draw(), typeof size);") == ["1113", "undefined"]


def test_what_stands_in_a_file_stands_so_in_the_joined_module(folder):
    text = join_modules("b/main.js", render="draw", files=folder)
    assert "\nfunction draw() {\n  return one + two;\n}\n" in text  # as a debugger shows it


def test_an_import_of_what_is_not_exported_is_refused(folder):
    (folder / "b" / "two.js").write_text("const two = 2;\n")
    with pytest.raises(
        ValueError, match=r"b/main\.js imports two, which b/two\.js does not export"
    ):
        join_modules("b/main.js", render="draw", files=folder)


def test_a_circle_is_refused(folder):
    (folder / "a" / "one.js").write_text(
        'import { two } from "../b/two.js";\nexport const one = two;\n'
    )
    with pytest.raises(ValueError, match="circle"):
        in_order(folder, "b/main.js")


def test_a_form_that_cannot_be_joined_is_refused(folder):
    for form in ("export default 1;", "export let one = 1;", 'import "./b.js";'):
        (folder / "a" / "one.js").write_text(f"{form}\n")
        with pytest.raises(ValueError, match=r"a/one\.js cannot be joined"):
            join_modules("b/main.js", render="draw", files=folder)


#: rooms of JavaScript, each of which may import from those before it
ROOMS = (
    ("views/kit",),
    ("views/web", "views/scene", "views/workshop", "views/room"),
    ("views/bench/cards", "views/controls", "views/grid", "views/paper"),
    ("views/bench/lesson",),
    ("views/bench", "views/quiz"),
    ("views/asking",),
    ("views/inquiry",),
    ("share/takeaway",),
    ("share/site",),
)
MAX_MODULES = 16


def scripts():
    """Every JavaScript file with its text, by its path in the package."""
    with resources.as_file(resources.files("fizzplate")) as root:
        for file in sorted(root.rglob("*.js")):
            yield file.relative_to(root).as_posix(), file.read_text(encoding="utf-8")


def room_of(path):
    rooms = [room for level in ROOMS for room in level if path.startswith(f"{room}/")]
    assert rooms, f"{path} lies in no room of JavaScript"
    return max(rooms, key=len)


def test_rooms_of_javascript_import_one_way():
    level = {room: at for at, rooms in enumerate(ROOMS) for room in rooms}
    wrong = []
    for path, text in scripts():
        for imported in re.findall(
            r'(?:from |import\()"(\.[^"]+\.js)"', text
        ):  # also where only types are; data may stand in any room
            target = posixpath.normpath(posixpath.join(posixpath.dirname(path), imported))
            here, there = room_of(path), room_of(target)
            if here != there and level[there] >= level[here]:
                wrong.append(f"{path} imports {target}")
    assert not wrong


def test_no_room_of_javascript_holds_more_modules_than_a_reader_can_survey():
    folders = Counter(posixpath.dirname(path) for path, _ in scripts())
    assert {name: count for name, count in folders.items() if count > MAX_MODULES} == {}


def test_a_page_loads_no_comments_that_stand_on_lines_of_their_own(tmp_path):
    (tmp_path / "main.js").write_text(
        "// What it is.\n\n/** Its sum. @param {number} a */\nexport function sum(a) {\n"
        "  // why\n  /**\n   * more\n   */\n"
        "  const url = 'http://a.b'; // a unit\n  return /** @type {any} */ (a);\n}\n"
    )
    assert join_modules("main.js", render="sum", files=tmp_path).splitlines()[2:6] == [
        "function sum(a) {",
        "  const url = 'http://a.b'; // a unit",
        "  return /** @type {any} */ (a);",
        "}",
    ]


def test_no_template_in_javascript_holds_a_line_that_looks_like_a_comment():
    """Joining leaves such lines out."""
    template = re.compile(r"`(?:\\.|[^`\\])*`")
    wrong = {
        path
        for path, text in scripts()
        for found in template.finditer(text)
        if re.search(r"^\s*(?://|/\*\*)", found[0], re.MULTILINE)
    }
    assert not wrong


def test_no_sentence_in_javascript_names_an_electrode_but_by_a_slot():
    """Codes and classes are one word; a name among other words is a sentence's."""
    literal = re.compile(
        r"""("(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|`(?:\\.|[^`\\])*`)|//[^\n]*|/\*(?s:.*?)\*/"""
    )
    named = re.compile(r"(?<![\w{-])(?:[Cc]ath|[Aa]n)odes?\b")
    found = {}
    for path, text in scripts():
        texts = [each[0] for each in literal.finditer(text) if each[1]]
        if hits := [each for each in texts if " " in each.strip() and named.search(each)]:
            found[path] = hits
    assert not found


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
    # what the results table judges by, and the button that loads the rest of a room
    assert others == files | {"workshop/judge.js", "room/opener.js"}
    assert join_modules("bench/bench.js", render="renderBench").count("export ") == 1
