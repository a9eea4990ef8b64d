"""Start each process of the tests two seconds sooner.

    python -m pytest -p tests.quick_start -n 3

Notebooks are read by a library that loads a grammar of addresses, which no test needs.
"""

import sys

sys.modules.setdefault("rfc3987_syntax", None)  # how an import is told to fail
