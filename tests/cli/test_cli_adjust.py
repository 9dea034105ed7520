"""``adjust``: what is said, what is kept, and what that changes."""

from __future__ import annotations

import pytest

from hung import hung
from wattwright.build.reader import open_build


@pytest.fixture
def taped(tmp_path):
    """A build folder with one reading that is 20 mm too long."""
    wrong = {"survey.distance.nose-hub_left": '"0.698 m ± 0.002, measured, tape"'}
    folder = tmp_path / "taped"
    folder.mkdir()
    (folder / "build.toml").write_text(hung(wrong).source.text, encoding="utf-8")
    return folder


def test_it_names_the_reading_that_does_not_fit_and_saves_nothing(run, taped):
    before = (taped / "build.toml").read_text(encoding="utf-8")
    answer = run("adjust", taped)
    assert (answer.code, answer.err) == (0, "")
    # √(0.3² + 0.6² + 0.1²) m = 678.2 mm; 698 mm were read.
    wanted = "distance.nose-hub_left: reads 698 mm, 19.8 mm more than what fits"
    assert wanted in answer.words
    assert answer.words.endswith("nothing was saved; add --keep to put this into the build")
    assert (taped / "build.toml").read_text(encoding="utf-8") == before


def test_kept_it_stands_in_the_build_and_the_ripple_is_shown(run, taped):
    answer = run("adjust", taped, "--keep")
    assert answer.code == 0
    assert "mounts.angle@nose" in answer.out
    survey = open_build(taped).build.survey
    assert survey.set_aside == "distance.nose-hub_left"
    assert survey.adjusted.of
    assert survey.adjusted.point["nose"].x.number == pytest.approx(-0.3, abs=2e-5)
    again = run("adjust", taped)
    assert "Does not fit" not in again.out
    assert "Set aside before" in again.out
    # Kept once more it is the same, so nothing is there twice and the journal has no more to say.
    before = (taped / "build.toml").read_text(encoding="utf-8")
    assert run("adjust", taped, "--keep").code == 0
    assert (taped / "build.toml").read_text(encoding="utf-8") == before
    assert run("history", taped).out.count("survey adjusted") == 1


def test_units_are_those_of_the_reader(run, taped):
    assert " in," in run("adjust", taped, "--units", "inch").out


def test_without_points_it_says_what_to_write(run, cart):
    answer = run("adjust", cart)
    assert answer.code == 64
    assert "[survey.point.NAME]" in answer.err
