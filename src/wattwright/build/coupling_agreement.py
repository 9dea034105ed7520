"""Whether the fields of the coupling agree: names, sizes that can be, limits in order."""

from __future__ import annotations

import difflib

from wattwright.build.coupling import Coupling
from wattwright.build.fits import Fit
from wattwright.build.model import Build
from wattwright.build.uses_agreement import Reading
from wattwright.kinds import LENGTH
from wattwright.units import read, write
from wattwright.values import Value

_HERE = ("coupling",)
# Fits are hundredths of a millimetre; a part further off than this is another size.
_OTHER_SIZE = read("1 mm", LENGTH).number


def check_coupling(build: Build, reading: Reading) -> None:
    """Note every disagreement between the fields of the coupling."""
    own = build.coupling
    if own.link and own.link not in build.drive.link:
        near = difflib.get_close_matches(own.link, build.drive.link, n=1)
        there = f"write [drive.link.{own.link}]"
        do = f"did you mean {near[0]}?" if near else there
        reading.problem((*_HERE, "link"), "there is no such link", own.link, do)
    for name, fit in own.fit.items():
        _check_fit((*_HERE, "fit", name), fit, reading)
    least, most = own.end_float.least, own.end_float.most
    if _more(least, most):
        what = f"is more than the most, {_mm(most)}"
        reading.problem((*_HERE, "end_float", "least"), what, _mm(least), "swap the two")
    _check_sizes(own, reading)


def _check_fit(here: tuple[str, ...], fit: Fit, reading: Reading) -> None:
    for part in ("hole", "shaft"):
        measured: Value = getattr(fit, part)
        upper: Value = getattr(fit, f"{part}_upper")
        lower: Value = getattr(fit, f"{part}_lower")
        if measured.known and fit.nominal.known:
            off = abs((measured.number or 0.0) - (fit.nominal.number or 0.0))
            if off > _OTHER_SIZE:
                what = f"is not the nominal diameter, {_mm(fit.nominal)}: a fit is hundredths off"
                do = "check both figures and their units"
                reading.problem((*here, part), what, _mm(measured), do)
        if _more(lower, upper):
            what = f"is above the upper deviation, {_mm(upper)}"
            reading.problem((*here, f"{part}_lower"), what, _mm(lower), "swap the two")


def _check_sizes(own: Coupling, reading: Reading) -> None:
    """Refuse parts that do not go into each other."""
    key, spline, flange = own.key, own.spline, own.flange
    pairs = (
        (("key", "width"), key.width, key.diameter, "a key is no wider than its shaft"),
        (("key", "height"), key.height, key.diameter, "a key is no higher than its shaft is wide"),
        (("spline", "flank"), spline.flank, spline.mean_diameter, "teeth are lower than that"),
        (("flange", "bolt"), flange.bolt, flange.circle, "bolts are thinner than their circle"),
    )
    for path, small, large, why in pairs:
        if _more(small, large):
            do = "check both figures and their units"
            reading.problem((*_HERE, *path), f"{why}: {_mm(large)}", _mm(small), do)


def _more(one: Value, other: Value) -> bool:
    known = one.number is not None and other.number is not None
    return known and (one.number or 0.0) > (other.number or 0.0)


def _mm(value: Value) -> str:
    return write(value.number or 0.0, LENGTH)
