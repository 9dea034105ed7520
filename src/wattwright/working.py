"""The working behind a value: every step, in order, with numbers, units and sources.

The formula that is shown is the function's own return expression.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from wattwright.formula import Formula, declaration
from wattwright.units import Taste, write
from wattwright.values import Given, Step, Value

_OPERATORS: dict[type[ast.operator], tuple[str, int]] = {
    ast.Add: (" + ", 1),
    ast.Sub: (" - ", 1),
    ast.Mult: (" · ", 2),
    ast.Div: (" / ", 2),
}
_WRITTEN_OUT = 3
# A number below zero, as it is put into an expression.
_BRACKETED = re.compile(r"\(-[^() ]+( [^() ]+)?\)")


@dataclass(frozen=True, slots=True, eq=False)
class WorkedStep:
    """One step with its number in the working."""

    number: int
    value: Value
    step: Step
    formula: Formula


def steps_of(*values: Value) -> tuple[WorkedStep, ...]:
    """List the steps that lead to some values, each once, inputs before results."""
    found: dict[int, WorkedStep] = {}

    def visit(value: Value) -> None:
        if value.step is None or id(value.step) in found:
            return
        for inner in value.step.flat:
            visit(inner)
        found[id(value.step)] = WorkedStep(
            len(found) + 1, value, value.step, declaration(value.step.fn)
        )

    for value in values:
        visit(value)
    return tuple(found.values())


def inputs_of(*values: Value) -> tuple[Given, ...]:
    """List the inputs that some values go back to, in order of first use."""
    found: dict[Given, None] = {}
    for leaf in leaves(*values):
        if leaf.given is not None:
            found[leaf.given] = None
    return tuple(found)


def leaves(*values: Value) -> Iterator[Value]:
    """Walk the values that were not worked out, in order of first use."""
    for value in values:
        if value.step is None:
            yield value
    for worked in steps_of(*values):
        yield from (value for value in worked.step.flat if value.step is None)


def formula_text(formula: Formula) -> str:
    """Write the return expression with the arguments' words."""
    return _Writer(argument_words, {}).write(formula.expression)


def looped(node: ast.GeneratorExp) -> tuple[list[str], list[str]]:
    """List the names that a sum goes through, and the sequences that they are taken from."""
    loop = node.generators[0]
    sequences = loop.iter.args if isinstance(loop.iter, ast.Call) else [loop.iter]
    names = loop.target.elts if isinstance(loop.target, ast.Tuple) else [loop.target]
    return [ast.unparse(name) for name in names], [ast.unparse(each) for each in sequences]


def one_of(sequence: str) -> str:
    """Name one member of a sequence."""
    if sequence == "masses":
        return "mass"
    if sequence.endswith("ies"):
        return f"{sequence[:-3]}y"
    return sequence.removesuffix("s")


def argument_words(name: str) -> str:
    """Write the name of an argument or constant as words."""
    return name.replace("_", " ").lower() if name.isupper() else name.replace("_", " ")


def numbers_text(worked: WorkedStep, taste: Taste, numbering: dict[int, int]) -> str:
    """Write the return expression with numbers and units, and the steps they come from."""
    single = {
        name: f"{number:g}"
        for name, number in worked.formula.constants.items()
        if isinstance(number, float)
    }
    many: dict[str, Sequence[str]] = {}
    for argument, given in zip(worked.formula.arguments, worked.step.arguments, strict=True):
        if isinstance(given, Value):
            single[argument.name] = _number(given, taste, numbering)
        else:
            many[argument.name] = [_number(each, taste, numbering) for each in given]
    return _Writer(lambda name: single.get(name, name), many).write(worked.formula.expression)


def where_from(worked: WorkedStep) -> str:
    """Name the inputs that a step takes directly from the build."""
    pieces = []
    for argument, given in zip(worked.formula.arguments, worked.step.arguments, strict=True):
        if isinstance(given, Value) and given.given is not None:
            pieces.append(f"{argument.name.replace('_', ' ')} is {given.given.path}")
        elif isinstance(given, Value) and given.label:
            pieces.append(f"{argument.name.replace('_', ' ')} is {given.label}")
    return ", ".join(pieces)


def rows_of(worked: WorkedStep, taste: Taste) -> tuple[tuple[str, ...], ...]:
    """List the members of a sum: what each is, and its numbers.

    A formula may take several sums, of unlike many members: they come one behind the other.
    """
    columns = [given for given in worked.step.arguments if not isinstance(given, Value)]
    return tuple(
        (_name(row), *(_number(value, taste, {}) for value in row))
        for _, alike in groupby(columns, key=len)
        for row in zip(*alike, strict=True)
    )


def _name(row: Sequence[Value]) -> str:
    first = row[0]
    if first.step is None and first.given is None and first.label and len(row) > 1:
        return first.label
    for value in row:
        for origin in value.effects:
            return origin.label.partition(":")[0]
        for lack in value.lacks:
            return lack.label.partition(":")[0]
    return row[0].label


def _number(value: Value, taste: Taste, numbering: dict[int, int]) -> str:
    if value.number is None:
        return "none" if value.absent else "?"
    text = write(value.number, value.kind, taste)
    place = numbering.get(id(value.step)) if value.step is not None else None
    if text.startswith("-"):
        text = f"({text})"
    return f"{text} ({place})" if place else text


def _is_power(node: ast.Call) -> bool:
    return ast.unparse(node.func) in ("pow", "math.pow")


def _is_written_out(node: ast.Call) -> bool:
    """Say whether a call is written by signs instead of by its name and brackets."""
    return _is_power(node) or ast.unparse(node.func) in ("sum", "prod", "math.prod")


class _Writer:
    """Writes an expression; sums over sequences are written out while they are short."""

    def __init__(self, name: Callable[[str], str], many: dict[str, Sequence[str]]) -> None:
        self.name = name
        self.many = many

    def write(self, node: ast.expr, outer: int = 0) -> str:
        match node:
            case ast.BinOp(left=left, op=ast.Pow(), right=right):
                return self.power(left, right)
            case ast.BinOp(left=left, op=op, right=right):
                sign, rank = _OPERATORS[type(op)]
                text = f"{self.write(left, rank)}{sign}{self.write(right, rank + 1)}"
                return f"({text})" if rank < outer else text
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return f"-{self.write(operand, 3)}"
            case ast.Name(id=name):
                return self.name(name)
            case ast.Attribute(attr="pi"):
                return "π"
            case ast.Constant(value=value):
                return f"{value:g}" if isinstance(value, int | float) else str(value)
            case ast.Subscript(value=ast.Name(id=table), slice=key):
                return f"{table.lower().replace('_', ' ')}[{self.write(key)}]"
            case ast.Call():
                return self.call(node, outer)
            case _:
                return ast.unparse(node)

    def power(self, base: ast.expr, exponent: ast.expr) -> str:
        """Write a power; brackets wherever the base is more than one bare word."""
        texts = []
        for part in (base, exponent):
            text = self.write(part)
            word = isinstance(part, ast.Call) and not _is_written_out(part)
            bare = isinstance(part, ast.Name | ast.Constant) and self.bare(part, text)
            texts.append(text if word or bare else f"({text})")
        return "^".join(texts)

    def bare(self, part: ast.expr, text: str) -> bool:
        """Say whether a name or number needs no brackets as part of a power."""
        named = isinstance(part, ast.Name) and text == argument_words(part.id)
        return named or " " not in text or _BRACKETED.fullmatch(text) is not None

    def call(self, node: ast.Call, outer: int) -> str:
        name = node.func.attr if isinstance(node.func, ast.Attribute) else ast.unparse(node.func)
        if name == "sum":
            text = self.sum(node.args[0])
            return f"({text})" if outer > 1 and (" + " in text or text[:4] == "sum ") else text
        if _is_power(node):
            return self.power(*node.args)
        if name == "prod":
            return self.product(ast.unparse(node.args[0]), outer)
        args = [
            ", ".join(self.many.get(ast.unparse(arg), ())) or self.write(arg) for arg in node.args
        ]
        if name == "abs":
            return f"|{args[0]}|"
        return f"{name}({', '.join(args)})"

    def product(self, word: str, outer: int) -> str:
        if word not in self.many:
            return f"product of {word.replace('_', ' ')}"
        text = " · ".join(self.many[word])
        return f"({text})" if outer > _OPERATORS[ast.Mult][1] else text

    def sum(self, node: ast.expr) -> str:
        if not isinstance(node, ast.GeneratorExp):
            return self.sequence(node)
        names, words = looped(node)
        if words[0] not in self.many:
            singular = dict(zip(names, map(one_of, words), strict=True))
            inner = _Writer(lambda name: singular.get(name) or self.name(name), {})
            return f"sum of {inner.write(node.elt, 2)}"
        return self.members(node.elt, names, words)

    def sequence(self, node: ast.expr) -> str:
        word = ast.unparse(node)
        if word not in self.many:
            return f"sum of {word.replace('_', ' ')}"
        return self.shortened(self.many[word])

    def members(self, element: ast.expr, names: Sequence[str], words: Sequence[str]) -> str:
        rows = list(zip(*(self.many[word] for word in words), strict=True))
        texts = []
        for row in rows[: _WRITTEN_OUT + 1]:
            bound = dict(zip(names, row, strict=True))
            inner = _Writer(lambda name, bound=bound: bound.get(name) or self.name(name), {})  # type: ignore[misc]
            texts.append(inner.write(element, 1))
        return self.shortened(texts + ["…"] * (len(rows) - len(texts)))

    def shortened(self, texts: Sequence[str]) -> str:
        if not texts:
            return "0"
        if len(texts) <= _WRITTEN_OUT + 1:
            return " + ".join(texts)
        return f"{' + '.join(texts[:_WRITTEN_OUT])} + … {len(texts) - _WRITTEN_OUT} more"
