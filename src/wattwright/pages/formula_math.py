"""A formula for the typesetter: fractions as fractions, roots as roots, words upright.

It is written from the function's own return expression, the same that ``working`` writes as text.
Every word comes from the name of an argument, a constant or a symbol, and stands in quotes.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Mapping

from wattwright.formula import Formula
from wattwright.working import argument_words, looped, one_of

_SUM, _PRODUCT, _SIGNED, _ATOM = 1, 2, 3, 4
_FUNCTIONS = {
    "asin": "arcsin",
    "acos": "arccos",
    "atan": "arctan",
    "asinh": '"arsinh"',
    "log": "ln",
    **{name: name for name in ("sin", "cos", "tan", "sinh", "cosh", "min", "max")},
}
_HATS = {"ê": "e", "î": "i", "û": "u"}
_POWER_OF_TEN = re.compile(r"(.*)e([+-]\d+)")


def formula_math(formula: Formula) -> str:
    """Write the return expression of a formula as mathematics."""
    return _Writer({}).write(formula.expression)


def symbol_math(symbol: str) -> str:
    """Write the symbol of a result, such as ``m_axle`` or ``Δm/m``."""
    over, slash, under = symbol.partition("/")
    if slash:
        return f"frac({symbol_math(over)}, {symbol_math(under)})"
    base, _, index = symbol.partition("_")
    change, base = (base[0] + " ", base[1:]) if base[0] in "ΔΣ" and base[1:] else ("", base)
    if base in _HATS:
        base = f"hat({_HATS[base]})"
    elif len(base) > 1:
        # A digit behind a letter counts: f0 is the first of three.
        base = f"{base[0]}_{base[1]}" if base[1:].isdigit() else _quoted(base)
    return f"{change}{base}" + (f"_{_quoted(index)}" if index else "")


def _quoted(words: str) -> str:
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _number(value: float) -> str:
    text = f"{value:g}"
    if found := _POWER_OF_TEN.fullmatch(text):
        return f"{found[1]} dot 10^({int(found[2])})"
    return text


class _Writer:
    """Writes an expression; ``names`` says what a name inside a sum stands for."""

    def __init__(self, names: Mapping[str, str]) -> None:
        self.names = names

    def write(self, node: ast.expr, outer: int = 0) -> str:
        text, rank = self.ranked(node)
        return f"({text})" if rank < outer else text

    def ranked(self, node: ast.expr) -> tuple[str, int]:
        """Write an expression, and say how tightly it holds together."""
        match node:
            case ast.BinOp(left=left, op=ast.Pow(), right=right):
                return self.power(left, right), _ATOM
            case ast.BinOp(left=left, op=ast.Div(), right=right):
                return f"frac({self.write(left)}, {self.write(right)})", _PRODUCT
            case ast.BinOp(left=left, op=ast.Mult(), right=right):
                text = f"{self.write(left, _PRODUCT)} dot {self.write(right, _PRODUCT)}"
                return text, _PRODUCT
            case ast.BinOp(left=left, op=op, right=right):
                sign = "+" if isinstance(op, ast.Add) else "-"
                return f"{self.write(left, _SUM)} {sign} {self.write(right, _PRODUCT)}", _SUM
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return f"-{self.write(operand, _SIGNED)}", _SUM
            case ast.Call():
                return self.call(node)
            case _:
                return self.single(node)

    def single(self, node: ast.expr) -> tuple[str, int]:
        """Write what is no sum, product or function."""
        match node:
            case ast.Name(id=name):
                return _quoted(self.names.get(name) or argument_words(name)), _ATOM
            case ast.Attribute(attr="pi"):
                return "pi", _ATOM
            case ast.Constant(value=int() | float() as value):
                text = _number(value)
                return text, _PRODUCT if "dot" in text else _ATOM
            case ast.Subscript(value=ast.Name(id=table), slice=key):
                return f"{_quoted(argument_words(table))}_({self.write(key)})", _ATOM
            case _:
                return _quoted(ast.unparse(node).replace("_", " ")), _ATOM

    def power(self, base: ast.expr, exponent: ast.expr) -> str:
        # A root or a name holds together; a fraction under a power needs its brackets.
        inner = self.write(base, _ATOM)
        return f"{inner}^({self.write(exponent)})"

    def call(self, node: ast.Call) -> tuple[str, int]:
        name = node.func.attr if isinstance(node.func, ast.Attribute) else ast.unparse(node.func)
        match name, node.args:
            case "sqrt", [inner]:
                return f"sqrt({self.write(inner)})", _ATOM
            case "hypot", sides:
                squares = " + ".join(f"{self.write(side, _ATOM)}^2" for side in sides)
                return f"sqrt({squares})", _ATOM
            case "abs", [inner]:
                return f"abs({self.write(inner)})", _ATOM
            case "floor", [inner]:
                return f"floor({self.write(inner)})", _ATOM
            case "pow", [base, exponent]:
                return self.power(base, exponent), _ATOM
            case "sum", [inner]:
                return f"sum {self.members(inner)}", _SUM
            case "prod", [inner]:
                return f"product {self.members(inner)}", _SUM
            case "min" | "max", [ast.GeneratorExp(generators=[loop]) as inner]:
                held = ", ".join(map(self.condition, loop.ifs))
                return f"{name} {{{self.write(inner.elt)} | {held}}}", _PRODUCT
        arguments = ", ".join(self.write(each) for each in node.args)
        return f"{_FUNCTIONS.get(name) or _quoted(name)}({arguments})", _ATOM

    def condition(self, node: ast.expr) -> str:
        """Write what must hold for a member to count."""
        match node:
            case ast.Compare(left=left, ops=[ast.GtE()], comparators=[right]):
                return f"{self.write(left)} >= {self.write(right)}"
            case _:
                return _quoted(ast.unparse(node).replace("_", " "))

    def members(self, node: ast.expr) -> str:
        """Write what is added up or multiplied: one member stands for all."""
        if not isinstance(node, ast.GeneratorExp):
            return _quoted(one_of(argument_words(ast.unparse(node))))
        names, words = looped(node)
        inner = {
            name: argument_words(one_of(word)) for name, word in zip(names, words, strict=True)
        }
        return _Writer({**self.names, **inner}).write(node.elt, _PRODUCT)
