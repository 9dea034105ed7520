"""Formulas as mathematics: from the return expression, nothing lost on the way."""

from __future__ import annotations

import importlib
import pkgutil
import re

import pytest
import typst

import wattwright.physics
from wattwright.formula import FORMULAS, Source, formula
from wattwright.kinds import Length, Mass
from wattwright.pages.formula_math import formula_math, symbol_math
from wattwright.physics import (
    adhesion,
    air,
    axle_loads,
    cg_height,
    fed_by_pack,
    gearing,
    road_load,
    shaft,
    short_circuit,
    stall,
    tractive,
    tyre,
)


@pytest.mark.parametrize(
    ("function", "wanted"),
    [
        (axle_loads.axle_load, '"left" + "right"'),
        (axle_loads.load_after, '"before" - "taken out" + "put in"'),
        (axle_loads.cg_distance, 'frac("wheelbase" dot "rear", "front" + "rear")'),
        (axle_loads.axle_side_moment, 'frac(("right" - "left") dot "track", 2)'),
        (axle_loads.rear_axle_load, 'sum frac("mass" dot "distance", "wheelbase")'),
        (axle_loads.total, 'sum "mass"'),
        (gearing.driveline_efficiency, 'product "efficiency"'),
        (stall.weakened_power, '"power" dot "share"^(2)'),
        (
            cg_height.cg_height,
            '"axle height" + frac("wheelbase" dot "gain", "mass" dot tan("angle"))',
        ),
        (short_circuit.stator_flux, 'sqrt(("flux" + "ld" dot "d current")^2 + '),
        (shaft.shear_yield, 'frac("tensile yield", sqrt(3))'),
        (
            fed_by_pack.torque_at_power,
            'frac(max(0, "power" - "auxiliary") dot "efficiency", "speed")',
        ),
        (adhesion.front_axle_force, 'cos(arctan("grade"))'),
        (air.isa_pressure, "(1 - frac("),
        (tyre.load_capacity, '"load of index"_("load index")'),
        (tyre.load_from_table, 'min(1, frac("pressure", "table pressure"))^(0.8)'),
        (road_load.default_constant, 'min {"bound" | "bound" >= "reference mass"}'),
        (tractive.top_speed_over_points, 'max {"speed" | "force" >= "f0" + '),
    ],
    ids=lambda each: getattr(each, "__name__", ""),
)
def test_the_expression_is_written_as_one_writes_it_by_hand(function, wanted):
    assert wanted in formula_math(FORMULAS[function])


def test_brackets_stay_where_they_change_the_meaning():
    @formula("x", Source("here"))
    def grouped(a: Length, b: Length, c: Length) -> Length:
        return a - (b - c) * -a + (a + b) ** 2 + (a * b) ** c + (a / b) ** 2 + 1e-07 * a

    written = formula_math(FORMULAS.pop(grouped))
    assert written == (
        '"a" - ("b" - "c") dot (-"a") + ("a" + "b")^(2) + ("a" dot "b")^("c") + '
        '(frac("a", "b"))^(2) + 1 dot 10^(-7) dot "a"'
    )


@pytest.mark.parametrize(
    ("symbol", "wanted"),
    [
        ("h", "h"),
        ("m_axle", 'm_"axle"'),
        ("Δm/m", "frac(Δ m, m)"),
        ("ê_line", 'hat(e)_"line"'),
        ("f0", "f_0"),
        ("Crr", '"Crr"'),
        ("i_q/i_d", 'frac(i_"q", i_"d")'),
    ],
)
def test_symbols_have_their_indices(symbol, wanted):
    assert symbol_math(symbol) == wanted


def everything():
    for module in pkgutil.walk_packages(wattwright.physics.__path__, "wattwright.physics."):
        importlib.import_module(module.name)
    return [each for each in FORMULAS.values() if each.fn.__module__.startswith("wattwright.")]


def test_every_argument_of_every_formula_is_named_and_all_can_be_set():
    formulas = everything()
    assert len(formulas) > 200
    for each in formulas:
        written = formula_math(each)
        for argument in each.arguments:
            if argument.many:
                continue
            assert f'"{argument.name.replace("_", " ")}"' in written, each.name
        assert not re.search(r"__|\blambda\b|\bzip\b", written), each.name
    page = "\n\n".join(f"$ {symbol_math(e.symbol)} = {formula_math(e)} $" for e in formulas)
    _, warnings = typst.compile_with_warnings(page.encode(), ignore_system_fonts=True)
    assert [str(each) for each in warnings] == []


def test_words_cannot_become_markup():
    @formula("x", Source("here"))
    def plain(mass: Mass) -> Mass:
        return mass

    assert formula_math(FORMULAS.pop(plain)) == '"mass"'
    assert symbol_math('a_b"c') == 'a_"b\\"c"'
