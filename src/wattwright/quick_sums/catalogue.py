"""The sums there are: every formula of the physics modules that a person can fill in by hand."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache, cached_property

from wattwright.errors import FormulaError, UsageError
from wattwright.formula import FORMULAS, Formula
from wattwright.kinds import ANYTHING, Kind
from wattwright.quick_sums.answers import Answer, answer
from wattwright.quick_sums.blanks import Blank, blank_for
from wattwright.units import Taste
from wattwright.working import formula_text

_QUOTED = re.compile(r"``([^`]+)``")


@dataclass(frozen=True)
class Sum:
    """One formula with blanks to fill in. ``topic`` is what its module is about."""

    formula: Formula
    topic: str
    arguments: tuple[Blank, ...]

    @property
    def name(self) -> str:
        """Stable name: module and function, as ``road_load.air_force``."""
        return self.formula.name

    @property
    def says(self) -> str:
        """What it gives."""
        return self.formula.says

    @cached_property
    def more(self) -> str:
        """What else there is to know: the formula in symbols, and where it holds."""
        _, _, rest = (inspect.getdoc(self.formula.fn) or "").partition("\n")
        return _QUOTED.sub(lambda match: match[1].replace("_", " "), rest.strip())

    @property
    def symbol(self) -> str:
        """Symbol of the result."""
        return self.formula.symbol

    @property
    def kind(self) -> Kind:
        """Kind of the result."""
        return self.formula.kind

    @cached_property
    def text(self) -> str:
        """The formula with the words of its arguments."""
        return formula_text(self.formula)

    @property
    def method(self) -> str:
        """How the result is reached, where the formula alone does not say it."""
        return self.formula.method

    @property
    def source(self) -> str:
        """Where the formula comes from, and how well that is known."""
        return str(self.formula.source)

    @property
    def examples(self) -> dict[str, str]:
        """One text for each argument, which together have a result."""
        return {blank.name: blank.example for blank in self.arguments}

    def work(self, texts: Mapping[str, str], taste: Taste = "metric") -> Answer:
        """Work it out from what was typed for each argument, by name. Nothing typed raises."""
        return answer(self.formula, self.arguments, texts, taste)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A formula that no sum can be made of, and why."""

    name: str
    says: str
    why: str


@cache
def sums() -> tuple[Sum, ...]:
    """List the sums, by module and in the order of declaration."""
    return tuple(sum_of(formula) for formula in _formulas() if not why_left_out(formula))


@cache
def left_out() -> tuple[LeftOut, ...]:
    """List the formulas that are no sums."""
    without = ((formula, why_left_out(formula)) for formula in _formulas())
    return tuple(LeftOut(formula.name, formula.says, why) for formula, why in without if why)


def find(name: str) -> Sum:
    """Find a sum by its name. Raises UsageError with the nearest names."""
    known = {each.name: each for each in sums()}
    if name in known:
        return known[name]
    for each in left_out():
        if each.name == name:
            raise UsageError(f"{name} is no quick sum: it {each.why}")
    endings = {full.partition(".")[2]: full for full in known}
    near = get_close_matches(name, [*known, *endings], n=3, cutoff=0.5)
    full_names = dict.fromkeys(endings.get(each, each) for each in near)
    hint = f"; near it: {', '.join(full_names)}" if near else ""
    raise UsageError(f"there is no quick sum {name!r}{hint}")


def search(words: str) -> list[Sum]:
    """List the sums in which every word stands; first those that it stands in name or result of."""
    wanted = words.casefold().split()
    found = [each for each in sums() if all(word in _all_words(each) for word in wanted)]
    return sorted(found, key=lambda each: -sum(word in _first_words(each) for word in wanted))


def sum_of(formula: Formula) -> Sum:
    """Make the sum of a formula."""
    module = inspect.getmodule(formula.fn)
    topic = (inspect.getdoc(module) or "").partition("\n")[0].rstrip(".")
    blanks = tuple(blank_for(formula, argument) for argument in formula.arguments)
    return Sum(formula, topic, blanks)


def why_left_out(formula: Formula) -> str:
    """Say why no sum can be made of a formula; empty where one can."""
    try:
        kinds = [formula.kind, *(argument.kind for argument in formula.arguments)]
    except FormulaError:
        return "takes or gives something that is neither a number nor a list of numbers"
    if ANYTHING in kinds:
        return "takes quantities of any kind, so that no unit can be asked for"
    return ""


@cache
def _formulas() -> tuple[Formula, ...]:
    from wattwright import physics

    for module in pkgutil.iter_modules(physics.__path__):
        importlib.import_module(f"{physics.__name__}.{module.name}")
    own = (each for each in FORMULAS.values() if each.fn.__module__.startswith(physics.__name__))
    # Within a module they stand in the order of declaration, which sorting keeps.
    return tuple(sorted(own, key=lambda each: each.fn.__module__))


def _first_words(each: Sum) -> str:
    return f"{each.name.replace('_', ' ')} {each.name} {each.says}".casefold()


def _all_words(each: Sum) -> str:
    return f"{_first_words(each)} {each.topic} {each.source}".casefold()
