"""``new``: a starter that can be assessed, copies of the examples, and never over anything."""

from __future__ import annotations

import pytest


def test_the_starter_is_accepted_and_useful_at_once(run, tmp_path):
    folder = tmp_path / "deep" / "down"
    answer = run("new", folder)
    assert answer.code == 0
    assert str(folder) in answer.out
    said = run("check", "--json", folder)
    assert said.code == 3
    readings = [each["field"] for bundle in said.json["next"] for each in bundle["readings"]]
    assert 0 < len(readings) <= 10
    assert "donor.weighed.fl" in {each["field"] for each in said.json["unknowns"]}


def test_the_starter_s_commented_lines_are_right_too(run, tmp_path):
    run("new", tmp_path / "a")
    file = tmp_path / "a" / "build.toml"
    lines = file.read_text(encoding="utf-8").splitlines()
    shown = [x[2:] if x.startswith(("# [", "# role", "# mass", "# at")) else x for x in lines]
    assert shown != lines
    file.write_text("\n".join(shown), encoding="utf-8")
    answer = run("check", file)
    assert answer.err == ""
    assert answer.code == 3


def test_a_folder_with_anything_in_it_is_refused(run, tmp_path):
    (tmp_path / "notes.txt").write_text("mine")
    answer = run("new", tmp_path)
    assert answer.code == 64
    assert "not empty" in answer.err
    assert [each.name for each in tmp_path.iterdir()] == ["notes.txt"]


def test_a_file_in_the_way_is_refused(run, tmp_path):
    (tmp_path / "taken").write_text("mine")
    answer = run("new", tmp_path / "taken")
    assert answer.code == 64
    assert (tmp_path / "taken").read_text() == "mine"


def test_an_empty_folder_is_used(run, tmp_path):
    assert run("new", tmp_path).code == 0
    assert (tmp_path / "build.toml").exists()


@pytest.mark.parametrize("name", ["orchard-pickup", "island-runabout", "bare-start"])
def test_an_example_is_copied_as_it_is(run, tmp_path, examples, name):
    assert run("new", tmp_path / "mine", "--like", name).code == 0
    copied = (tmp_path / "mine" / "build.toml").read_bytes()
    assert copied == (examples / name / "build.toml").read_bytes()
    assert run("check", tmp_path / "mine").code in (1, 3)


def test_an_unknown_example_names_the_known_ones(run, tmp_path):
    answer = run("new", tmp_path / "mine", "--like", "orchard-truck")
    assert answer.code == 64
    assert "orchard-pickup" in answer.err
    assert not (tmp_path / "mine").exists()
