"""``--json``: every document holds to its published schema and says what the text says."""

from __future__ import annotations

import json

import jsonschema
import pytest


@pytest.fixture
def valid(schemas):
    def check(document, name):
        schema = json.loads((schemas / f"{name}.schema.json").read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        jsonschema.Draft202012Validator(schema).validate(document)
        assert document["format"] == 1
        return document

    return check


@pytest.mark.parametrize("example", ["orchard-pickup", "island-runabout", "bare-start"])
def test_check_of_the_examples(run, valid, examples, example):
    answer = run("check", "--json", examples / example)
    said = valid(answer.json, "check")
    assert answer.err == ""
    assert sum(len(bundle["readings"]) for bundle in said["next"]) <= 10
    for finding in said["findings"]:
        assert finding["address"].partition("@")[::2] == (finding["id"], finding["about"])
        assert (finding["margin"] is None) == (
            finding["value"]["number"] is None or finding["limit"]["number"] is None
        )
        if finding["margin"] is not None:
            assert finding["provisional"] == any(rest["soft"] for rest in finding["rests_on"])


def test_text_and_json_count_the_same_verdicts(run, examples):
    said = run("check", "--json", examples / "orchard-pickup").json
    verdicts = [finding["verdict"] for finding in said["findings"]]
    summary = run("check", examples / "orchard-pickup").out.splitlines()[1]
    for word in set(verdicts):
        assert f"{verdicts.count(word)} {word}" in summary
    known = [finding for finding in said["findings"] if finding["verdict"] != "unknown"]
    provisional = sum(finding["provisional"] for finding in known)
    assert f"({provisional} of all provisional)" in summary


@pytest.mark.parametrize("address", ["vehicle.tyre_load@front/driver", "vehicle.cg_y@kerb"])
def test_explain(run, valid, cart, address):
    said = valid(run("explain", "--json", cart, address).json, "explain")
    assert (said["finding"] is None) == (said["figure"] is not None)
    known = {each["id"] for each in said["inputs"]}
    for step in said["steps"]:
        for used in step["arguments"].values():
            assert set([used] if isinstance(used, str) else used) <= known
        known.add(step["id"])
    assert said["value"] in known


def test_explain_of_something_missing(run, valid, examples):
    said = valid(
        run("explain", "--json", examples / "bare-start", "vehicle.gross_mass@kerb").json, "explain"
    )
    assert said["finding"]["verdict"] == "unknown"
    assert said["finding"]["lacks"]


def test_compare_and_set(run, valid, make):
    old = make("old")
    new = make("new", mass=("120 kg ± 0.5", "1000 kg ± 0.5"))
    compared = valid(run("compare", "--json", old, new).json, "compare")
    ripple = run(
        "set",
        "--json",
        "--dry-run",
        old,
        "part.pack.mass=1000 kg ± 0.5, measured, hanging scale, 2026-03-08",
    )
    assert ripple.code == 0
    assert valid(ripple.json, "compare")["changes"] == compared["changes"]
    assert any(change["turned"] for change in compared["changes"])


def test_fields_and_findings(run, valid):
    fields = valid(run("fields", "--json").json, "fields")["fields"]
    assert {"donor.wheelbase", "part.NAME.mass"} <= {field["path"] for field in fields}
    findings = valid(run("findings", "--json").json, "findings")
    assert "vehicle.axle_load" in {check["id"] for check in findings["checks"]}


def test_a_schema_refuses_what_is_not_of_the_form(run, schemas, cart):
    schema = json.loads((schemas / "check.schema.json").read_text(encoding="utf-8"))
    document = run("check", "--json", cart).json
    document["findings"][0]["verdict"] = "fine"
    with pytest.raises(jsonschema.ValidationError, match="fine"):
        jsonschema.Draft202012Validator(schema).validate(document)


def test_a_result_of_a_use_carries_its_run(run, valid, examples):
    said = valid(
        run("explain", "--json", examples / "island-runabout", "drive.use_reach@printed").json,
        "explain",
    )
    balance = {part["name"]: part["value"]["number"] for part in said["run"]["balance"]}
    left = balance.pop("left the cells")
    assert sum(balance.values()) == pytest.approx(left, rel=1e-9)
    last = said["run"]["hardest_steps"][-1]
    assert last["formula"] == "pack_voltage.current_at_power"
    other = run("explain", "--json", examples / "island-runabout", "drive.top_speed").json
    assert other["run"] is None


def test_explain_on_a_use_ends_with_its_run(run, examples):
    out = run("explain", examples / "island-runabout", "drive.use_pack@printed").out
    assert "The run, with all inputs as they are" in out
    assert "Its hardest second" in out
    assert out.rstrip().endswith("voltage source behind one resistance")
