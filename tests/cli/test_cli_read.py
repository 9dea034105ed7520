"""``read``: a reading from the command line into the journal, and on into the build."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from wattwright.cli import main
from wattwright.output import ReadingsOut

FL = ("weigh_donor/fl", "318 kg", "--instrument", "wheel scales", "--date", "2026-11-20")


@pytest.fixture
def build(tmp_path: Path) -> Path:
    assert main(["new", str(tmp_path / "truck"), "--like", "orchard-pickup"]) == 0
    return tmp_path / "truck"


def read(build: Path, *words: str) -> int:
    return main(["read", str(build), *words])


def text(build: Path) -> str:
    return (build / "build.toml").read_text(encoding="utf-8")


def test_a_reading_is_kept_told_and_accepted_later(
    build: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = text(build)
    assert read(build, *FL, "--initials", "AB") == 0
    said = capsys.readouterr().out
    assert "reading 1: Weighing the donor, front left wheel: 318 kg" in said
    assert "not as expected · 313.5 kg ± 1.5 was expected: 4.5 kg more" in said
    assert text(build) == before
    assert read(build, "--accept", "1", "--dry-run") == 0
    assert "nothing was saved in the build" in capsys.readouterr().out
    assert text(build) == before
    assert read(build, "--accept", "1") == 0
    said = capsys.readouterr().out
    assert "axle load" in said
    assert "reading 1 stands in donor.weighed.fl now" in said
    assert 'fl = "318 kg ± 1.8 kg, measured, wheel scales, reading 1, 2026-11-20"' in text(build)
    assert read(build) == 0
    assert "(wheel scales, AB); stands in donor.weighed.fl" in capsys.readouterr().out


def test_a_slip_is_asked_for_and_kept_only_when_it_is_so(
    build: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert read(build, "weigh_donor/fl", "3135 kg") == 64
    assert "is the decimal point where it belongs?" in capsys.readouterr().err
    assert read(build) == 0
    assert "no readings yet" in capsys.readouterr().out
    assert read(build, "weigh_donor/fl", "3135 kg", "--sure") == 0
    assert "reading 1" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("weigh_donor/fl",), "needs what it shows"),
        (("weigh_donor/fl", "318 mm"), "expected a mass"),
        (("weigh_donor/none", "318 kg"), "no line"),
        (("weigh_donor/fl", "318 kg", "--date", "2026-02-30"), "no date"),
        (("weigh_donor/fl", "318 kg", "--corrects", "7"), "no reading 7"),
        (("weigh_donor/fl", "318 kg", "--photo", "nowhere.jpg"), "cannot be read"),
        (("--accept", "7"), "no reading 7"),
    ],
)
def test_what_cannot_be_is_refused(
    build: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str
) -> None:
    before = text(build)
    assert read(build, *words) == 64
    assert says in capsys.readouterr().err
    assert text(build) == before


def test_a_correction_keeps_both(build: Path, capsys: pytest.CaptureFixture[str]) -> None:
    read(build, *FL)
    read(build, "weigh_donor/fl", "316 kg", "--corrects", "1", "--date", "2026-11-20")
    capsys.readouterr()
    assert read(build, "--json") == 0
    out = json.loads(capsys.readouterr().out)
    jsonschema.validate(out, ReadingsOut.model_json_schema())
    assert [(each["id"], each["replaced_by"]) for each in out["readings"]] == [(2, None), (1, 2)]
    assert read(build, "--accept", "1") == 64
    assert "corrected by reading 2" in capsys.readouterr().err


def test_a_reading_and_its_acceptance_can_be_one_step(
    build: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert read(build, *FL, "--accept", "--json") == 0
    out = json.loads(capsys.readouterr().out)
    assert any(each["address"] == "vehicle.axle_load@front/kerb" for each in out["changes"])
    assert "reading 1, 2026-11-20" in text(build)


def test_a_reading_is_told_as_json(build: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(build, *FL, "--json") == 0
    out = json.loads(capsys.readouterr().out)
    jsonschema.validate(out, ReadingsOut.model_json_schema())
    assert [each["text"] for each in out["readings"]] == ["318 kg"]
    assert read(build, "--accept") == 64
    assert "no reading 0" in capsys.readouterr().err
