"""What can be broken in a Python module: operators, numbers, conditions and calls, found by its syntax tree.

Left out is what nobody can observe: docstrings, annotations, decorators, imports, and the text of messages.
"""

from __future__ import annotations

import ast
import bisect
import io
import itertools
import tokenize

from another_number import another

OPERATORS = {
    ast.Lt: ("<", "<="),
    ast.LtE: ("<=", "<"),
    ast.Gt: (">", ">="),
    ast.GtE: (">=", ">"),
    ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="),
    ast.Add: ("+", "-"),
    ast.Sub: ("-", "+"),
    ast.Mult: ("*", "/"),
    ast.Div: ("/", "*"),
    ast.FloorDiv: ("//", "*"),
    ast.Mod: ("%", "*"),
    ast.Pow: ("**", "*"),
    ast.And: ("and", "or"),
    ast.Or: ("or", "and"),
    ast.In: ("in", "not in"),
    ast.Is: ("is", "is not"),
}
OPPOSITES = {"min": "max", "max": "min", "any": "all", "all": "any"}
#: arguments that guard against mistakes of programming, which no tested program makes
GUARDS = {"strict", "encoding", "frozen", "slots", "maxsize", "stacklevel", "errors", "kw_only"}
#: what only a type checker reads
FOR_TYPES = {"Literal", "TypeVar", "cast", "NewType"}


def python_breaks(text):
    """Give ``(start, end, replacement)`` for all that can be broken, by places in the text."""
    finder = _Finder(text)
    finder.visit(ast.parse(text))
    return finder.found


class _Finder(ast.NodeVisitor):
    def __init__(self, text):
        lines = text.splitlines(keepends=True)
        self.lines, self.found = lines, []
        self.starts = [0, *itertools.accumulate(map(len, lines))]
        tokens = tokenize.generate_tokens(io.StringIO(text).readline)
        self.tokens = [(self._at(*t.start), self._at(*t.end), t.string) for t in tokens]

    def _at(self, line, column):
        return self.starts[min(line - 1, len(self.lines))] + column

    def _span(self, node):
        """Places of a node; the syntax tree counts a line's bytes, not its characters."""
        ends = []
        for line, column in (
            (node.lineno, node.col_offset),
            (node.end_lineno, node.end_col_offset),
        ):
            ends.append(self._at(line, len(self.lines[line - 1].encode()[:column].decode())))
        return ends

    def _break(self, node, replacement):
        self.found.append((*self._span(node), replacement))

    def _break_operator(self, operator, left, right):
        was, now = OPERATORS.get(type(operator), (None, None))
        after, before = self._span(left)[1], self._span(right)[0]
        for start, end, string in self._between(after, before):
            if string == was:
                self.found.append((start, end, now))
                return

    def _between(self, after, before):
        """Give the tokens between two places."""
        first = bisect.bisect_left(self.tokens, after, key=lambda token: token[0])
        return itertools.takewhile(lambda token: token[1] <= before, self.tokens[first:])

    def visit_BinOp(self, node):
        is_text = any(isinstance(each, ast.JoinedStr) for each in (node.left, node.right))
        if not is_text:
            self._break_operator(node.op, node.left, node.right)
        self.generic_visit(node)

    def visit_BoolOp(self, node):
        for left, right in itertools.pairwise(node.values):
            self._break_operator(node.op, left, right)
        self.generic_visit(node)

    def visit_Compare(self, node):
        for operator, (left, right) in zip(
            node.ops, itertools.pairwise([node.left, *node.comparators]), strict=True
        ):
            self._break_operator(operator, left, right)
        self.generic_visit(node)

    def visit_AugAssign(self, node):
        was, now = OPERATORS.get(type(node.op), (None, None))
        after, before = self._span(node.target)[1], self._span(node.value)[0]
        for start, end, string in self._between(after, before):
            if string == f"{was}=":
                self.found.append((start, end, f"{now}="))
        self.generic_visit(node)

    def visit_UnaryOp(self, node):
        start, _ = self._span(node)
        written = {ast.Not: "not ", ast.USub: "-"}.get(type(node.op))
        if written:
            self.found.append((start, start + len(written), ""))
        self.visit(node.operand)

    def visit_If(self, node):
        if "TYPE_CHECKING" in ast.unparse(node.test):
            return
        self._negate(node)

    def visit_While(self, node):
        self._negate(node)

    def visit_IfExp(self, node):
        self._negate(node)

    def _negate(self, node):
        # others are broken by themselves, and what names its value cannot follow "not"
        if isinstance(node.test, ast.Name | ast.Attribute | ast.Call | ast.Subscript):
            start, _ = self._span(node.test)
            self.found.append((start, start, "not "))
        self.generic_visit(node)

    def visit_Constant(self, node):
        if isinstance(node.value, bool):
            self._break(node, str(not node.value))
        elif isinstance(node.value, int | float):
            self._break(node, repr(another(node.value)))

    def visit_Call(self, node):
        name = getattr(node.func, "id", getattr(node.func, "attr", ""))
        if name in FOR_TYPES:
            for each in node.args[1:]:
                self.visit(each)
            return
        if name in OPPOSITES:
            end = self._span(node.func)[1]
            self.found.append((end - len(name), end, OPPOSITES[name]))
        self.generic_visit(node)

    def visit_keyword(self, node):
        if node.arg not in GUARDS:
            self.visit(node.value)

    def visit_Expr(self, node):
        if isinstance(node.value, ast.Call):
            self._break(node, "pass")
        if not isinstance(node.value, ast.Constant):
            self.generic_visit(node)

    def visit_Subscript(self, node):
        if getattr(node.value, "id", "") not in FOR_TYPES:
            self.generic_visit(node)

    def visit_AnnAssign(self, node):
        if node.value:
            self.visit(node.value)

    def visit_FunctionDef(self, node):
        for each in (*node.args.defaults, *filter(None, node.args.kw_defaults), *node.body):
            self.visit(each)

    visit_AsyncFunctionDef = visit_FunctionDef

    def visit_ClassDef(self, node):
        for each in node.body:
            self.visit(each)

    def visit_JoinedStr(self, node):
        """What a text holds is left as it is."""
