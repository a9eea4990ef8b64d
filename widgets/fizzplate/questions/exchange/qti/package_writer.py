"""A set of questions as a QTI 3.0 package: items, a test that holds them in order, a manifest."""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING

from fizzplate.questions.exchange.limits import MAX_FILES, MAX_TITLE_LENGTH
from fizzplate.questions.exchange.qti.chart_picture import draw_chart
from fizzplate.questions.exchange.qti.item_writer import picture_path, write_item
from fizzplate.questions.exchange.qti.markup import (
    MANIFEST,
    PACKAGING,
    PACKAGING_SCHEMA,
    QTI,
    QTI_SCHEMA,
    document,
    node,
    root,
)
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from fizzplate.questions.question_types import Question

TEST = "assessment.xml"
ITEM_TYPE = "imsqti_item_xmlv3p0"
TEST_TYPE = "imsqti_test_xmlv3p0"
MAX_PACKAGE_QUESTIONS = MAX_FILES - 2  # beside the test and the manifest
_WHEN = (2000, 1, 1, 0, 0, 0)  # one and the same time, so that the same set gives the same bytes


def to_qti(questions: Sequence[Question], title: str) -> bytes:
    """Write a set of questions as a QTI 3.0 package; the same set gives the same bytes everywhere.

    Parameters
    ----------
    questions
        The set, in order.
    title
        What the set is called.

    Returns
    -------
    bytes
        A zip file with ``imsmanifest.xml``, the test, an item a question, and a picture a chart.

    Raises
    ------
    InputError
        If there is no question, too many for one package, or no title.

    Examples
    --------
    >>> from fizzplate.questions.exchange import from_qti
    >>> from fizzplate.questions.sets import questions
    >>> made = questions(seed=3, count=2, topics=["products"], level=14)
    >>> from_qti(to_qti(made, "Products")) == (made, [])
    True
    """
    if not 1 <= len(questions) <= MAX_PACKAGE_QUESTIONS:
        raise InputError(
            "questions", len(questions), f"1 to {MAX_PACKAGE_QUESTIONS} questions in a package"
        )
    if not 1 <= len(title.strip()) <= MAX_TITLE_LENGTH:
        raise InputError("title", title, f"1 to {MAX_TITLE_LENGTH} characters")
    names = [f"q{number:03}" for number in range(1, len(questions) + 1)]
    charts = {
        name: question.shown_chart
        for name, question in zip(names, questions, strict=True)
        if question.shown_chart is not None
    }
    if len(names) + len(charts) > MAX_PACKAGE_QUESTIONS:
        given = f"{len(names)} questions and {len(charts)} charts"
        raise InputError("questions", given, f"at most {MAX_PACKAGE_QUESTIONS} of both together")
    files = {MANIFEST: _manifest(names, charts), TEST: _test(names, title)}
    for number, (name, question) in enumerate(zip(names, questions, strict=True), start=1):
        files[_path(name)] = write_item(question, name, f"Question {number}: {question.topic}")
    files |= {picture_path(name): draw_chart(chart) for name, chart in charts.items()}
    return zip_archive(files)


def zip_archive(files: Mapping[str, bytes]) -> bytes:
    """Put files in a zip file, alike on every machine.

    Examples
    --------
    >>> zip_archive({"a.xml": b"<a/>"})[:2]
    b'PK'
    """
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for path, content in files.items():
            archive.writestr(_entry(path), content)
    return packed.getvalue()


def _path(name: str) -> str:
    return f"items/{name}.xml"


def _entry(path: str) -> zipfile.ZipInfo:
    """Describe a file of the package, alike on every machine."""
    entry = zipfile.ZipInfo(path, _WHEN)
    entry.compress_type = zipfile.ZIP_STORED  # what packing gives differs from one zlib to the next
    entry.create_system = 3
    entry.external_attr = 0o644 << 16
    return entry


def _manifest(names: Sequence[str], charts: Collection[str]) -> bytes:
    """Name every file of the package; ``charts`` are the items with a picture."""
    manifest = root("manifest", PACKAGING, PACKAGING_SCHEMA, {"identifier": "manifest"})
    about = node(manifest, "metadata")
    node(about, "schema", text="QTI Package")
    node(about, "schemaversion", text="3.0.0")
    node(manifest, "organizations")
    resources = node(manifest, "resources")
    test = node(resources, "resource", {"identifier": "test", "type": TEST_TYPE, "href": TEST})
    node(test, "file", {"href": TEST})
    for name in names:
        node(test, "dependency", {"identifierref": name})
    for name in names:
        held = {"identifier": name, "type": ITEM_TYPE, "href": _path(name)}
        resource = node(resources, "resource", held)
        node(resource, "file", {"href": _path(name)})
        if name in charts:
            node(resource, "file", {"href": picture_path(name)})
    return document(manifest)


def _test(names: Sequence[str], title: str) -> bytes:
    test = root("qti-assessment-test", QTI, QTI_SCHEMA, {"identifier": "test", "title": title})
    score = {"identifier": "SCORE", "cardinality": "single", "base-type": "float"}
    node(test, "qti-outcome-declaration", score)
    modes = {"navigation-mode": "nonlinear", "submission-mode": "individual"}
    part = node(test, "qti-test-part", {"identifier": "part", **modes})
    shown = {"identifier": "section", "title": title, "visible": "true"}
    section = node(part, "qti-assessment-section", shown)
    for name in names:
        node(section, "qti-assessment-item-ref", {"identifier": name, "href": _path(name)})
    processing = node(test, "qti-outcome-processing")
    total = node(node(processing, "qti-set-outcome-value", {"identifier": "SCORE"}), "qti-sum")
    node(total, "qti-test-variables", {"variable-identifier": "SCORE"})
    return document(test)
