"""Carry out the examples in docstrings, which are written with plain spaces."""

from __future__ import annotations

import doctest
import importlib

NO_BREAK = "\N{NO-BREAK SPACE}"  # which looks like any space in what is printed


class AnySpace(doctest.OutputChecker):
    """Take a no-break space, printed or shown as an escape, for a space."""

    def check_output(self, want, got, optionflags):
        plain = [text.replace(r"\xa0", " ").replace(NO_BREAK, " ") for text in (want, got)]
        return super().check_output(*plain, optionflags)


def failed_examples(name):
    """Count the examples of a module that print something else than they show."""
    runner = doctest.DocTestRunner(checker=AnySpace())
    for each in doctest.DocTestFinder().find(importlib.import_module(name)):
        runner.run(each)
    return runner.summarize().failed
