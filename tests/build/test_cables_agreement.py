"""What a power cable names must be there, and the nearest name is offered where it is not."""

from __future__ import annotations

import pytest

from builders import problems_of

HEAD = """format = 1
build.name = "B"
part.main.kind = "fuse"
part.inverter.kind = "inverter"
part.other.kind = "cable"
part.one.kind = "cable"
"""


@pytest.mark.parametrize(
    ("line", "path", "what", "do"),
    [
        ('begins = "invertr"', "begins", "there is no such part", "did you mean inverter?"),
        ('ends = "pac"', "ends", "there is no such part", "did you mean pack?"),
        ('fuse = "mian"', "fuse", "there is no such fuse", "did you mean main?"),
        ('fuse = "inverter"', "fuse", "there is no such fuse", "known: main"),
        ('kept_by = "pack"', "kept_by", "there is no such part", "known:"),
        ('kept_by = "other"', "kept_by", "a cable keeps no current", "name inverter"),
        ('begins = "one"', "begins", "there is no such part", ""),
    ],
)
def test_names_that_are_not_there_are_refused_at_their_place(
    line: str, path: str, what: str, do: str
) -> None:
    (problem,) = problems_of(f"{HEAD}part.one.{line}\n")
    assert (problem.path, problem.what, problem.line) == (f"part.one.{path}", what, 7)
    assert problem.do.startswith(do)


def test_a_cable_ends_elsewhere_than_it_begins() -> None:
    text = f'{HEAD}part.one.begins = "pack"\npart.one.ends = "pack"\n'
    (problem,) = problems_of(text)
    assert (problem.path, problem.what) == ("part.one.ends", "is where it begins too")


def test_a_peak_below_the_current_for_hours_is_refused() -> None:
    text = f'{HEAD}part.one.carries = "100 A"\npart.one.peak = "90 A"\n'
    (problem,) = problems_of(text)
    assert problem.path == "part.one.peak"
    assert "below the current" in problem.what
