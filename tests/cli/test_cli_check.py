"""``check``: what it prints, and that it names what is missing and what is mistyped."""

from __future__ import annotations

import re
import shutil
import sys

import pytest

from wattwright.build.catalogue import find

ESCAPE = re.compile(r"\x1b\[[0-9;]*m")


@pytest.fixture
def pickup(examples, tmp_path):
    folder = tmp_path / "pickup"
    shutil.copytree(examples / "orchard-pickup", folder)
    return folder


def without_line(text, heading, key):
    """Delete one line of a section, counted from its heading."""
    lines = text.splitlines(keepends=True)
    start = lines.index(f"[{heading}]\n")
    place = next(at for at in range(start, len(lines)) if lines[at].startswith(f"{key} = "))
    assert not any(line.startswith("[") for line in lines[start + 1 : place])
    return "".join(lines[:place] + lines[place + 1 :])


def test_a_line_says_verdict_place_value_limit_and_margin(run, cart):
    # Statics by hand: 400 kg stand on the rear axle. The engine takes away 100 kg * 200/2000 =
    # 10 kg, the pack brings 120 kg * 500/2000 = 30 kg: 420 kg. The driver brings half of 75 kg.
    answer = run("check", cart)
    block = answer.out.split("vehicle.axle_load\n")[1].split("\n\n")[0]
    row = next(line for line in block.splitlines() if "@rear/driver " in line)
    assert re.search(
        r"sound +@rear/driver +457\.5 kg ± \S+ +at most 700 kg +242\.5 kg to spare", row
    )
    kerb = next(line for line in block.splitlines() if "@rear/kerb " in line)
    assert "420.0 kg" in kerb


def test_worst_verdict_comes_first(run, make):
    folder = make(limit=('limit = "700 kg, datasheet, plate"\n\n[donor.weighed]', WORSE))
    findings = run("check", "--json", folder).json["findings"]
    verdicts = [finding["verdict"] for finding in findings]
    order = ["failing", "unknown", "marginal", "sound"]
    assert set(verdicts) >= {"failing", "sound"}
    assert verdicts == sorted(verdicts, key=order.index)
    loads = [each for each in findings if each["id"] == "vehicle.axle_load"]
    sound = [
        each["margin"] / each["limit"]["number"] for each in loads if each["verdict"] == "sound"
    ]
    assert sound == sorted(sound)


WORSE = 'limit = "430 kg, datasheet, plate"\n\n[donor.weighed]'


def test_three_deleted_lines_are_exactly_what_becomes_unknown(run, pickup):
    before = {each["field"] for each in run("check", "--json", pickup).json["unknowns"]}
    file = pickup / "build.toml"
    text = file.read_text(encoding="utf-8")
    text = without_line(text, "donor.front", "track")
    text = without_line(text, "donor.rear", "limit")
    text = without_line(text, "donor.weighed", "rl")
    file.write_text(text, encoding="utf-8")
    unknowns = {each["field"]: each for each in run("check", "--json", pickup).json["unknowns"]}
    deleted = {"donor.front.track", "donor.rear.limit", "donor.weighed.rl"}
    assert unknowns.keys() - before == deleted
    said = run("check", pickup)
    needs = " ".join(re.findall(r"needs (.*?)(?:\n {4}\S|\n\n)", said.out, re.DOTALL))
    for path in deleted:
        declared = find(path).slot.quantity
        assert unknowns[path]["why"] == "not given"
        assert unknowns[path]["how"] == declared.how
        assert unknowns[path]["minutes"] == declared.minutes
        assert path in needs
        assert re.search(rf"{path}[^;]*: {re.escape(declared.how)}; \d", said.words)


def test_a_mistyped_key_shows_its_line_and_the_right_key(run, pickup):
    file = pickup / "build.toml"
    text = file.read_text(encoding="utf-8").replace("\nwheelbase = ", "\nwheelbse = ")
    file.write_text(text, encoding="utf-8")
    line = 1 + text.splitlines().index(next(x for x in text.splitlines() if "wheelbse" in x))
    answer = run("check", pickup)
    assert answer.code == 2
    assert answer.out == ""
    assert answer.err.startswith(f"build.toml:{line}:1: donor.wheelbse: ")
    assert "did you mean wheelbase?" in answer.err


def test_all_problems_are_reported_in_one_pass_in_the_order_of_the_file(run, make):
    folder = make(
        key=("gross_limit =", "gross_limt ="),
        unit=(FRONT_TYRE, 'load_index = "84 kg"\n\n[tyre.rear]'),
        origin=("100 kg ± 0.5, measured", "100 kg ± 0.5, mesured"),
    )
    answer = run("check", folder)
    assert answer.code == 2
    placed = re.findall(r"^build\.toml:(\d+):\d+: (\S+): ", answer.err, re.MULTILINE)
    assert [path for _, path in placed] == [
        "donor.gross_limt",
        "tyre.front.load_index",
        "donor.removed.engine.mass",
    ]
    lines = (folder / "build.toml").read_text(encoding="utf-8").splitlines()
    for line, path in placed:
        assert path.rpartition(".")[2] in lines[int(line) - 1]
    assert "did you mean measured?" in answer.err
    assert "3 problems" in answer.err


FRONT_TYRE = """\
load_index = "84"
speed_symbol = "S"
pressure = "2.5 bar ± 0.05, measured, gauge, 2026-03-01"
rated_pressure = "2.5 bar"

[tyre.rear]"""


def test_units_are_the_reader_s_choice_and_change_no_number(run, cart):
    metric, inch = (run("check", cart, "--units", taste) for taste in ("metric", "inch"))
    assert "457.5 kg" in metric.out
    # 457.5 kg are 1008.6 lb (1 lb = 0.45359237 kg).
    assert re.search(r"@rear/driver +1009 lb|@rear/driver +1008\.6 lb", inch.out)
    numbers = [
        [finding["value"]["number"] for finding in answer.json["findings"]]
        for answer in (
            run("check", "--json", cart, "--units", taste) for taste in ("metric", "inch")
        )
    ]
    assert numbers[0] == numbers[1]


def test_piped_output_is_plain(run, cart):
    assert "\x1b" not in run("check", cart).out


def test_colour_only_on_a_terminal_and_it_adds_no_words(run, make, monkeypatch):
    folder = make(limit=('limit = "700 kg, datasheet, plate"\n\n[donor.weighed]', WORSE))
    plain = run("check", folder).out
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    coloured = run("check", folder).out
    assert "\x1b[1;31mfailing" in coloured
    assert ESCAPE.sub("", coloured) == plain
    monkeypatch.setenv("NO_COLOR", "")
    assert run("check", folder).out == plain
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert run("check", folder).out == plain


def test_cautions_stand_beside_what_is_not_sound(run, make, cart):
    caution = "An overloaded axle lengthens braking"
    assert caution not in run("check", cart).out
    folder = make("worse", limit=('limit = "700 kg, datasheet, plate"\n\n[donor.weighed]', WORSE))
    assert f"Caution: {caution}" in run("check", folder).out


def test_the_end_says_what_it_is_not(run, cart):
    assert "certifies nothing. Local codes" in run("check", cart).words
