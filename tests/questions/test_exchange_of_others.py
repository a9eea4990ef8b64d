"""Packages of other programs, and of people who mean no good: read as far as can be, or refused by name."""

from __future__ import annotations

import io
import re
import struct
import sys
import zipfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fizzplate.questions.exchange import from_qti, limits, to_qti
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from exchange_samples import (
    CHOICE,
    EQUATION,
    NUMBER,
    TEXT,
    item,
    manifest,
    pack,
    read,
    response,
)  # beside this file
from qti_structure import QTI

OPTIONS = (
    '<qti-choice-interaction response-identifier="RESPONSE" max-choices="1">'
    "<qti-prompt>Which metal?</qti-prompt>"
    '<qti-simple-choice identifier="one">copper <qti-feedback-inline outcome-identifier="F" identifier="one" '
    'show-hide="show">Yes, it settles.</qti-feedback-inline></qti-simple-choice>'
    '<qti-simple-choice identifier="two"><p>Na<sup>+</sup> ions</p></qti-simple-choice>'
    "</qti-choice-interaction>"
)


def test_a_choice_of_another_program():
    feedback = (
        '<qti-modal-feedback outcome-identifier="F" show-hide="show" identifier="two"><qti-content-body>'
        "<p>They stay.</p></qti-content-body></qti-modal-feedback>"
    )
    outcome = (
        '<qti-outcome-declaration identifier="SCORE" cardinality="single" normal-maximum="2.0"/>'
    )
    declared = response("identifier", "one") + outcome
    (asked,), said = read(
        item(declared, f"<div><p>CuSO<sub>4</sub> and NaCl.</p></div>{OPTIONS}", feedback)
    )
    assert said == []
    assert (asked.maker, asked.topic, asked.level) == ("imported", "Metals", 14)
    assert asked.text == "CuSO₄ and NaCl.\nWhich metal?"
    assert [option.text for option in asked.options] == ["copper", "Na⁺ ions"]
    assert [option.reason for option in asked.options] == ["Yes, it settles.", "They stay."]
    assert asked.mark("copper").earned == asked.marks == 2
    assert asked.mark("Na+ ions").earned == 0


def test_a_choice_without_feedback_says_which_is_right():
    bare = re.sub("<qti-feedback-inline.*?</qti-feedback-inline>", "", OPTIONS)
    (asked,), _ = read(item(response("identifier", "one"), bare, title=""))
    assert asked.topic == "imported"
    assert asked.mark("Na⁺ ions").remark == "The right answer is: copper"
    assert asked.mark("copper").earned == 1


def entry(name="RESPONSE"):
    return f'<qti-text-entry-interaction response-identifier="{name}"/>'


def equal(mode, tolerance, name="RESPONSE"):
    return (
        "<qti-response-processing><qti-response-condition><qti-response-if>"
        f'<qti-equal tolerance-mode="{mode}" tolerance="{tolerance}"><qti-variable identifier="{name}"/>'
        f'<qti-correct identifier="{name}"/></qti-equal></qti-response-if></qti-response-condition>'
        "</qti-response-processing>"
    )


@pytest.mark.parametrize(
    ("mode", "tolerance", "inside", "outside"),
    [
        ("relative", "5", "1.31", "1.32"),
        ("absolute", "0.02 0.02", "1.269", "1.275"),
        ("exact", "", "1.25", "1.251"),
    ],
)
def test_a_measured_number_of_another_program(mode, tolerance, inside, outside):
    declared = response("float", "1.25")
    (asked,), said = read(item(declared, f"<p>It weighs {entry()} g.</p>", equal(mode, tolerance)))
    assert said == []
    assert (asked.kind, asked.text, asked.answer) == ("number", "It weighs ____ g.", "1.25")
    assert asked.mark(inside).earned == 1
    assert asked.mark(outside).earned == 0


def test_several_numbers_of_another_program():
    declared = response("float", "0.5", name="A") + response("float", "2.5e-3", name="B")
    declared += (
        '<qti-outcome-declaration identifier="MAXSCORE" cardinality="single" base-type="float">'
        "<qti-default-value><qti-value>3</qti-value></qti-default-value></qti-outcome-declaration>"
    )
    (asked,), _ = read(item(declared, f"<p>Charge {entry('A')} C, moles {entry('B')}.</p>"))
    assert asked.answer == "0.5; 0.0025"
    assert [asked.mark(text).earned for text in ("0,5; 0.0025", "0.5", "1; 2.5 x 10^-3")] == [
        3,
        1,
        2,
    ]


def test_a_count_of_another_program_is_right_only_as_it_is():
    (asked,), _ = read(item(response("integer", "29"), f"<p>Copper has number {entry()}.</p>"))
    assert [asked.mark(text).earned for text in ("29", "It is 29", "30", "129", "2.9")] == [
        1,
        1,
        0,
        0,
        0,
    ]


def test_words_of_another_program_with_all_that_its_map_accepts():
    mapping = (
        '<qti-mapping default-value="0"><qti-map-entry map-key="Brass" mapped-value="1"/>'
        '<qti-map-entry map-key="yellow brass" mapped-value="1"/>'
        '<qti-map-entry map-key="bronze" mapped-value="0.5"/></qti-mapping>'
    )
    (asked,), _ = read(
        item(response("string", "Brass", mapping=mapping), f"<p>Name it: {entry()}</p>")
    )
    assert asked.kind == "text"
    assert asked.points[0].words == ("brass", "yellow brass")
    assert [asked.mark(text).earned for text in ("brass", "It is BRASS.", "bronze")] == [1, 1, 0]


def test_an_extended_text_of_another_program_is_marked_by_the_points_of_its_rubric():
    body = (
        "<p>A cell.</p>"
        '<qti-extended-text-interaction response-identifier="RESPONSE"><qti-prompt>Explain.</qti-prompt>'
        '</qti-extended-text-interaction><qti-rubric-block use="scoring" view="scorer tutor">'
        "<qti-content-body>"
        "<ul><li>ions move</li><li>electrons <b>do not</b></li></ul></qti-content-body></qti-rubric-block>"
        '<qti-rubric-block use="instructions" view="candidate"><qti-content-body><ul><li>no</li></ul>'
        "</qti-content-body></qti-rubric-block>"
    )
    (asked,), said = read(item(response("string", "Ions carry the charge."), body))
    assert said == []
    assert (asked.kind, asked.text, asked.marks) == ("list", "A cell.\nExplain.", 2)
    assert [point.says for point in asked.points] == ["ions move", "electrons do not"]
    assert asked.why == "Ions carry the charge."
    assert (asked.mark("1").earned, asked.mark(asked.answer).earned) == (1, 2)


def test_an_extended_text_without_a_rubric_is_one_mark():
    (asked,), _ = read(
        item(
            response("string"),
            '<qti-extended-text-interaction response-identifier="RESPONSE"/><p>Why?</p>',
        )
    )
    assert (asked.kind, asked.marks, asked.mark("1").earned) == ("list", 1, 1)


def test_kinds_that_cannot_be_asked_are_named_in_one_sentence_each():
    match = item(response("pair"), '<qti-match-interaction response-identifier="RESPONSE"/>')
    order = item(response("identifier"), '<qti-order-interaction response-identifier="RESPONSE"/>')
    several = item(response("identifier", "one", "two", cardinality="multiple"), OPTIONS)
    mixed = item(
        response("identifier", "one") + response("float", "1.5", name="B"),
        f"{OPTIONS}<p>{entry('B')}</p>",
    )
    nothing = item("", "<p>Read this.</p>")
    good = item(response("identifier", "one"), OPTIONS)
    found, said = read(match, order, match, several, mixed, nothing, good, match, match, match)
    assert len(found) == 1
    assert len(said) == 5
    assert said[0].startswith("An item with qti-match-interaction ")
    assert said[0].endswith("was left out: i0.xml, i2.xml, i7.xml and 2 more.")
    assert "qti-order-interaction" in said[1]
    assert said[2].startswith("A choice of several answers ")
    assert said[3].startswith("An item with several interactions ")
    assert said[4].startswith("An item without an interaction ")
    assert all("choice of one answer" in sentence for sentence in said)


def test_items_that_cannot_be_marked_are_named_and_the_others_still_read():
    good = item(response("identifier", "one"), OPTIONS)
    same = OPTIONS.replace("<p>Na<sup>+</sup> ions</p>", "copper")
    found, said = read(
        good,
        "<qti-assessment-item><qti-item-body>",
        item(response("identifier", "three"), OPTIONS),
        item(response("identifier", "one"), same),
        item(response("float"), f"<p>{entry()}</p>"),
        "<assessmentItem/>",
        item("", "")[:-10],
        good.replace("qti-item-body", "p"),
        good,
    )
    assert len(found) == 2
    for k, words in enumerate(
        (
            "well-formed XML",
            "identifier of one of the options",
            "options that differ",
            "right answer for each",
            "qti-assessment-item",
            "well-formed",
            "with a body",
        ),
        start=1,
    ):
        assert f"i{k}.xml" in said[k - 1]
        assert words in said[k - 1]
        assert "left out" in said[k - 1]


def test_pictures_and_texts_beside_an_item_are_said_to_be_left_out():
    body = f'<p>Look: <img src="https://x.test/a.png" alt="a"/></p>{OPTIONS}'
    reference = '<qti-assessment-stimulus-ref identifier="s" href="s.xml"/>'
    (asked,), said = read(item(response("identifier", "one") + reference, body))
    assert asked.text == "Look:\nWhich metal?"
    assert [sentence.partition(": ")[2] for sentence in said] == [
        "its pictures, sounds or films were left out.",
        "the text that it refers to was left out.",
    ]


def test_no_markup_of_strangers_is_passed_on():
    attack = "&lt;img src=x onerror=alert(1)&gt;&lt;scr&lt;b&gt;ipt&gt;"
    body = (
        f"<p onclick='x()'>A{attack}</p><script>alert(2)</script><style>p{{}}</style>"
        "<p><![CDATA[<iframe src='javascript:3'></iframe>]]>B</p>"
        + OPTIONS.replace("copper", f"copper{attack}")
    )
    (asked,), _ = read(item(response("identifier", "one"), body, title=attack))
    assert asked.text == "A\nB\nWhich metal?"
    assert asked.options[0].text == "copper"
    assert asked.topic == "imported"
    assert "<" not in repr(asked)


def test_texts_that_are_too_long_are_cut_and_that_is_said():
    (asked,), said = read(item(response("identifier", "one"), f"<p>{'long ' * 2000}</p>{OPTIONS}"))
    assert len(asked.text) == 4000
    assert said == ["i0.xml: the question was cut after 4000 of its 10012 characters."]


def changed(asked, *changes):
    """Return what is read, and said, of an item that was changed elsewhere."""
    files = {}
    with zipfile.ZipFile(io.BytesIO(to_qti([asked], "One"))) as archive:
        for name in archive.namelist():
            text = archive.read(name).decode()
            for old, new in changes if name.startswith("items") else ():
                assert re.search(old, text, re.DOTALL), old
                text = re.sub(old, new, text, flags=re.DOTALL)
            files[name] = text
    return from_qti(pack(files))


def test_a_change_made_elsewhere_counts():
    (asked,), said = changed(
        CHOICE,
        ("What is left in brine", "And in <i>brine</i>"),
        (r"<qti-value>A<", "<qti-value>B<"),
    )
    assert said == []
    assert asked.text.startswith("And in brine?")
    assert (asked.answer, asked.mark("=NaCl").earned) == ("=NaCl", 1)
    assert asked.topic == CHOICE.topic

    (asked,), said = changed(NUMBER, (r"<qti-value>240.0<", "<qti-value>250<"))
    assert said == [
        "items/q001.xml: the answer 240 C was changed elsewhere to 250; its near misses were left out."
    ]
    assert asked.mark("250 C; 0.0790 g").earned == 5
    assert asked.mark("4 C; 0.0790 g").earned == 3

    (asked,), said = changed(NUMBER, (r'tolerance="1.37 1.37"', 'tolerance="10 10"'))
    assert said == []
    assert asked.mark("240 C; 0.0850 g").earned == 5


def test_an_item_that_was_changed_into_another_kind_is_read_as_of_another_program():
    text = '<qti-extended-text-interaction response-identifier="RESPONSE" />'
    (asked,), said = changed(CHOICE, (r"<qti-choice-interaction.*</qti-choice-interaction>", text))
    assert asked.kind == "list"
    assert said == ["items/q001.xml was changed elsewhere and is read as from another program."]


@pytest.mark.parametrize(
    "scheme",
    [
        "",
        "nonsense",
        "[" * 5000,
        "{}",
        '{"version":2}',
        '{"version":1}',
        '{"version":1,"maker":"x","topic":5}',
    ],
)
def test_what_was_written_beside_the_mark_scheme_may_be_spoilt(scheme):
    spoilt = scheme.replace('"', "&quot;")
    (asked,), said = changed(CHOICE, (r'data-fizzplate="\{[^"]*"', f'data-fizzplate="{spoilt}"'))
    assert asked.maker == "imported"
    assert asked.mark("sodium hydroxide").earned == 1
    assert said[0].startswith("items/q001.xml is read as from another program. data-fizzplate: ")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (r"&quot;value&quot;:240.0", "&quot;value&quot;:1e999"),
        (r"&quot;unit&quot;:&quot;C&quot;", "&quot;unit&quot;:&quot;furlongs&quot;"),
        (r"&quot;lost&quot;:\[0\]", "&quot;lost&quot;:[7]"),
        (r"&quot;level&quot;:16", "&quot;level&quot;:12"),
        (r"&quot;figures&quot;:3", "&quot;figures&quot;:400"),
        (r"&quot;factor&quot;:0.000329\d*", f"&quot;factor&quot;:{'9' * 400}"),
    ],
)
def test_hostile_numbers_beside_the_mark_scheme_do_no_harm(old, new):
    try:
        found, said = changed(NUMBER, (old, new))
    except InputError as refused:  # nothing was left
        found, said = [], [str(refused)]
    assert len(said) >= 1
    assert all("by hand" not in asked.maker for asked in found)


def test_cells_to_watch_that_cannot_be_shown_are_left_out():
    (asked,), said = changed(CHOICE, ("NaCl,c=0.1;", "javascript:x;"))
    assert asked.watch == ""
    assert said == ["items/q001.xml: the cells to watch cannot be shown and were left out."]


GOOD = {"imsmanifest.xml": manifest("a.xml"), "a.xml": item(response("identifier", "one"), OPTIONS)}
BOMB = (
    '<!DOCTYPE m [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">'
    '<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]>'
)
OUTSIDE = '<!DOCTYPE m [<!ENTITY a SYSTEM "file:///etc/hostname">]>'


QTI_21 = "http://www.imsglobal.org/xsd/imsqti_v2p1"


def other_version(kind, schema, version):
    return {**GOOD, "imsmanifest.xml": manifest("a.xml", kind=kind, schema=schema, version=version)}


REFUSED = {
    "no zip": (b"topic,level,kind", "a file that is not a zip file"),
    "nothing": (b"", "a file that is not a zip file"),
    "broken zip": (pack(GOOD)[:-30], "a broken zip file"),
    "too large": (b"PK" + b"\0" * limits.LARGEST_PACKED, "5000002 bytes"),
    "no manifest": (pack({"a.xml": GOOD["a.xml"]}), "a zip file without a manifest"),
    "manifest in a folder": (pack({f"set/{k}": v for k, v in GOOD.items()}), "set/imsmanifest.xml"),
    "out of the package": (pack({**GOOD, "../../etc/x.xml": "x"}), "../../etc/x.xml"),
    "out of it later on": (pack({**GOOD, "a/../../x.xml": "x"}), "a/../../x.xml"),
    "out with backslashes": (pack({**GOOD, "a\\..\\..\\x.xml": "x"}), "stay inside the package"),
    "absolute": (pack({**GOOD, "/etc/passwd": "x"}), "/etc/passwd"),
    "absolute elsewhere": (pack({**GOOD, "C:\\x.xml": "x"}), "begin inside the package"),
    "bomb": (pack({**GOOD, "b.bin": b"\0" * 21_000_000}), "unpacked"),
    "too many": (pack({**GOOD, **{f"n{k}": "" for k in range(500)}}), "502 files"),
    "QTI 2.1": (
        pack(other_version("imsqti_item_xmlv2p1", "QTIv2.1 Package", "1.0.0")),
        "'QTI 2.1'",
    ),
    "QTI 2.2": (
        pack(other_version("imsqti_item_xmlv2p2", "QTIv2.2 Package", "1.0.0")),
        "'QTI 2.2'",
    ),
    "QTI 1.2": (pack(other_version("imsqti_xmlv1p2", "IMS Content", "1.1.3")), "'QTI 1.2'"),
    "QTI 3.1": (pack(other_version("imsqti_xmlv3p1", "QTI Package", "3.1.0")), "'QTI 3.1'"),
    "QTI 3.1 items": (pack(other_version("imsqti_item_xmlv3p1", "", "")), "'QTI 3.1'"),
    "QTI 3.1 by its schema alone": (
        pack(other_version("imsqti_item_xmlv3p0", "QTI Package", "3.1.0")),
        "'QTI 3.1'",
    ),
    "QTI 2.1 by its schema alone": (
        pack(other_version("imsqti_item_xmlv3p0", "QTIv2.1 Package", "1.0.0")),
        "'QTI 2.1'",
    ),
    "QTI 2.1 inside": (
        pack({**GOOD, "a.xml": GOOD["a.xml"].replace(QTI, QTI_21)}),
        "(An item of QTI 2.1 (only QTI 3.0 can be read here) was left out: a.xml)",
    ),
    "nothing that can be asked": (
        pack({**GOOD, "a.xml": item(response("identifier", "three"), OPTIONS)}),
        "identifier of one of the options",
    ),
    "only other kinds": (
        pack({**GOOD, "a.xml": item("", '<qti-order-interaction response-identifier="R"/>')}),
        "An item with qti-order-interaction",
    ),
    "a course": (
        pack(other_version("webcontent", "IMS Content", "1.1.3")),
        "a manifest of something else",
    ),
    "no items": (
        pack({"imsmanifest.xml": manifest("t.xml", kind="imsqti_test_xmlv3p0")}),
        "without items",
    ),
    "manifest broken": (
        pack({**GOOD, "imsmanifest.xml": "<manifest>"}),
        "imsmanifest.xml: 'no element found",
    ),
    "manifest with a bomb": (
        pack({**GOOD, "imsmanifest.xml": BOMB + manifest("a.xml")}),
        "a document type or an entity",
    ),
    "item with a bomb": (
        pack({**GOOD, "a.xml": BOMB + "<m>&c;</m>"}),
        "a.xml: 'a document type or an entity'",
    ),
    "item that reads files": (
        pack({**GOOD, "a.xml": OUTSIDE + "<m>&a;</m>"}),
        "a.xml: 'a document type or an entity'",
    ),
    "document type alone": (
        pack({**GOOD, "a.xml": "<!DOCTYPE m><m/>"}),
        "a.xml: 'a document type or an entity'",
    ),
    "packed otherwise": (pack(GOOD, zipfile.ZIP_LZMA), "stored or deflated"),
}


@pytest.mark.parametrize("what", list(REFUSED))
def test_what_is_no_package_or_does_harm_is_refused_by_name(what):
    packed, named = REFUSED[what]
    with pytest.raises(InputError) as refused:
        from_qti(packed)
    assert named in str(refused.value)
    assert "allowed is" in str(refused.value)


def test_the_package_that_the_refused_ones_differ_from_is_read():
    assert len(from_qti(pack(GOOD))[0]) == 1


def test_a_password_is_refused_by_name():
    packed = bytearray(pack(GOOD))
    for mark, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = packed.find(mark)
        while at >= 0:
            packed[at + offset] |= 1
            at = packed.find(mark, at + 4)
    with pytest.raises(InputError, match="without a password"):
        from_qti(bytes(packed))


def test_names_that_occur_twice_are_refused():
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, content in GOOD.items():
            archive.writestr(name, content)
        with pytest.warns(UserWarning, match="Duplicate"):
            archive.writestr("a.xml", GOOD["a.xml"])
    with pytest.raises(InputError, match="occur once"):
        from_qti(packed.getvalue())


def test_a_file_that_is_larger_than_it_claims_is_not_unpacked():
    packed = bytearray(pack({"imsmanifest.xml": manifest("big.xml"), "big.xml": b" " * 3_000_000}))
    at = packed.rfind(b"PK\x01\x02")  # the last entry of the directory is big.xml
    struct.pack_into("<I", packed, at + 24, 10)
    with pytest.raises(InputError, match=r"big\.xml: 'damaged bytes' cannot be used; .* unpacked"):
        from_qti(bytes(packed))


def test_a_document_that_is_too_large_or_not_there_is_left_out_by_name():
    names = ("big.xml", "gone.xml", "deep.xml", "many.xml", "a.xml")
    files = {
        "big.xml": b"<a>" + b" " * 1_000_000 + b"</a>",
        "deep.xml": "<a>" * 50_000 + "</a>" * 50_000,
        "many.xml": f"<a>{'<b/>' * 30_000}</a>",
        "a.xml": GOOD["a.xml"],
    }
    found, said = from_qti(pack({"imsmanifest.xml": manifest(*names), **files}))
    assert len(found) == 1
    for name, words, sentence in zip(
        names,
        ("at most 1000000 bytes", "in the manifest only", "too many elements", "too many elements"),
        said,
        strict=False,
    ):
        assert sentence.startswith(f"{name}: ")
        assert words in sentence
        assert sentence.endswith("It was left out.")


def test_names_in_a_manifest_lead_nowhere_outside():
    names = ("../a.xml", "file:///etc/hostname", "%2e%2e/b.xml", "a%20b.xml")
    found, said = from_qti(pack({"imsmanifest.xml": manifest(*names), "a b.xml": GOOD["a.xml"]}))
    assert len(found) == 1  # names are written in the manifest as addresses are
    assert len(said) == 3
    assert all("in the manifest only" in sentence for sentence in said)


def test_a_package_cannot_fill_the_page_with_remarks():
    names = [f"gone{k}.xml" for k in range(400)]
    files = {**GOOD, "imsmanifest.xml": manifest(*names, "a.xml")}
    _, said = from_qti(pack(files))
    assert len(said) == 41
    assert said[-1] == "There were 360 more remarks like these."


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_a_package_with_changed_bytes_is_read_or_refused(data):
    packed = bytearray(to_qti([NUMBER], "One"))
    for _ in range(data.draw(st.integers(1, 4))):
        packed[data.draw(st.integers(0, len(packed) - 1))] = data.draw(st.integers(0, 255))
    try:
        found, said = from_qti(bytes(packed))
    except InputError as refused:
        said, found = [str(refused)], []
    assert len(found) == 1 or "allowed is" in said[0]


def test_items_of_another_version_are_left_out_by_its_name():
    older = '<assessmentItem xmlns="http://www.imsglobal.org/xsd/imsqti_v2p2"/>'
    good, other = GOOD["a.xml"], GOOD["a.xml"].replace(QTI, QTI_21)
    strange = good.replace(QTI, "urn:x")
    found, said = read(good, other, older, other, strange)
    assert len(found) == 1
    assert said == [
        "An item of QTI 2.1 (only QTI 3.0 can be read here) was left out: i1.xml, i3.xml.",
        "An item of QTI 2.2 (only QTI 3.0 can be read here) was left out: i2.xml.",
        "An item of something else (only QTI 3.0 can be read here) was left out: i4.xml.",
    ]


def test_a_manifest_of_two_versions_gives_the_items_of_one_and_names_the_other():
    both = manifest("a.xml", "b.xml").replace("item_xmlv3p0", "item_xmlv3p1", 1)
    found, said = from_qti(
        pack({"imsmanifest.xml": both, "a.xml": GOOD["a.xml"], "b.xml": GOOD["a.xml"]})
    )
    assert len(found) == 1
    assert said == ["An item of QTI 3.1 (only QTI 3.0 can be read here) was left out: a.xml."]


def test_short_answers_of_several_entries_earn_their_marks():
    declared = response("string", "SO₄²⁻", name="A") + response("integer", "29", name="B")
    declared += response("string", "Cu", name="C")
    body = f"<p>{entry('A')} {entry('B')} {entry('C')}</p>"
    (asked,), said = read(item(declared, body))
    assert said == []
    assert asked.mark(asked.answer).earned == asked.marks == 3
    assert asked.mark("SO₄²⁻; 129; Cu").earned == 2


@pytest.mark.parametrize(
    ("asked", "old", "new"),
    [
        (TEXT, "a red-brown solid settles and the blue fades</qti-value>", "it fizzes</qti-value>"),
        (EQUATION, r"<qti-value>[^<]*-&gt;[^<]*</qti-value>", "<qti-value>Cu</qti-value>"),
    ],
)
def test_an_item_whose_own_answer_earns_too_little_is_left_out(asked, old, new):
    with pytest.raises(InputError, match="an answer that earns every mark"):
        changed(asked, (old, new))


def test_a_number_whose_exact_value_cannot_be_given_is_left_out_by_name():
    long = item(response("float", "1.23456789012"), f"<p>{entry()}</p>", equal("exact", ""))
    found, said = read(GOOD["a.xml"], long)
    assert len(found) == 1
    assert said[0].startswith("i1.xml was left out. answer: '1.2345679' cannot be used; ")
