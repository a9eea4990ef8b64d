"""What can be broken in a JavaScript module: operators and numbers, found by its tokens.

Comments, texts and regular expressions are passed over; the modules are formatted, so an operator stands
between spaces.
"""

from __future__ import annotations

import re

from another_number import another

TOKENS = re.compile(
    r"""(?P<comment>//[^\n]*|/\*.*?\*/)
    |(?P<text>"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|`(?:\\.|[^`\\])*`)
    |(?P<pattern>(?<![\w)\]]\s)(?<![\w)\]])/(?![*/])(?:\\.|\[(?:\\.|[^\]\n])*\]|[^/\\\n\[])+/[dgimsuvy]*
      |(?<=return\s)/(?:\\.|\[(?:\\.|[^\]\n])*\]|[^/\\\n\[])+/[dgimsuvy]*)
    |(?P<import>^import\b[^;]*;)
    |(?P<word>function\*|[A-Za-z_$][\w$]*(?:\.[A-Za-z_$][\w$]*)*)
    |(?P<number>(?:0x[\da-fA-F]+|\d[\d_]*\.?\d*(?:e[+-]?\d+)?))
    |(?P<operator>>>>?|<<|=>|===|!==|<=|>=|&&|\|\||\?\?|\*\*|[-+*/]=|\+\+|--|[-+*/<>!])""",
    re.VERBOSE | re.DOTALL | re.MULTILINE,
)
OPERATORS = {
    "===": "!==",
    "!==": "===",
    "<": "<=",
    "<=": "<",
    ">": ">=",
    ">=": ">",
    "&&": "||",
    "||": "&&",
    "??": "&&",
    "+": "-",
    "-": "+",
    "*": "/",
    "/": "*",
    "%": "*",
    "+=": "-=",
    "-=": "+=",
    "*=": "/=",
    "!": "",
}
WORDS = {
    "true": "false",
    "false": "true",
    "Math.min": "Math.max",
    "Math.max": "Math.min",
    "Math.cos": "Math.sin",
    "Math.sin": "Math.cos",
    "Math.floor": "Math.ceil",
    "Math.ceil": "Math.floor",
}


def javascript_breaks(text):
    """Give ``(start, end, replacement)`` for all that can be broken, by places in the text."""
    found = []
    for token in TOKENS.finditer(text):
        start, end = token.span()
        was = token[0]
        if token.lastgroup == "word" and was in WORDS:
            found.append((start, end, WORDS[was]))
        elif token.lastgroup == "number":
            found.append((start, end, _other(was)))
        elif token.lastgroup == "operator" and was in OPERATORS and not _in_a_chain(text, token):
            found.append((start, end, OPERATORS[was]))
    return found


def _in_a_chain(text, token):
    """Say whether a ``??`` stands beside another, where no other operator may."""
    line = text[text.rfind("\n", 0, token.start()) + 1 :].partition("\n")[0]
    return token[0] == "??" and line.count("??") > 1


def _other(number):
    if number.startswith("0x"):
        return hex(int(number, 16) + 1)
    plain = number.replace("_", "")
    return str(another(int(plain) if plain.isdigit() else float(plain)))
