"""The working as text: the function's own expression, with words and with numbers."""

from __future__ import annotations

import ast
import re
from collections.abc import Sequence
from math import prod, sqrt

import pytest

from builders import assessed, figure, finding
from wattwright.cli.explain import working
from wattwright.formula import FORMULAS, Formula, Source, declaration, formula
from wattwright.kinds import LENGTH, MASS, Length, Mass
from wattwright.values import (
    Given,
    Lack,
    Origin,
    Value,
    constant,
    given,
    lacking,
    nonexistent,
    worked,
)
from wattwright.working import formula_text, inputs_of, leaves, numbers_text, rows_of, steps_of

BOOK = Source("A book")
TABLE_OF_STEPS = {1.0: 10.0}


@formula("t", BOOK)
def tree(first_mass: Mass, other: Mass) -> Mass:
    """Brackets and powers."""
    return -(first_mass - (other - 2)) * (first_mass + other) / (other * 2) ** 2


@formula("c", BOOK)
def calls(mass: Mass, other: Mass) -> Mass:
    """Calls."""
    return max(0.0, abs(mass - other)) + sqrt(mass) + TABLE_OF_STEPS[mass]


@formula("s", BOOK)
def summed(masses: Sequence[Mass]) -> Mass:
    """Plain sum."""
    return sum(masses)


@formula("M", BOOK)
def moments(masses: Sequence[Mass], distances: Sequence[Length], base: Length) -> Mass:
    """Sum over two sequences."""
    return sum(m * (1 - x / base) for m, x in zip(masses, distances, strict=True))


@formula("P", BOOK)
def two_sums(masses: Sequence[Mass], other: Sequence[Mass]) -> Mass:
    """Two sums, of which one may have no member."""
    return sum(masses) - sum(other)


@formula("r", BOOK)
def root_of_squares(bands: Sequence[Mass]) -> Mass:
    """Sum over one sequence."""
    return sqrt(sum(band * band for band in bands))


def mass(number: float, label: str = "thing: mass") -> Value:
    return given(MASS, number, Given(label, label, Origin.MEASURED, f"{number:g} kg"))


def length(number: float) -> Value:
    return given(LENGTH, number, Given("x", "x", Origin.MEASURED, f"{number:g} m"))


def text_of(value: Value, *also: Value) -> str:
    steps = steps_of(*also, value)
    numbering = {id(step.step): step.number for step in steps}
    return numbers_text(steps[-1], "metric", numbering)


def test_the_formula_is_written_with_the_words_of_its_arguments() -> None:
    assert formula_text(declaration(tree)) == (
        "-(first mass - (other - 2)) · (first mass + other) / (other · 2)^2"
    )
    assert formula_text(declaration(calls)) == (
        "max(0, |mass - other|) + sqrt(mass) + table of steps[mass]"
    )
    assert formula_text(declaration(summed)) == "sum of masses"
    assert formula_text(declaration(moments)) == "sum of mass · (1 - distance / base)"
    assert formula_text(declaration(root_of_squares)) == "sqrt(sum of band · band)"


@formula("k", BOOK)
def power_of_negative(mass: Mass, other: Mass) -> Mass:
    """Power of a negative."""
    return (-mass) ** 2 + other


@formula("k", BOOK)
def power_of_power(mass: Mass, other: Mass) -> Mass:
    """Power of a power."""
    return (mass**other) ** 3


@formula("k", BOOK)
def power_by_name(mass: Mass, other: Mass) -> Mass:
    """Power of a quotient, by its name."""
    return pow(mass / other, other - 1)


@formula("k", BOOK)
def quotients(mass: Mass, other: Mass) -> Mass:
    """Quotients and differences of each other."""
    return mass / (other / mass) - (mass - (other - mass)) / (mass * other)


@formula("k", BOOK)
def product_of_sum(masses: Sequence[Mass], base: Mass) -> Mass:
    """A sum inside a product."""
    return base * sum(m * base for m in masses)


@formula("k", BOOK)
def squared(mass: Mass) -> Mass:
    """A square."""
    return mass**2


@formula("k", BOOK)
def product(masses: Sequence[Mass], base: Mass) -> Mass:
    """A product of several things under a power."""
    return base ** prod(masses) / prod(masses)


@formula("k", BOOK)
def least(masses: Sequence[Mass]) -> Mass:
    """The least of several things."""
    return min(masses)


def read_back(text: str, words: dict[str, str]) -> ast.expr:
    """Read a written formula as mathematics does: power first, then products, then sums."""
    for word, name in sorted(words.items(), key=lambda pair: -len(pair[0])):
        text = text.replace(word, name)
    text = re.sub(r"\|([^|]*)\|", r"abs(\1)", text.replace(" · ", " * ").replace("^", " ** "))
    return ast.parse(text, mode="eval").body


class _Plain(ast.NodeTransformer):
    """What may differ between a formula and its text: names of functions, 0.0 for 0."""

    def visit_Call(self, node: ast.Call) -> ast.expr:
        self.generic_visit(node)
        if isinstance(node.func, ast.Attribute):
            node.func = ast.Name(node.func.attr, ast.Load())
        if isinstance(node.func, ast.Name) and node.func.id == "pow":
            return ast.BinOp(node.args[0], ast.Pow(), node.args[1])
        return node

    def visit_Constant(self, node: ast.Constant) -> ast.expr:
        return ast.Constant(float(node.value))


SHOWN = [
    *(
        each
        for each in FORMULAS.values()
        if each.fn.__module__.startswith("wattwright.physics")
        and "sum of" not in formula_text(each)
        and "product of" not in formula_text(each)
        and "[" not in formula_text(each)
    ),
    *(declaration(fn) for fn in (tree, power_of_negative, power_of_power, power_by_name)),
    declaration(quotients),
]


@pytest.mark.parametrize("declared", SHOWN, ids=lambda each: each.name)
def test_a_written_formula_means_what_the_function_computes(declared: Formula) -> None:
    words = {each.name.replace("_", " "): each.name for each in declared.arguments}
    words |= {name.replace("_", " ").lower(): name for name in declared.constants}
    words["π"] = "math.pi"
    found = _Plain().visit(read_back(formula_text(declared), words))
    wanted = _Plain().visit(ast.parse(ast.unparse(declared.expression), mode="eval").body)
    assert ast.unparse(found) == ast.unparse(wanted)


def test_a_sum_inside_a_product_keeps_its_brackets() -> None:
    value = worked(product_of_sum, [mass(1.0), mass(2.0)], mass(3.0))
    assert text_of(value) == "3 kg · (1 kg · 3 kg + 2 kg · 3 kg)"


def test_numbers_stand_where_the_words_stood_with_their_units() -> None:
    value = worked(tree, mass(6.0), mass(5.0))
    assert text_of(value) == "-(6 kg - (5 kg - 2)) · (6 kg + 5 kg) / (5 kg · 2)^2"
    value = worked(calls, mass(1.0), mass(5.0))
    assert text_of(value) == "max(0, |1 kg - 5 kg|) + sqrt(1 kg) + table of steps[1 kg]"


def test_a_number_below_zero_is_bracketed_once_in_a_power() -> None:
    assert text_of(worked(tree, mass(6.0), mass(-5.0))).endswith("/ ((-5 kg) · 2)^2")
    assert text_of(worked(root_of_squares, [mass(-2.0)])) == "sqrt((-2 kg) · (-2 kg))"
    assert text_of(worked(squared, mass(-2.0))) == "(-2 kg)^2"
    from_step = worked(summed, [mass(-2.0)])
    assert text_of(worked(squared, from_step)) == "((-2 kg) (1))^2"


def test_products_and_the_least_of_several_are_written_with_all_of_them() -> None:
    several = [mass(1.0), mass(2.0)]
    assert formula_text(declaration(product)) == "base^(product of masses) / product of masses"
    assert text_of(worked(product, several, mass(3.0))) == "(3 kg)^(1 kg · 2 kg) / (1 kg · 2 kg)"
    assert formula_text(declaration(least)) == "min(masses)"
    assert text_of(worked(least, several)) == "min(1 kg, 2 kg)"


def test_numbers_from_steps_name_the_step() -> None:
    first = worked(summed, [mass(1.0), mass(2.0)])
    second = worked(summed, [first, mass(4.0)])
    assert text_of(second) == "3 kg (1) + 4 kg"
    assert text_of(worked(tree, second, first)).startswith("-(7 kg (2) - (3 kg (1) - 2))")


def test_what_is_lacking_or_absent_shows_as_such() -> None:
    missing = lacking(MASS, Lack("x", "x: mass", "unknown"))
    assert text_of(worked(summed, [mass(1.0), missing])) == "1 kg + ?"
    assert text_of(worked(summed, [mass(1.0), nonexistent(MASS)])) == "1 kg + none"


@pytest.mark.parametrize(
    ("count", "text"),
    [
        (0, "0"),
        (1, "1 kg"),
        (3, "1 kg + 2 kg + 3 kg"),
        (4, "1 kg + 2 kg + 3 kg + 4 kg"),
        (5, "1 kg + 2 kg + 3 kg + … 2 more"),
        (40, "1 kg + 2 kg + 3 kg + … 37 more"),
    ],
)
def test_long_sums_are_shortened(count: int, text: str) -> None:
    assert text_of(worked(summed, [mass(1.0 + place) for place in range(count)])) == text


def test_long_sums_over_several_sequences_are_shortened() -> None:
    masses = [mass(1.0 + place) for place in range(7)]
    value = worked(moments, masses, [length(0.5)] * 7, length(2.0))
    assert text_of(value) == (
        "1 kg · (1 - 500 mm / 2000 mm) + 2 kg · (1 - 500 mm / 2000 mm) "
        "+ 3 kg · (1 - 500 mm / 2000 mm) + … 4 more"
    )
    rows = rows_of(steps_of(value)[-1], "metric")
    assert len(rows) == 7
    assert rows[0] == ("thing", "1 kg", "500 mm")
    assert rows[6] == ("thing", "7 kg", "500 mm")


def test_rows_of_two_sums_come_one_behind_the_other() -> None:
    def rows(one: Sequence[Value], two: Sequence[Value]) -> object:
        return rows_of(steps_of(worked(two_sums, one, two))[-1], "metric")

    ones, two = [mass(1.0, "motor: mass"), mass(2.0, "box: mass")], [mass(3.0, "engine: mass")]
    assert rows(ones, two) == (("motor", "1 kg"), ("box", "2 kg"), ("engine", "3 kg"))
    assert rows(ones, []) == (("motor", "1 kg"), ("box", "2 kg"))


def test_rows_name_each_member_and_only_sums_have_them() -> None:
    missing = lacking(MASS, Lack("x", "battery box: mass", "unknown"))
    value = worked(summed, [mass(1.0, "motor: mass"), missing, constant(MASS, 2.0, "exact")])
    rows = rows_of(steps_of(value)[-1], "metric")
    assert rows == (("motor", "1 kg"), ("battery box", "?"), ("exact", "2 kg"))
    assert rows_of(steps_of(worked(tree, mass(1.0), mass(2.0)))[-1], "metric") == ()


def test_steps_come_once_and_inputs_before_results() -> None:
    shared = worked(summed, [mass(1.0), mass(2.0)])
    left, right = worked(summed, [shared, mass(3.0)]), worked(summed, [mass(4.0), shared])
    value = worked(summed, [left, right])
    steps = steps_of(value, shared)
    assert [step.number for step in steps] == [1, 2, 3, 4]
    assert [step.value for step in steps] == [shared, left, right, value]
    assert steps_of(mass(1.0)) == ()


def test_inputs_are_listed_once_in_order_of_first_use() -> None:
    one, two, three = mass(1.0), mass(2.0), mass(3.0)
    value = worked(summed, [two, worked(summed, [one, two])])
    assert inputs_of(value, three) == (three.given, one.given, two.given)
    fixed = constant(MASS, 1.0)
    assert list(leaves(fixed)) == [fixed]
    assert inputs_of(fixed) == ()


@pytest.fixture(scope="module")
def text() -> str:
    return "\n".join(working(finding(assessed(), "vehicle.axle_load@rear/full"), "metric"))


def test_the_text_shows_each_step_with_formula_numbers_result_and_source(text: str) -> None:
    assert text.startswith("axle load, rear, full: marginal, provisional\n")
    assert "  vehicle.axle_load@rear/full" in text
    assert "m_axle = left + right" in text
    assert "= 190 kg + 210 kg" in text
    assert "= 400.0 kg ± 1.4" in text
    assert "source: Definition" in text
    assert "55.0 kg to spare" in text or "55 kg to spare" in text
    assert "under 90 kg to spare is marginal" in text


def test_the_text_refers_to_steps_by_number(text: str) -> None:
    lines = text.splitlines()
    after = next(place for place, line in enumerate(lines) if "before - taken out" in line)
    assert "400 kg (1) - 16 kg (2) + 0 kg" in lines[after + 1]
    for number in (1, 2, 3, 4, 5):
        assert any(line.startswith(f"  {number}. ") for line in lines)


def test_the_text_lists_the_inputs_with_place_and_origin(text: str) -> None:
    flat = " ".join(text.split())
    assert "donor.weighed.rl = 190 kg ± 1, measured, scale, 2026-03-14; line 11" in flat
    assert "part.charger.mass = 10 kg ± 8; assumed; line " in flat
    assert "rules.occupant_mass = 75 kg; rule, answered; engineer; 2026-03-14" in flat


def test_the_text_of_a_figure_has_no_limit() -> None:
    text = "\n".join(working(figure(assessed(), "vehicle.front@kerb"), "metric"))
    assert "limit" not in text
    assert "value   530.0 kg ± 1.9" in text


def test_the_text_says_what_is_not_known_yet() -> None:
    unknown = finding(assessed({"donor.weighed.rl": None}), "vehicle.axle_load@rear/full")
    text = " ".join("\n".join(working(unknown, "metric")).split())
    assert "Not known yet donor.weighed.rl: not given; wheel scale under this wheel" in text
    assert "; 8 min" in text
    assert "? + 210 kg" in text


def test_the_text_can_be_had_in_inches() -> None:
    text = "\n".join(working(finding(assessed(), "vehicle.axle_load@rear/full"), "inch"))
    assert " lb" in text
    assert " in" in text
    assert "taken out + put in" in text
