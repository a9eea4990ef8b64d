"""Packages of the open standard QTI 3.0, from this program and from others."""

from fizzplate.questions.exchange.qti.package_reader import from_qti
from fizzplate.questions.exchange.qti.package_writer import to_qti

__all__ = [
    "from_qti",
    "to_qti",
]
