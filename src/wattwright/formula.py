"""Formulas as data: what a physics function computes, with which symbols, from which source.

``@formula`` marks a plain function and returns it unchanged. What the working shows is read from
the function's own return expression, so there is no second text that could drift away from it.
A formula's body is its docstring, guards that raise, and one ``return``.
"""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal, TypeVar, get_args, get_origin, get_type_hints

from wattwright.errors import FormulaError
from wattwright.kinds import Kind

Flag = Literal["seen", "memory", "computed", "practice"]
Function = TypeVar("Function", bound=Callable[..., float])
Gradient = Callable[..., Sequence[float | Sequence[float]]]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a formula, a row or a limit comes from, and how well that is known.

    ``flag``: ``seen`` read in a copy of the source; ``memory`` not yet read again; ``computed``
    follows from definitions; ``practice`` is common practice of the trade.
    """

    title: str
    locator: str = ""
    flag: Flag = "seen"

    def __str__(self) -> str:
        text = f"{self.title}, {self.locator}" if self.locator else self.title
        return {
            "seen": text,
            "computed": text,
            "memory": f"{text} (from memory, not checked)",
            "practice": f"{text} (common practice)",
        }[self.flag]


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument of a formula: a number of some kind, or a sequence of such numbers."""

    name: str
    kind: Kind
    many: bool


@dataclass(frozen=True, slots=True)
class Asked:
    """How an argument is asked for where no build gives it: in words, with a text that would do."""

    label: str
    example: str


@dataclass(frozen=True)
class Formula:
    """The declaration of one physics function."""

    fn: Callable[..., float]
    symbol: str
    source: Source
    valid: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    gradient: Gradient | None = None
    method: str = ""

    @property
    def name(self) -> str:
        """Address of the formula: the module's textbook word and the function."""
        return f"{self.fn.__module__.rpartition('.')[2]}.{self.fn.__name__}"

    @cached_property
    def says(self) -> str:
        """First line of the docstring, without its full stop."""
        return (inspect.getdoc(self.fn) or "").partition("\n")[0].rstrip(".")

    @cached_property
    def arguments(self) -> tuple[Argument, ...]:
        """The arguments in order, with the kinds their annotations name."""
        hints = get_type_hints(self.fn, include_extras=True)
        names = inspect.signature(self.fn).parameters
        return tuple(_argument(self.fn, name, hints.get(name)) for name in names)

    def asked(self, argument: Argument) -> Asked:
        """How to ask for an argument, from the table ``ASKED`` of the function's module.

        A key names the argument wherever it stands in the module, or with the function before it
        where the same word means two things. Without an entry the name itself is asked for.
        """
        known: Mapping[str, tuple[str, str]] = self.fn.__globals__.get("ASKED", {})
        for key in (f"{self.fn.__name__}.{argument.name}", argument.name):
            if key in known:
                return Asked(*known[key])
        return Asked(argument.name.replace("_", " "), argument.kind.example)

    @cached_property
    def units(self) -> tuple[str, ...]:
        """SI unit of each argument, in order."""
        return tuple(argument.kind.si for argument in self.arguments)

    @cached_property
    def kind(self) -> Kind:
        """Kind of the result."""
        hints = get_type_hints(self.fn, include_extras=True)
        return _argument(self.fn, "return", hints.get("return")).kind

    @cached_property
    def expression(self) -> ast.expr:
        """The function's own return expression."""
        tree = ast.parse(textwrap.dedent(inspect.getsource(self.fn))).body[0]
        if not isinstance(tree, ast.FunctionDef):
            raise FormulaError(f"{self.name} is not a plain function")
        *before, last = tree.body
        if not isinstance(last, ast.Return) or last.value is None:
            raise FormulaError(f"{self.name} must end in one return with an expression")
        if not self.method and not all(_docstring_or_guard(statement) for statement in before):
            raise FormulaError(f"{self.name} works outside its return expression")
        return last.value

    @cached_property
    def constants(self) -> dict[str, float | list[tuple[float, float]]]:
        """Numbers and tables of the function's module that its expression names."""
        names = {node.id for node in ast.walk(self.expression) if isinstance(node, ast.Name)}
        scope = self.fn.__globals__
        found: dict[str, float | list[tuple[float, float]]] = {}
        for name in sorted(names):
            if isinstance(scope.get(name), int | float):
                found[name] = float(scope[name])
            elif isinstance(scope.get(name), dict):
                found[name] = [(float(key), float(row)) for key, row in scope[name].items()]
        return found

    def beyond(self, numbers: Sequence[Any]) -> tuple[Argument, ...]:
        """Arguments that lie outside the range the source vouches for."""
        return tuple(
            argument
            for argument, number in zip(self.arguments, numbers, strict=True)
            if argument.name in self.valid
            and not _within(number if argument.many else (number,), self.valid[argument.name])
        )

    def outside(self, numbers: Sequence[Any]) -> tuple[str, ...]:
        """Say which arguments lie outside the range the source vouches for."""
        if not self.valid:
            return ()
        notes = []
        for argument in self.beyond(numbers):
            low, high = self.valid[argument.name]
            word = argument.name.replace("_", " ")
            notes.append(f"{word} is outside {low:g} to {high:g} {argument.kind.si}".strip())
        return tuple(notes)


def _within(numbers: Sequence[float], limits: tuple[float, float]) -> bool:
    low, high = limits
    return all(low <= number <= high for number in numbers)


def _docstring_or_guard(statement: ast.stmt) -> bool:
    match statement:
        case ast.Expr(value=ast.Constant(value=str())):
            return True
        case ast.If(body=[ast.Raise()], orelse=[]):
            return True
        case _:
            return False


def _argument(fn: Callable[..., float], name: str, hint: Any) -> Argument:
    many = get_origin(hint) is Sequence
    if many:
        hint = get_args(hint)[0]
    for extra in getattr(hint, "__metadata__", ()):
        if isinstance(extra, Kind):
            return Argument(name, extra, many)
    raise FormulaError(f"{fn.__module__}.{fn.__name__}: {name} names no kind")


FORMULAS: dict[Callable[..., float], Formula] = {}


def formula(
    symbol: str,
    source: Source,
    valid: Mapping[str, tuple[float, float]] | None = None,
    gradient: Gradient | None = None,
    method: str = "",
) -> Callable[[Function], Function]:
    """Declare a physics function; the function itself is returned unchanged.

    ``valid`` gives, per argument and in SI, the range the source vouches for. ``gradient`` gives
    exact partial derivatives where there are many arguments. ``method`` says in words how an
    iterative result is reached; such a formula owes a check against something outside.
    """

    def mark(fn: Function) -> Function:
        FORMULAS[fn] = Formula(fn, symbol, source, valid or {}, gradient, method)
        return fn

    return mark


def declaration(fn: Callable[..., float]) -> Formula:
    """Find what was declared about a physics function."""
    try:
        return FORMULAS[fn]
    except KeyError:
        name = getattr(fn, "__name__", repr(fn))
        raise FormulaError(f"{name} is not a declared formula; mark it with @formula") from None
