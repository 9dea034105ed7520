"""What a change did, in one line."""

from __future__ import annotations

import pytest

from wattwright.build.text import read_text
from wattwright.journal.reasons import described

BEFORE = """\
[donor]
wheelbase = "2540 mm"    # tape
track = "1200 mm"
[place.bed]
rows = [1,
  2]
aboard = {}
"""


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("2540 mm", "2545 mm", "donor.wheelbase: 2540 mm -> 2545 mm"),
        ('track = "1200 mm"\n', "", "donor.track: 1200 mm deleted"),
        ("[place", 'mass = "2 t"\n[place', "donor.mass: 2 t added"),
        ("  2]", "  3]", "place.bed.rows: [1, 2] -> [1, 3]"),
        ("aboard = {}", "", "place.bed.aboard: {} deleted"),
        ("{}", "{ spare = 1 }", "place.bed.aboard: {} deleted; place.bed.aboard.spare: 1 added"),
        ("# tape", "# laser", "comments or layout"),
        (
            '2540 mm"    # tape\ntrack = "1200 mm',
            '1 m"\ntrack = "2 m',
            "donor.wheelbase: 2540 mm -> 1 m; donor.track: 1200 mm -> 2 m",
        ),
        ("2540 mm", "x" * 100, f"donor.wheelbase: 2540 mm -> {'x' * 77}..."),
    ],
)
def test_a_change_is_said_in_one_line(old: str, new: str, said: str) -> None:
    assert BEFORE.count(old) == 1
    after = BEFORE.replace(old, new)
    assert described(read_text(BEFORE.encode()), read_text(after.encode())) == said


def test_of_many_changes_the_first_are_said() -> None:
    before, after = ("".join(f"k{n} = {n + d}\n" for n in range(9)) for d in (0, 1))
    said = described(read_text(before.encode()), read_text(after.encode()))
    assert said.startswith("k0: 0 -> 1; k1: 1 -> 2; ")
    assert said.endswith("; k5: 5 -> 6; and 3 more")
