"""Write programs and stylesheets without what only readers of the code need."""

from __future__ import annotations

import re

# what only readers of the code need: indentation (text over several lines is HTML, which needs none), empty
# lines and names of modules, remarks behind code that holds no text, in which two strokes might stand, and
# remarks of a stylesheet
_SCOPE = re.compile(r"\b\w+(?:\$\w+)+\$js\b")  # as `join_in_a_scope` names a file's
_TAKEN = re.compile(r"^const \{ ([\w$, :]+) \} = (\$\d+);", re.MULTILINE)  # from a scope
_INDENTATION = re.compile(r"^(?: +|\n|// .*\n)", re.MULTILINE)
_REMARK = re.compile(r"^([^\"'`\n]*[;{},)\]]) // .*$", re.MULTILINE)
# the same behind code whose texts are all closed
_REMARK_BEHIND_TEXT = re.compile(
    r"""^((?:[^"'`\n/]|"[^"\\\n]*"|'[^'\\\n]*'|`[^`\\\n$]*`)*[;{},)\]]) // [^"'`\n]*$""",
    re.MULTILINE,
)
_TYPE = re.compile(r"/\*\* @type [^*]*\*/ ?")  # what only the check of types reads
_STYLE_REMARK = re.compile(r"/\*.*?\*/\n?", re.DOTALL)


def short_program(text: str) -> str:
    """Write joined modules without indentation, remarks and types, their scopes with short names."""
    bare = _TYPE.sub("", _INDENTATION.sub("", text))
    for remark in (_REMARK, _REMARK_BEHIND_TEXT):
        bare = remark.sub(r"\1", bare)
    return _with_short_scopes(bare)


def _with_short_scopes(script: str) -> str:
    """Give the joined modules' scopes short names: their long ones are those of the files.

    Examples
    --------
    >>> _with_short_scopes("const { say, ask } = views$kit$say$js;")
    'const{say,ask}=$0;'
    """
    numbers: dict[str, str] = {}
    short = _SCOPE.sub(lambda found: numbers.setdefault(found[0], f"${len(numbers)}"), script)
    return _TAKEN.sub(lambda found: f"const{{{found[1].replace(', ', ',')}}}={found[2]};", short)


def short_style(text: str) -> str:
    """Write a stylesheet without remarks and without the blanks that only its readers need.

    Examples
    --------
    >>> short_style(".a, .b { color: red; margin: 0; } ")
    '.a,.b{color:red;margin:0}'
    """
    bare = _STYLE_REMARK.sub("", text)
    close = re.sub(r"\s*([{};])\s*", r"\1", bare).replace(", ", ",").replace(";}", "}")
    return re.sub(r"(?<=[{;])([\w-]+): ", r"\1:", close)
