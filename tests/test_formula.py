"""What a formula declares, and that the working can rely on it for every formula there is."""

from __future__ import annotations

import ast
import builtins
import importlib
import inspect
import math
import pkgutil
from collections.abc import Sequence
from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright import physics
from wattwright.errors import FormulaError
from wattwright.formula import FORMULAS, Argument, Formula, Source, declaration, formula
from wattwright.kinds import LENGTH, MASS, MOMENT_OF_MASS, Length, Mass, MomentOfMass

for module in pkgutil.iter_modules(physics.__path__):
    importlib.import_module(f"{physics.__name__}.{module.name}")

PHYSICS = [each for each in FORMULAS.values() if each.fn.__module__.startswith(physics.__name__)]
WITH_GRADIENT = [each for each in PHYSICS if each.gradient is not None]

BOOK = Source("A book", "p. 3", "seen")
LIMIT = 5.0
STEPS = {1.0: 10.0, 2.0: 20.0}
SEEN: list[float] = []


@formula("y", BOOK, valid={"mass": (1.0, 10.0), "lengths": (0.0, 2.0)})
def toy(mass: Mass, lengths: Sequence[Length]) -> MomentOfMass:
    """Moment of a toy.

    More words.
    """
    if mass < 0:
        raise FormulaError("below zero")
    return mass * sum(length for length in lengths) + min(mass, LIMIT) * sqrt(4)


@formula("z", BOOK)
def looked_up(mass: Mass) -> Mass:
    """Row of a table."""
    return STEPS[mass]


@formula("w", BOOK)
def works_before(mass: Mass) -> Mass:
    """Work outside the return."""
    double = 2 * mass
    return double  # noqa: RET504 - the work under test


@formula("w", BOOK, method="by halves until it no longer moves")
def iterates(mass: Mass) -> Mass:
    """Work in steps, with words for it."""
    for _ in range(3):
        mass = mass / 2
    return mass


@formula("w", BOOK)
def works_in_else(mass: Mass) -> Mass:
    """Work hidden behind a guard."""
    if mass < 0:
        raise FormulaError("below zero")
    else:  # noqa: RET506 - the place where work could hide
        mass = mass + 1
    return mass


@formula("w", BOOK)
def works_in_statement(mass: Mass) -> Mass:
    """Work in a statement that is no docstring."""
    SEEN.append(mass)
    return SEEN[-1]


@formula("w", BOOK)
def without_return(mass: Mass) -> Mass:
    """Return nothing."""
    raise FormulaError(str(mass))


@formula("w", BOOK)
def without_kind(mass: float) -> Mass:
    """Take a number of no kind."""
    return mass


@formula("w", BOOK)
def without_result_kind(mass: Mass) -> float:
    """Give a number of no kind."""
    return mass


def test_marking_returns_the_function_unchanged() -> None:
    def plain(mass: Mass) -> Mass:
        """Stay as it is."""
        return mass

    assert formula("m", BOOK)(plain) is plain
    assert declaration(plain).fn is plain
    assert plain(3.0) == 3.0


def test_a_function_that_was_never_declared_is_refused_by_name() -> None:
    def stranger(mass: Mass) -> Mass:
        return mass

    with pytest.raises(FormulaError, match=r"stranger is not a declared formula.*@formula"):
        declaration(stranger)


def test_name_words_arguments_and_kinds() -> None:
    declared = declaration(toy)
    assert declared.name == "test_formula.toy"
    assert declared.says == "Moment of a toy"
    assert declared.symbol == "y"
    assert declared.arguments == (
        Argument("mass", MASS, many=False),
        Argument("lengths", LENGTH, many=True),
    )
    assert declared.kind is MOMENT_OF_MASS


def test_the_expression_is_the_return_expression() -> None:
    expression = declaration(toy).expression
    want = "mass * sum(length for length in lengths) + min(mass, LIMIT) * sqrt(4)"
    assert ast.dump(expression) == ast.dump(ast.parse(want, mode="eval").body)
    scope = {"mass": 3.0, "lengths": [1.0, 2.0], "LIMIT": LIMIT, "sqrt": sqrt}
    assert eval(ast.unparse(expression), scope) == toy(3.0, [1.0, 2.0])


def test_constants_and_tables_of_the_module_are_found() -> None:
    assert declaration(toy).constants == {"LIMIT": 5.0}
    assert declaration(looked_up).constants == {"STEPS": [(1.0, 10.0), (2.0, 20.0)]}


@pytest.mark.parametrize("fn", [works_before, works_in_else, works_in_statement])
def test_work_outside_the_return_is_refused(fn: object) -> None:
    with pytest.raises(FormulaError, match="works outside its return expression"):
        _ = declaration(fn).expression  # type: ignore[arg-type]


def test_work_is_allowed_where_a_method_says_how() -> None:
    assert ast.unparse(declaration(iterates).expression) == "mass"


def test_a_formula_without_a_return_is_refused() -> None:
    with pytest.raises(FormulaError, match="must end in one return"):
        _ = declaration(without_return).expression


def test_only_plain_functions_have_an_expression() -> None:
    unnamed = lambda mass: mass  # noqa: E731 - the thing under test
    with pytest.raises(FormulaError, match="is not a plain function"):
        _ = Formula(unnamed, "m", BOOK).expression


def test_every_argument_and_the_result_must_name_a_kind() -> None:
    with pytest.raises(FormulaError, match="without_kind: mass names no kind"):
        _ = declaration(without_kind).arguments
    with pytest.raises(FormulaError, match="without_result_kind: return names no kind"):
        _ = declaration(without_result_kind).kind


@pytest.mark.parametrize(
    ("numbers", "notes"),
    [
        ((5.0, (0.5, 1.0)), ()),
        ((1.0, (0.0, 2.0)), ()),
        ((10.5, (0.5,)), ("mass is outside 1 to 10 kg",)),
        ((5.0, (0.5, 2.5)), ("lengths is outside 0 to 2 m",)),
        ((0.5, (-1.0,)), ("mass is outside 1 to 10 kg", "lengths is outside 0 to 2 m")),
    ],
)
def test_numbers_outside_the_vouched_range_are_noted(
    numbers: tuple[float, tuple[float, ...]], notes: tuple[str, ...]
) -> None:
    assert declaration(toy).outside(numbers) == notes
    assert declaration(looked_up).outside((99.0,)) == ()


@pytest.mark.parametrize(
    ("source", "text"),
    [
        (Source("T"), "T"),
        (Source("T", "eq. 3", "computed"), "T, eq. 3"),
        (Source("T", "eq. 3", "memory"), "T, eq. 3 (from memory, not checked)"),
        (Source("T", "", "practice"), "T (common practice)"),
    ],
)
def test_a_source_says_how_well_it_is_known(source: Source, text: str) -> None:
    assert str(source) == text


def bound_names(node: ast.AST) -> set[str]:
    loops = [inner for inner in ast.walk(node) if isinstance(inner, ast.comprehension)]
    return {
        name.id for loop in loops for name in ast.walk(loop.target) if isinstance(name, ast.Name)
    }


def test_there_are_formulas_in_every_module_of_physics() -> None:
    with_formulas = {each.fn.__module__.rpartition(".")[2] for each in PHYSICS}
    assert with_formulas == {module.name for module in pkgutil.iter_modules(physics.__path__)}
    assert len({each.name for each in PHYSICS}) == len(PHYSICS)


@pytest.mark.parametrize("declared", PHYSICS, ids=lambda each: each.name)
def test_every_formula_can_be_shown_and_recomputed_elsewhere(declared: Formula) -> None:
    names = {node.id for node in ast.walk(declared.expression) if isinstance(node, ast.Name)}
    arguments = {argument.name for argument in declared.arguments}
    constants = set(declared.constants)
    functions = {name for name in dir(math) if not name.startswith("_")} | {"math"}
    allowed = {"sum", "zip", "min", "max", "abs"}
    assert allowed <= set(dir(builtins))
    unknown = names - arguments - constants - functions - allowed - bound_names(declared.expression)
    assert unknown == set()
    # A name with two meanings would be recomputed with the wrong one.
    assert not arguments & constants
    assert not (arguments | constants) & (functions | allowed)
    assert arguments <= names


@pytest.mark.parametrize("declared", PHYSICS, ids=lambda each: each.name)
def test_every_formula_says_what_it_is_and_where_from(declared: Formula) -> None:
    first, *more = (inspect.getdoc(declared.fn) or "").split("\n")
    assert declared.says
    assert first.endswith(".")
    assert not more or more[0] == ""
    assert declared.symbol.strip()
    assert declared.source.title.strip()
    assert declared.arguments
    assert declared.kind.si is not None
    names = {argument.name for argument in declared.arguments}
    assert set(declared.valid) <= names
    assert all(low < high for low, high in declared.valid.values())


amounts = st.floats(0.1, 1000.0)


def row_of(declared: Formula, size: int) -> st.SearchStrategy[tuple[object, ...]]:
    signed = st.floats(-4.0, 4.0)
    of_kind = {"mass": amounts, "length": st.floats(1.2, 5.5)}
    return st.tuples(
        *(
            st.lists(of_kind.get(a.kind.name, signed), min_size=size, max_size=size)
            if a.many
            else of_kind.get(a.kind.name, signed)
            for a in declared.arguments
        )
    )


def central(
    declared: Formula, numbers: tuple[object, ...], place: int, index: int | None
) -> tuple[float, float]:
    """Slope by central differences, and how far off it may be."""

    def at(shift: float) -> float:
        moved = list(numbers)
        if index is None:
            moved[place] += shift  # type: ignore[operator]
        else:
            moved[place] = list(moved[place])  # type: ignore[call-overload]
            moved[place][index] += shift  # type: ignore[index]
        return declared.fn(*moved)

    step = 1e-4
    size = max(abs(at(step)), abs(at(-step)), 1.0)
    return (at(step) - at(-step)) / (2 * step), 1e-9 * size / step


@pytest.mark.parametrize("declared", WITH_GRADIENT, ids=lambda each: each.name)
@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_every_gradient_is_what_differences_give(declared: Formula, data: st.DataObject) -> None:
    numbers = data.draw(st.integers(1, 5).flatmap(lambda size: row_of(declared, size)))
    assert declared.gradient is not None
    slopes = declared.gradient(*numbers)
    assert len(slopes) == len(declared.arguments)
    for place, (argument, slope) in enumerate(zip(declared.arguments, slopes, strict=True)):
        if not argument.many:
            want, off = central(declared, numbers, place, None)
            assert slope == pytest.approx(want, rel=1e-5, abs=off + 1e-5)
            continue
        assert len(slope) == len(numbers[place])  # type: ignore[arg-type]
        for index, part in enumerate(slope):  # type: ignore[arg-type]
            want, off = central(declared, numbers, place, index)
            assert part == pytest.approx(want, rel=1e-5, abs=off + 1e-5)


def test_some_formulas_have_a_gradient() -> None:
    assert len(WITH_GRADIENT) >= 5
