"""How large a file of questions may be, so that none can fill the memory of a classroom's server."""

from __future__ import annotations

MAX_PACKAGE_BYTES = 5_000_000  # bytes of a package
MAX_UNPACKED_BYTES = 20_000_000  # bytes of all that is in it
MAX_XML_BYTES = 1_000_000  # bytes of one document
MAX_FILES = 500
MAX_DEPTH = 60  # elements inside each other
MAX_ELEMENTS = 20_000  # in one document
MAX_TITLE_LENGTH = 200  # characters
MAX_TEXT_LENGTH = 4000  # characters of a sentence or a stem
