"""``history``: who changed what, when and why; and ``set``, which writes that down."""

from __future__ import annotations

import difflib
import getpass
import subprocess
import sys
from datetime import datetime

import jsonschema
import pytest

from wattwright.journal.local_time import zone
from wattwright.output import OUTPUTS


def text_of(folder):
    return (folder / "build.toml").read_text(encoding="utf-8")


def edit(folder, old, new):
    text = text_of(folder)
    assert old in text
    (folder / "build.toml").write_text(text.replace(old, new), encoding="utf-8")


def form(document):
    schema = OUTPUTS["history"].model_json_schema(mode="serialization")
    jsonschema.Draft202012Validator(schema).validate(document)
    return document


@pytest.fixture
def changed(run, cart):
    run("set", cart, "donor.wheelbase=2010 mm, measured, tape", "--why", "the tape had slipped")
    run("set", cart, "part.pack.price=35.5", "targets.top_speed=")
    edit(cart, "Yard cart", "Red cart")
    run("undo", cart)
    return cart


def test_every_change_stands_there_newest_first(run, changed):
    *lines, clock = run("history", changed).out.splitlines()
    # The zone is said once.
    assert clock == f"times as the clock here shows them ({zone()})"
    me = getpass.getuser()
    today = f"{datetime.now():%Y-%m-%d}"
    said = []
    for line in lines:
        if line[:6].strip():
            number, day, _clock, rest = line.split(maxsplit=3)
            assert abs((datetime.fromisoformat(today) - datetime.fromisoformat(day)).days) <= 1
            said.append((int(number), rest))
        else:
            said[-1] = (said[-1][0], f"{said[-1][1]} {line.strip()}")
    assert [number for number, _ in said] == [5, 4, 3, 2, 1]
    both = (
        "targets.top_speed: 60 km/h ± 0, datasheet, registration paper deleted; "
        "part.pack.price: 35.5 added"
    )
    assert [" ".join(rest.split()) for _, rest in said] == [
        f"{me} takes back revision 4: changed by an editor or another program",
        "outside changed by an editor or another program",
        f"{me} {both}",
        f"{me} the tape had slipped",
        "the build as it was when its journal began",
    ]


def test_one_revision_is_shown_as_a_difference(run, changed):
    out = run("history", changed, 2).out
    assert "the tape had slipped" in out.splitlines()[0]
    assert '-wheelbase = "2000 mm ± 2, measured, tape, 2026-03-01"    # both sides alike' in out
    assert '+wheelbase = "2010 mm, measured, tape"    # both sides alike' in out
    shown = form(run("history", "--json", changed, 4).json)
    assert [each["number"] for each in shown["revisions"]] == [4]
    after = text_of(changed).replace("Yard cart", "Red cart")
    wanted = difflib.unified_diff(
        text_of(changed).splitlines(), after.splitlines(), "revision 3", "revision 4", lineterm=""
    )
    assert shown["difference"] == "\n".join(wanted)
    first = form(run("history", "--json", changed, 1).json)["difference"].splitlines()
    assert first[:2] == ["--- nothing", "+++ revision 1"]
    assert all(line.startswith("+") for line in first[3:])


def test_json_lists_all_revisions(run, changed):
    said = form(run("history", "--json", changed).json)
    assert said["difference"] is None
    assert [each["number"] for each in said["revisions"]] == [5, 4, 3, 2, 1]
    assert [each["kind"] for each in said["revisions"]] == [
        "undo", "outside", "edit", "edit", "start"
    ]  # fmt: skip
    assert said["revisions"][2]["assessment"] == run("check", "--json", changed).json["digest"]


def test_looking_alone_begins_no_journal(run, cart):
    answer = run("history", cart)
    assert answer.code == 0
    assert answer.out == f"{cart} has no journal yet; it begins with the first change\n"
    assert form(run("history", "--json", cart).json)["revisions"] == []
    assert [each.name for each in cart.iterdir()] == ["build.toml"]


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["{cart}", "99"], "there is no revision 99; there are 1 to 5"),
        (["{cart}", "x"], "invalid int value"),
        (["{cart}/nowhere"], "the file is not there"),
        (["{cart}/journal.sqlite"], "is not a build.toml"),
    ],
)
def test_what_does_not_exist_is_told(run, changed, argv, said):
    answer = run("history", *(word.format(cart=changed) for word in argv))
    assert (answer.code, answer.out) == (64, "")
    assert said in answer.err


def test_ends_of_lines_alone_are_said_to_differ(run, changed):
    raw = (changed / "build.toml").read_bytes()
    (changed / "build.toml").write_bytes(raw.replace(b"\n", b"\r\n"))
    assert "only ends of lines differ" in run("history", changed, 6).out


def test_signs_that_act_on_a_terminal_are_not_printed(run, cart):
    run("set", cart, "build.name=Red cart", "--why", "\x1b[2J gone")
    edit(cart, "# A cart", "# \x1b[2J A cart")
    for argv in ([], [2], [3]):
        assert "\x1b" not in run("history", cart, *argv).out


def test_a_journal_is_no_part_of_the_build(run, make):
    """The same text has the same digest, whatever its journal holds."""
    changed, other = make("changed"), make("other")
    run("set", changed, "build.name=Red cart")
    run("undo", changed)
    assert (changed / "journal.sqlite").exists()
    one, two = (run("check", "--json", each) for each in (changed, other))
    assert one.out == two.out


def test_a_new_build_does_not_begin_with_the_history_of_an_example(run, tmp_path, monkeypatch):
    from wattwright.journal import starting

    examples = tmp_path / "examples"
    (examples / "bare-start" / "photos").mkdir(parents=True)
    for name in ("build.toml", "journal.sqlite", "journal.sqlite-wal", "curve.csv"):
        text = 'format = 1\n[build]\nname = "Bare"\n' if name == "build.toml" else "x"
        (examples / "bare-start" / name).write_text(text)
    monkeypatch.setattr(starting, "examples", lambda: examples)
    assert run("new", tmp_path / "mine", "--like", "bare-start").code == 0
    assert sorted(each.name for each in (tmp_path / "mine").iterdir()) == [
        "build.toml",
        "curve.csv",
    ]


@pytest.mark.parametrize("fault", [KeyError, OSError, ImportError])
def test_a_person_the_system_does_not_know_is_someone(run, cart, monkeypatch, fault):
    def unknown():
        raise fault

    monkeypatch.setattr(getpass, "getuser", unknown)
    run("set", cart, "build.name=Red cart")
    assert run("history", "--json", cart).json["revisions"][0]["who"] == "someone"


def test_help_and_check_do_without_the_database():
    code = (
        "import sys\nfrom wattwright.cli import main\n"
        "try:\n    main(['history', '--help'])\nexcept SystemExit:\n    pass\n"
        "import wattwright.cli.check, wattwright.cli.new\n"
        "sys.exit('sqlalchemy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True).returncode == 0
