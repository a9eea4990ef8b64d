"""Packages of people who mean no good, broken ones and those of other versions: refused by name."""

from __future__ import annotations

import io
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
    GOOD,
    NUMBER,
    OPTIONS,
    item,
    manifest,
    pack,
    read,
    response,
)  # beside this file
from qti_structure import QTI

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
    "too large": (b"PK" + b"\0" * limits.MAX_PACKAGE_BYTES, "5000002 bytes"),
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
    assert "Use " in str(refused.value)


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
    with pytest.raises(InputError, match="occur only once"):
        from_qti(packed.getvalue())


def test_a_file_that_is_larger_than_it_claims_is_not_unpacked():
    packed = bytearray(pack({"imsmanifest.xml": manifest("big.xml"), "big.xml": b" " * 3_000_000}))
    at = packed.rfind(b"PK\x01\x02")  # the last entry of the directory is big.xml
    struct.pack_into("<I", packed, at + 24, 10)
    with pytest.raises(InputError, match=r"big\.xml: 'damaged bytes' cannot be used\. .* unpacked"):
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
    assert len(found) == 1 or "Use " in said[0]


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
