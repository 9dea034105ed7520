"""``--json``: its form, and that every working in it can be recomputed elsewhere."""

from __future__ import annotations

import ast
import json
import math
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from builders import LIFT, WEIGH_IN, assessed, write_build
from wattwright.cli import main
from wattwright.output import OUTPUTS
from wattwright.written_out import explain_out

CHANGES: dict[str, str | None] = {**WEIGH_IN, **LIFT}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_build(tmp_path_factory.mktemp("small"), CHANGES)


def printed(capsys: pytest.CaptureFixture[str], *argv: str) -> Any:
    main([*argv, "--json"])
    out, err = capsys.readouterr()
    assert err == ""
    return json.loads(out)


# An evaluator that knows nothing but the JSON: an independent reading of the documented form.
FUNCTIONS = {name: getattr(math, name) for name in dir(math) if not name.startswith("_")}
BUILTINS = {"sum": sum, "zip": zip, "min": min, "max": max, "abs": abs}


def recomputed(explained: Any) -> dict[str, float | None]:
    """Numbers of all inputs and steps, the steps worked out from their expressions."""
    numbers: dict[str, float | None] = {
        each["id"]: each["value"]["number"] for each in explained["inputs"]
    }
    for step in explained["steps"]:
        scope: dict[str, Any] = {**FUNCTIONS, **BUILTINS}
        for name, constant in step["constants"].items():
            scope[name] = dict(constant) if isinstance(constant, list) else constant
        known = True
        for name, given in step["arguments"].items():
            ids = given if isinstance(given, list) else [given]
            row = [numbers[each] for each in ids]
            known = known and None not in row
            scope[name] = row if isinstance(given, list) else row[0]
        if not known:
            numbers[step["id"]] = None
            continue
        code = compile(ast.parse(step["expression"], mode="eval"), "step", "eval")
        numbers[step["id"]] = eval(code, {"__builtins__": {}, **scope})
    return numbers


def off(found: float | None, wanted: float | None) -> float:
    if found is None or wanted is None:
        return 0.0 if found is wanted else math.inf
    return abs(found - wanted) / max(abs(wanted), 1e-300) if found != wanted else 0.0


def test_every_working_can_be_recomputed_elsewhere(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assessment = assessed(CHANGES)
    worked = 0
    for address, about in assessment.by_address.items():
        text = explain_out(assessment, about, "metric").model_dump_json()
        explained = json.loads(text)
        numbers = recomputed(explained)
        for step in explained["steps"]:
            assert off(numbers[step["id"]], step["result"]["number"]) <= 1e-12, (address, step)
            worked += 1
        said = explained["finding"] or explained["figure"]
        assert said["address"] == address
        assert off(numbers[explained["value"]], said["value"]["number"]) <= 1e-12
        if explained["finding"]:
            assert off(numbers[explained["limit"]], said["limit"]["number"]) <= 1e-12
            assert said["limit"]["number"] is not None
        assert said["value"]["number"] is not None, address
    assert worked > 1000
    assert len(assessment.by_address) > 100
    # What the command prints is the same.
    assert printed(capsys, "explain", str(folder), address) == explained


def test_bands_in_the_json_follow_from_the_inputs(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """For a sum and difference of weighed things the band is the root of squares, once each."""
    explained = printed(capsys, "explain", str(folder), "vehicle.mass@kerb/donor")
    bands = [each["value"]["band"] for each in explained["inputs"]]
    assert explained["figure"]["value"]["band"] == pytest.approx(math.hypot(*bands))


def test_the_ids_in_a_working_are_known_and_used(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for address in ("vehicle.axle_load@rear/full", "vehicle.weigh_in@front", "vehicle.cg_z@full"):
        explained = printed(capsys, "explain", str(folder), address)
        seen = [each["id"] for each in explained["inputs"]]
        used = {explained["value"], explained["limit"]}
        for step in explained["steps"]:
            for given in step["arguments"].values():
                ids = given if isinstance(given, list) else [given]
                assert set(ids) <= set(seen), "a step uses only what stands before it"
                used |= set(ids)
            seen.append(step["id"])
        assert len(seen) == len(set(seen))
        assert set(seen) == used - {None}


def test_inputs_say_where_they_come_from(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    explained = printed(capsys, "explain", str(folder), "vehicle.front@kerb/donor")
    by_path = {each["path"]: each for each in explained["inputs"]}
    wheel = by_path["donor.weighed.fl"]
    assert wheel["origin"] == "measured"
    assert (wheel["value"]["number"], wheel["value"]["unit"]) == (310.0, "kg")
    assert (wheel["value"]["band"], wheel["value"]["state"]) == (1.0, "known")
    assert (wheel["detail"], wheel["date"]) == ("scale", "2026-03-14")
    text = (folder / "build.toml").read_text(encoding="utf-8").splitlines()
    assert text[wheel["line"] - 1].startswith("donor.weighed.fl")


@pytest.mark.parametrize("model", OUTPUTS.values(), ids=OUTPUTS)
def test_the_schemas_are_schemas_and_closed(model: Any) -> None:
    schema = model.model_json_schema()
    Draft202012Validator.check_schema(schema)
    assert schema["additionalProperties"] is False
    assert not Draft202012Validator(schema).is_valid({"format": 2})


def refused(name: str, data: Any) -> list[str]:
    validator = Draft202012Validator(OUTPUTS[name].model_json_schema(mode="serialization"))
    return [error.message for error in validator.iter_errors(data)]


def test_what_is_printed_is_of_the_documented_form(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = write_build(
        tmp_path / "other",
        {
            "donor.weighed.fl": None,
            "donor.rear.limit": '"300 kg, datasheet"',
            "tyre.front.pressure": '"unknown"',
            "donor.gross_limit": '"none"',
        },
    )
    bare = tmp_path / "bare"
    bare.mkdir()
    (bare / "build.toml").write_text('format = 1\n[build]\nname = "Bare"\n', encoding="utf-8")
    for build in (folder, other, bare):
        assert refused("check", printed(capsys, "check", str(build))) == []
    for address in ("vehicle.axle_load@rear/full", "vehicle.cg_z@kerb", "vehicle.gross_mass@kerb"):
        for build in (folder, other):
            assert refused("explain", printed(capsys, "explain", str(build), address)) == []
    compared = printed(capsys, "compare", str(folder), str(other))
    assert compared["changes"]
    assert refused("compare", compared) == []
    for name in ("fields", "findings"):
        found = printed(capsys, name)
        assert refused(name, found) == []
    assert refused("check", {**printed(capsys, "check", str(folder)), "more": 1}) != []


def test_check_says_what_the_assessment_says(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = printed(capsys, "check", str(folder))
    assessment = assessed(CHANGES)
    assert found["build"] == "Small build"
    assert [each["address"] for each in found["findings"]] == [
        each.address for each in assessment.findings
    ]
    for each, finding in zip(found["findings"], assessment.findings, strict=True):
        assert each["verdict"] == finding.verdict.value
        assert each["provisional"] == finding.provisional
        assert each["margin"] == finding.margin
        assert each["sense"] == finding.sense
        assert each["area"] == "vehicle"
        sign = -1.0 if finding.sense == "at least" else 1.0
        value = each["value"]["number"]
        size = abs(value) if finding.sense == "within" else value
        assert each["margin"] == pytest.approx(sign * (each["limit"]["number"] - size))
    assert len(found["figures"]) == len(assessment.figures)
    assert found["unknowns"] == []
    assert [each["area"] for each in found["tell_me_first"]] == [
        *("pack", "drive", "high_voltage", "charging", "mounts")
    ]


def test_check_lists_what_is_lacking_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    build = write_build(tmp_path / "lacking", {"donor.weighed.fl": None})
    found = printed(capsys, "check", str(build))
    assert [each["field"] for each in found["unknowns"]] == ["donor.weighed.fl"]
    lacking = [each for each in found["findings"] if each["verdict"] == "unknown"]
    assert lacking
    for each in lacking:
        assert [lack["field"] for lack in each["lacks"]] == ["donor.weighed.fl"]
        assert (each["margin"], each["margin_band"]) == (None, None)


def test_a_doubtful_figure_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A height from a lift whose suspension was not locked must not look like any other."""
    changes = {**LIFT, "donor.weighed.cg_height": None}
    changes["donor.weighed.lift.suspension_locked"] = None
    build = write_build(tmp_path / "unlocked", changes)
    explained = printed(capsys, "explain", str(build), "vehicle.cg_z@kerb/donor")
    assert any("suspension was locked" in doubt for doubt in explained["figure"]["doubts"])


def test_texts_follow_the_units_asked_for(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    metric = printed(capsys, "check", str(folder))
    inch = printed(capsys, "check", str(folder), "--units", "inch")
    one, two = metric["findings"][-1], inch["findings"][-1]
    assert one["value"]["number"] == two["value"]["number"]
    axle = next(each for each in inch["findings"] if each["id"] == "vehicle.axle_load")
    assert " lb" in axle["value"]["text"]
    assert axle["value"]["unit"] == "kg"
