"""The run behind a result of a use: where its energy went, and its hardest second."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import shown
from wattwright.cli.explain import worked_steps
from wattwright.cli.terminal import table, wrapped
from wattwright.descriptions.duty import Duty, HillDuty, SteadyDuty
from wattwright.units import Taste
from wattwright.use_pass.hardest import energies, hardest


def the_run(duty: Duty | SteadyDuty | HillDuty, taste: Taste) -> Iterator[str]:
    """Write what stands behind one result of a use."""
    if duty.driven is None:
        return
    yield ""
    yield "The run, with all inputs as they are"
    rows = [
        (name, shown(value, taste)) for name, value in energies(duty.driven.run.balance).items()
    ]
    for line in table(rows, (False, True)):
        yield f"  {line}"
    second = hardest(duty)
    if second is None:
        return
    yield ""
    yield wrapped(
        f"Its hardest second, {second.time:.0f} s after the start, worked with the formulas that "
        "the run repeats for every step; what hangs on charge and temperature is taken from it",
        "",
    )
    yield from worked_steps(second.current, taste=taste)
