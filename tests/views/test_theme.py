"""One file of tokens: what it promises of contrast holds in both rooms."""

import re
from importlib import resources
from pathlib import Path

import pytest

import fizzplate
from fizzplate.views.web.theme import chart_style, stylesheet, tokens

TEXT, GRAPHIC = 4.5, 3.0  # WCAG 2.2, 1.4.3 and 1.4.11


def luminance(colour):
    def linear(channel):
        return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.fixture(params=["light", "dark"])
def room(request):
    return getattr(tokens(), request.param)


@pytest.mark.parametrize("ground", ["paper", "panel"])
@pytest.mark.parametrize("name", ["ink", "quiet", "accent", "refusal"])
def test_text_can_be_read(room, name, ground):
    assert contrast(room[name], room[ground]) >= TEXT


@pytest.mark.parametrize("name", ["edge", "accent", "copper"])
def test_what_carries_meaning_can_be_seen(room, name):
    assert contrast(room[name], room["panel"]) >= GRAPHIC


@pytest.mark.parametrize("ground", ["accent", "graphite"])
def test_text_on_a_colour_can_be_read(room, ground):
    assert contrast(room[f"on-{ground}"], room[ground]) >= TEXT


def test_the_formula_on_every_ion_can_be_read():
    tints = dict(tokens().ions)
    ink = tints.pop("ink")
    for name, tint in tints.items():
        assert contrast(ink, tint) >= TEXT, name


def test_the_check_of_contrast_can_fail():
    with pytest.raises(AssertionError):
        assert contrast("#777777", "#888888") >= GRAPHIC


def test_hairlines_are_not_taken_for_something_that_carries_meaning(room):
    assert contrast(room["line"], room["paper"]) < GRAPHIC


def test_each_colour_of_the_light_room_stands_for_one_property():
    colours = list(tokens().light.values())
    assert len(colours) == len(set(colours))


def test_css_and_charts_come_from_the_same_tokens():
    style = chart_style()
    assert style["text.color"] == tokens().light["ink"]
    assert f"--fp-ink: {style['text.color']};" in stylesheet()
    assert style["svg.fonttype"] == "none"


def test_the_scene_takes_colours_of_the_look_from_the_theme_alone():
    """Another colour in the tokens, or the dim room, changes the whole picture."""
    names = {colour: name for name, colour in tokens().light.items()}
    names |= {
        f"{int(hexa[1:3], 16)}, {int(hexa[3:5], 16)}, {int(hexa[5:7], 16)}": name
        for hexa, name in names.items()
    }
    folder = Path(str(resources.files("fizzplate.views"))) / "scene"
    modules = {path.name: path.read_text("utf-8") for path in folder.rglob("*.js")}
    del modules["theme.js"]
    repeated = [(m, names[each]) for m, text in modules.items() for each in names if each in text]
    assert not repeated


def test_the_scene_falls_back_on_the_colours_of_the_tokens():
    """A picture without the page's style sheet, such as a test's, looks as it does on the page."""
    scene = resources.files("fizzplate.views").joinpath("scene", "theme.js").read_text("utf-8")
    (table,) = re.findall(r"const DEFAULT_COLOURS = \{(.*?)\};", scene, re.DOTALL)
    in_scene = dict(re.findall(r'"(--fp-[\w-]+)": "([^"]*)"', table))
    on_page = {}
    for name, value in re.findall(r"(--fp-[\w-]+): (#\w+);", stylesheet()):
        on_page.setdefault(name, value)  # the light room comes first
    assert "--fp-ion-other" in in_scene
    assert in_scene == {name: on_page.get(name) for name in in_scene}


def test_type_and_distances_have_one_scale_and_the_projector_its_own_sizes():
    css = stylesheet()
    ordinary, projected = css.split("@media screen")
    for name, (px, projector_px) in tokens().scale.items():
        assert f"--fp-type-{name}: {px}px;" in ordinary
        found = re.search(rf"--fp-type-{name}: clamp\((\d+)px, ([\d.]+)vw, (\d+)px\);", projected)
        least, share, most = map(float, found.groups())
        assert share * 1920 / 100 == pytest.approx(projector_px, abs=0.02)
        assert px < least < projector_px < most
    assert [px for px, _ in tokens().scale.values()] == [14, 16, 20, 24]
    assert [px for _, px in tokens().scale.values()] == [20, 26, 34, 46]
    assert list(tokens().space.values()) == [2, 4, 8, 12, 18, 28]
    for name, px in tokens().space.items():
        assert f"--fp-space-{name}: {px}px;" in ordinary


#: sizes that a stylesheet may use: by the scale's names, or what is around it
OF_THE_SCALE = (
    r"(\d+ )?(var\(--fp-type-[a-z-]+\)|inherit|0)"
    r"(/[\d.]+| / [\d.]+)?( var\(--fp-family\)| [a-z-]+, .*)?( !important)?"
)


def _own_stylesheets():
    package = Path(fizzplate.__file__).parent
    return sorted([*package.rglob("*.css"), *package.glob("share/jupyter/**/fizzplate/*.html")])


@pytest.mark.parametrize("path", _own_stylesheets(), ids=lambda path: path.name)
def test_no_stylesheet_has_a_size_of_type_outside_the_scale(path):
    sizes = re.findall(r"(?<![-\w])font(?:-size)?:\s*([^;}]+)", path.read_text(encoding="utf-8"))
    assert [each for each in sizes if not re.fullmatch(OF_THE_SCALE, each.strip())] == []
    named = set(re.findall(r"var\(--fp-type-([a-z-]+)\)", " ".join(sizes)))
    known = set(re.findall(r"--fp-type-([a-z-]+):", stylesheet()))
    assert named <= known
    # a part that is drawn larger as a whole gives the names other sizes, never new names
    given = set(re.findall(r"--fp-type-([a-z-]+):", path.read_text(encoding="utf-8")))
    assert given <= known


DISTANCE = re.compile(
    r"(?<![-\w@])(?:margin|padding)(?:-(?:top|right|bottom|left|block|inline)(?:-(?:start|end))?)?"
    r":\s*([^;{}]+)|(?<![-\w])(?:row-|column-)?gap:\s*([^;{}]+)"
)
#: a distance: by the scale's names, also within a sum with what has a size of its own; a place kept free for
#: something else, or the indent of a list, in the letters' size; on paper in its own units
OF_THE_SPACES = re.compile(
    r"0|auto|var\(--fp-space-[a-z]+\)|calc\(.*var\(--fp-space-[a-z]+\).*\)|clamp\(var\(--fp-space-.*\)"
    r"|\d\d(\.\d+)?em|1\.\d+em|-?[\d.]+(pt|mm)|calc\(\d+pt \* var\(--fp-room, 1\)\)"
)


def distances_off_the_scale(css):
    """Return what a stylesheet's margins, paddings and gaps hold that is none of the scale."""
    css = re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL)
    found = [each for pair in DISTANCE.findall(css) for each in pair if each]
    parts = [
        part
        for each in found
        for part in re.findall(
            r"[a-z]+\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)|[^\s]+", each.replace("!important", "")
        )
    ]
    return [part for part in parts if not OF_THE_SPACES.fullmatch(part)]


@pytest.mark.parametrize("path", _own_stylesheets(), ids=lambda path: path.name)
def test_no_stylesheet_has_a_distance_outside_the_scale(path):
    css = path.read_text(encoding="utf-8")
    assert distances_off_the_scale(css) == []
    assert set(re.findall(r"var\(--fp-space-([a-z]+)\)", css)) <= set(tokens().space)


@pytest.mark.parametrize("name", ["fizzplate/frame.html", "phone/phone.css"])
def test_a_page_without_the_stylesheet_gives_every_distance_a_size(name):
    (path,) = (each for each in _own_stylesheets() if each.as_posix().endswith(name))
    css = path.read_text(encoding="utf-8")
    assert set(re.findall(r"--fp-space-([a-z]+):", css)) == set(tokens().space)


def test_the_check_of_distances_can_fail():
    css = ".a { margin: 0 7px; padding-left: .3em; gap: var(--fp-space-near) 1rem; margin: auto !important; }"
    assert distances_off_the_scale(css) == ["7px", ".3em", "1rem"]
