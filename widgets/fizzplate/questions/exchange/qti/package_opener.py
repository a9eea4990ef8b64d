"""Opening a package from strangers: what is no package, or would do harm, is refused by name."""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from typing import TYPE_CHECKING
from urllib.parse import unquote

from fizzplate.questions.exchange.limits import (
    MAX_FILES,
    MAX_PACKAGE_BYTES,
    MAX_UNPACKED_BYTES,
    MAX_XML_BYTES,
)
from fizzplate.questions.exchange.qti.markup import MANIFEST, UnreadableError, local_name, read_xml
from fizzplate.words import InputError

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_ALLOWED = "a QTI 3.0 package: a zip file with imsmanifest.xml in it"
_PACKINGS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_ABSOLUTE = re.compile(r"[/\\]|[A-Za-z]:")
_QTI_3 = re.compile(r"imsqti_\w+_xmlv3p0")
_VERSION = re.compile(r"(?:QTI\s*v?|imsqti\w*_(?:xml)?v|ims_qtiasiv)(\d)(?:[.p](\d+))?")
# what a zip file with any bytes changed can make the reader of zip files raise
_BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OSError,
    ValueError,
    RuntimeError,
    IndexError,
    OverflowError,
)


class Package:
    """The files of a package, each read only when it is asked for.

    Parameters
    ----------
    packed
        The package as it was loaded.

    Raises
    ------
    InputError
        If it is no zip file, a broken one, too large, or holds names that lead out of it.

    Examples
    --------
    >>> Package(b"topic,level")
    Traceback (most recent call last):
        ...
    fizzplate.words.refusals.InputError: package: 'a file that is not a zip file' cannot be used. \
Use a QTI 3.0 package: a zip file with imsmanifest.xml in it.
    """

    def __init__(self, packed: bytes) -> None:
        if len(packed) > MAX_PACKAGE_BYTES:
            raise InputError(
                "package", f"{len(packed)} bytes", f"at most {MAX_PACKAGE_BYTES} bytes"
            )
        try:
            self._archive = zipfile.ZipFile(io.BytesIO(packed))
        except _BROKEN:
            broken = packed[:2] == b"PK"
            given = "a broken zip file" if broken else "a file that is not a zip file"
            raise InputError("package", given, _ALLOWED) from None
        self._entries: dict[str, zipfile.ZipInfo] = {}
        entries = self._archive.infolist()
        if len(entries) > MAX_FILES:
            raise InputError("package", f"{len(entries)} files", f"at most {MAX_FILES} files")
        for entry in entries:
            self._admit(entry)
        size = sum(entry.file_size for entry in entries)
        if size > MAX_UNPACKED_BYTES:
            allowed = f"at most {MAX_UNPACKED_BYTES} bytes when unpacked"
            raise InputError("package", f"{size} bytes unpacked", allowed)

    def _admit(self, entry: zipfile.ZipInfo) -> None:
        name = entry.filename
        if _ABSOLUTE.match(name):
            raise InputError("package", name, "names of files that begin inside the package")
        if ".." in re.split(r"[/\\]", name):
            raise InputError("package", name, "names of files that stay inside the package")
        if name in self._entries:
            raise InputError("package", name, "file names that occur only once")
        if entry.flag_bits & 0x1:
            raise InputError("package", name, "files without a password")
        if entry.compress_type not in _PACKINGS:
            raise InputError("package", name, "files stored or deflated")
        self._entries[name] = entry

    def read(self, name: str) -> bytes:
        """Return a document's bytes.

        Raises
        ------
        UnreadableError
            If it is not there, too large, or cannot be unpacked.

        Examples
        --------
        >>> from fizzplate.questions.exchange.qti.package_writer import zip_archive
        >>> Package(zip_archive({"a.xml": b"<a/>"})).read("a.xml")
        b'<a/>'
        """
        entry = self._entries.get(name)
        if entry is None:
            raise UnreadableError(name, "a name in the manifest only", "a file in the package")
        try:
            # never more than is allowed, whatever size the entry claims
            with self._archive.open(entry) as opened:
                content = opened.read(MAX_XML_BYTES + 1)
        except _BROKEN:
            raise UnreadableError(name, "damaged bytes", "a file that can be unpacked") from None
        if len(content) > MAX_XML_BYTES:
            allowed = f"at most {MAX_XML_BYTES} bytes for one document"
            raise UnreadableError(name, f"{max(len(content), entry.file_size)} bytes", allowed)
        return content

    def items(self) -> dict[str, str]:
        """Return the items' documents in the manifest's order, each with its version if it is another.

        Raises
        ------
        InputError
            If there is no manifest, it is of another version, or it names no item.

        Examples
        --------
        >>> from fizzplate.questions.exchange import to_qti
        >>> from fizzplate.questions.sets import questions
        >>> Package(to_qti(questions(seed=1, count=2), "Two")).items()
        {'items/q001.xml': '', 'items/q002.xml': ''}
        """
        if MANIFEST not in self._entries:
            inside = next((name for name in self._entries if name.endswith(f"/{MANIFEST}")), "")
            given = inside or "a zip file without a manifest"
            raise InputError("package", given, f"{_ALLOWED}, outside any folder")
        manifest = read_xml(self.read(MANIFEST), MANIFEST)
        resources = [each for each in manifest.iter() if local_name(each) == "resource"]
        kinds = [each.get("type", "") for each in resources]
        about = _version_of(manifest)
        if about or not any(_QTI_3.fullmatch(kind) for kind in kinds):
            others = (other_version(text) for text in (*kinds, manifest.tag))
            given = about or next(filter(None, others), "a manifest of something else")
            raise InputError("package", given, "QTI 3.0")
        items = {
            unquote(each.get("href", "")): other_version(kind)
            for each, kind in zip(resources, kinds, strict=True)
            if other_version(kind) or (_QTI_3.fullmatch(kind) and "_item_" in kind)
            if "_test_" not in kind
        }
        if not items:
            raise InputError("package", "a manifest without items", "a package with questions")
        return items


def other_version(text: str) -> str:
    """Return the version of QTI that a type or a namespace names; nothing if it is 3.0, or none.

    Examples
    --------
    >>> other_version("imsqti_item_xmlv2p1"), other_version("imsqti_item_xmlv3p0")
    ('QTI 2.1', '')
    """
    found = _VERSION.search(text)
    version = f"QTI {found[1]}.{found[2] or 0}" if found else ""
    return "" if version == "QTI 3.0" else version


def _version_of(manifest: Element) -> str:
    """Return the version that a manifest says of itself; nothing if it is 3.0, or not said."""
    schema, version = (
        next((each.text or "" for each in manifest.iter() if local_name(each) == name), "").strip()
        for name in ("schema", "schemaversion")
    )
    if schema == "QTI Package":
        return other_version(f"QTI {version}")
    return other_version(schema)
