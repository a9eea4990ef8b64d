"""How large a file of questions may be, so that none can fill the memory of a classroom's server."""

from __future__ import annotations

LARGEST_PACKED = 5_000_000  # bytes of a package
LARGEST_UNPACKED = 20_000_000  # bytes of all that is in it
LARGEST_XML = 1_000_000  # bytes of one document
MOST_FILES = 500
DEEPEST = 60  # elements inside each other
MOST_ELEMENTS = 20_000  # in one document
LONGEST_TITLE = 200  # characters
LONGEST_TEXT = 4000  # characters of a sentence or a stem
