"""The documentation: complete, fresh, and every example in it runs."""

from __future__ import annotations

import importlib
import json
import os
import re
import shlex
import shutil
import socket
import subprocess
import sys
import urllib.parse
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import ModuleType

import pytest
from starlette.routing import BaseRoute, Mount, Route

import wattwright
from wattwright import cli
from wattwright.areas import AREAS
from wattwright.assessment import assess
from wattwright.build.catalogue import entries
from wattwright.build.reader import parse_build
from wattwright.cli.parser import parser
from wattwright.errors import WattwrightError
from wattwright.formula import FORMULAS
from wattwright.journal import belonging
from wattwright.journal.images import LARGEST
from wattwright.journal.starting import start
from wattwright.output import OUTPUTS
from wattwright.quick_sums import sums
from wattwright.web import spreadsheet
from wattwright.web.app import made
from wattwright.web.safety import codes, devices
from wattwright.web.shelf import Shelf

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
HAND_WRITTEN = [
    *(ROOT / name for name in ("README.md", "CHANGELOG.md", "DEVELOPERS.md")),
    *sorted(DOCS.glob("*.md")),
]
GENERATED = sorted((DOCS / "reference").glob("*.md"))


def text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def tool(name: str) -> ModuleType:
    return importlib.import_module(name)


@pytest.fixture(autouse=True)
def tools_are_importable(monkeypatch):
    monkeypatch.syspath_prepend(ROOT / "tools")


def page_id(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


# ---------------------------------------------------------------------------------- generated pages


def test_generated_pages_schemas_and_shown_output_are_fresh():
    stale = [page_id(path) for path, _ in tool("write_docs").stale(ROOT)]
    assert stale == [], "run: make docs"


@pytest.fixture
def copied(tmp_path, monkeypatch):
    """A copy of what is written by hand and by the tool, without pages that take time to run."""
    (tmp_path / "README.md").write_text("# Readme\n")
    shutil.copytree(DOCS, tmp_path / "docs")
    monkeypatch.setattr(tool("write_docs"), "ROOT", tmp_path)
    return tmp_path


def test_the_check_names_what_is_stale_and_changes_nothing(copied, capsys):
    write_docs = tool("write_docs")
    assert write_docs.main(["--check"]) == 0
    fields, left_over = copied / "docs/reference/fields.md", copied / "docs/schemas/old.json"
    fields.write_text(text(fields).replace("wheelbase", "wheel base"))
    left_over.write_text("{}")
    verdicts = copied / "docs/verdicts.md"
    verdicts.write_text(text(verdicts).replace("| mass | 1 %", "| mass | 2 %"))
    assert write_docs.main(["--check"]) == 1
    said = capsys.readouterr().out
    assert {line.partition(" ")[0] for line in said.splitlines()} == {
        "docs/reference/fields.md",
        "docs/schemas/old.json",
        "docs/verdicts.md",
    }
    assert "wheel base" in text(fields)
    assert write_docs.main([]) == 0
    assert not left_over.exists()
    assert write_docs.main(["--check"]) == 0


def test_every_field_is_documented():
    page = text(DOCS / "reference/fields.md")
    missing = [entry.path for entry in entries() if f"\n- `{entry.path}`: " not in page]
    assert missing == []


@pytest.mark.parametrize("area", AREAS, ids=lambda area: area.name)
def test_every_finding_and_figure_is_documented(area):
    page = text(DOCS / "reference/findings.md")
    assert [check.id for check in area.checks if f"### `{check.id}`: " not in page] == []
    assert [figure.id for figure in area.figures if f"- `{figure.id}`: " not in page] == []


def test_every_formula_is_documented_with_its_source():
    tool("doc_pages").import_everything()
    page = " ".join(text(DOCS / "reference/formulas.md").split())
    assert len(FORMULAS) > 30
    own = [f for f in FORMULAS.values() if f.fn.__module__.startswith("wattwright.")]
    for formula in own:
        if not formula.fn.__module__.startswith("wattwright."):
            continue
        start = page.index(f"### `{formula.name}`")
        block = page[start : page.find("### ", start + 1)] if "### " in page[start + 1 :] else page
        assert f"Source: {formula.source}" in block
        assert formula.says in block


def test_every_output_has_a_schema_and_a_chapter():
    page = text(DOCS / "json.md")
    for name in OUTPUTS:
        schema = json.loads(text(DOCS / f"schemas/{name}.schema.json"))
        assert schema["properties"]["format"]["const"] == 1
        assert f"(schemas/{name}.schema.json)" in page
        assert re.search(rf"^## .*\b{name}\b", page, re.MULTILINE)


# --------------------------------------------------------------------------------- the command line


def test_every_command_and_option_is_documented():
    page = text(DOCS / "command-line.md")
    readme = text(ROOT / "README.md")
    commands = tool("doc_pages").commands()
    known = set("check explain compare set undo history draw new fields findings".split())
    known |= {"serve", "backup", "restore", "read", "print", "adjust", "hunt"}
    assert set(commands) == known
    for name, command in commands.items():
        assert f"### `wattwright {name}" in page
        assert f"wattwright {name}" in readme
        for action in command._actions:
            for option in action.option_strings:
                assert option in page
            assert action.help
    for option in (o for action in parser()._actions for o in action.option_strings if o != "-h"):
        assert f"wattwright {option}" in page


@pytest.mark.parametrize("page", ["README.md", "docs/command-line.md"])
def test_exit_codes_in_the_tables_are_those_of_the_program(page):
    rows = re.findall(r"^\| (\d+) \| ", text(ROOT / page), re.MULTILINE)
    codes = [cli.SOUND, cli.ATTENTION, cli.UNREADABLE, cli.OPEN, cli.USAGE, cli.OWN_FAULT]
    assert [int(row) for row in rows] == codes


def test_the_readme_s_commands_print_what_it_shows(tmp_path):
    """Run in processes of their own, as a reader would; shown lines come in that order."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    plain = {**os.environ, "PYTHONIOENCODING": "utf-8"}
    code, ran = 0, 0
    for block in re.findall(r"^```console\n(.*?)^```", text(ROOT / "README.md"), re.M | re.S):
        for piece in block.split("$ ")[1:]:
            command, *shown = piece.splitlines()
            if command == "echo $?":
                assert shown == [str(code)]
                continue
            program, *words = shlex.split(command)
            assert program == "wattwright"
            done = subprocess.run(
                [sys.executable, "-m", program, *words],
                cwd=tmp_path,
                env=plain,
                capture_output=True,
                encoding="utf-8",
            )
            code, ran = done.returncode, ran + 1
            assert code == (cli.ATTENTION if words[0] == "check" else cli.SOUND), done.stderr
            printed = iter(done.stdout.splitlines())
            assert shown
            for line in shown:
                assert line == "..." or line in printed, f"{command} does not print: {line}"
    assert ran >= 8


# -------------------------------------------------------------------------------------- build files


TOML = [
    pytest.param(block, id=f"{page.stem}-{number}")
    for page in HAND_WRITTEN
    for number, block in enumerate(
        re.findall(r"^```toml\n(.*?)^```", text(page), re.M | re.S), start=1
    )
]


def shown_files():
    """The files beside a build that the page shows, by name."""
    page = text(DOCS / "build-file.md")
    fenced = r"`([^`\n]+\.(csv|gpx))`[^\n]*:\n\n```(?:csv|xml)\n(.*?)^```"
    blocks = [(name, text) for name, _, text in re.findall(fenced, page, re.M | re.S)]
    return {name: block.encode("utf-8") for name, block in blocks}


def test_the_page_on_build_files_shows_a_curve_a_grid_and_two_routes_and_names_them():
    shown = shown_files()
    assert len(shown) == 4
    for name in shown:
        assert any(f'= "{name}' in block.values[0] for block in TOML)


@pytest.mark.parametrize("block", TOML)
def test_a_toml_example_is_read_without_a_problem(block):
    whole = block.startswith("format = 1")
    head = "" if whole else 'format = 1\n\n[build]\nname = "Example"\n\n'
    opened = parse_build((head + block).encode("utf-8"), read_file=shown_files().__getitem__)
    if whole:
        assessment = assess(opened)
        verdicts = {finding.address: finding.verdict.value for finding in assessment.findings}
        assert verdicts["vehicle.axle_load@rear/full"] != "unknown"


def test_the_page_on_build_files_has_a_whole_one():
    blocks = re.findall(r"^```toml\n(.*?)^```", text(DOCS / "build-file.md"), re.M | re.S)
    assert blocks[0].startswith("format = 1")
    assert len(blocks) >= 8


def test_the_error_shown_is_the_error_given():
    page = text(DOCS / "build-file.md")
    shown = re.search(r"^    build\.toml:(\d+):1: (.*)\n        (.*)$", page, re.MULTILINE)
    assert shown is not None
    block = re.search(r"^```toml\n(.*?)^```", page, re.M | re.S)
    assert block is not None
    typo = block[1].replace("\nwheelbase", "\nwheelbse")
    with pytest.raises(wattwright.errors.BuildError) as caught:
        parse_build(typo.encode("utf-8"))
    line = 1 + typo.splitlines().index(next(x for x in typo.splitlines() if "wheelbse" in x))
    assert str(caught.value) == f"build.toml:{line}:1: {shown[2]}\n    {shown[3]}"
    assert int(shown[1]) == line


def test_fields_and_findings_named_in_the_text_exist():
    sections = {entry.section for entry in entries()}
    ids = {each.id for area in AREAS for each in (*area.checks, *area.figures)}
    areas = {area.name for area in AREAS}
    named = 0
    for page in HAND_WRITTEN:
        for path in re.findall(r"`([a-z_]+(?:\.[A-Za-z_]+)+)(?:@[a-z/]+)?`", text(page)):
            first = path.partition(".")[0]
            if first not in areas | sections or path.endswith(".toml"):
                continue
            # An area and a section of the file may have the same name, such as pack.
            is_field = any(leads_to(path, entry.path) for entry in entries())
            assert path in ids or is_field, f"{page.name}: {path}"
            named += 1
    assert named >= 4


def leads_to(path: str, field: str) -> bool:
    """Whether a path names a field or a section that the field stands in."""
    pieces, pattern = path.split("."), field.split(".")
    pairs = zip(pieces, pattern, strict=False)
    return len(pieces) <= len(pattern) and all(want in (piece, "NAME") for piece, want in pairs)


def test_the_evaluator_in_the_json_page_recomputes_a_working(tmp_path, capsys):
    (script,) = re.findall(r"^```python\n(.*?)^```", text(DOCS / "json.md"), re.M | re.S)
    assert len(script.splitlines()) <= 30
    build = str(ROOT / "examples/orchard-pickup")
    assert cli.main(["explain", "--json", build, "vehicle.tyre_load@rear/full"]) == 0
    said = capsys.readouterr().out
    done = subprocess.run(
        [sys.executable, "-c", script],
        input=said.encode(),
        capture_output=True,
        cwd=tmp_path,
    )
    assert done.stderr == b""
    rows = [line.split() for line in done.stdout.decode().splitlines()]
    assert len(rows) == len(json.loads(said)["steps"]) > 10
    for _, ours, theirs, *_ in rows:
        assert float(ours) == pytest.approx(float(theirs), rel=1e-12, abs=1e-12)


# ------------------------------------------------------------------------- the workbench, its API


def routes(found: list[BaseRoute], above: str = "") -> Iterator[str]:
    """Every address of the workbench as the pages write it: ``POST /b/BUILD/table/PATH``."""
    for each in found:
        if isinstance(each, Mount):
            yield from routes(each.routes, above + each.path)
            continue
        assert isinstance(each, Route)
        path = re.sub(r"{(\w+)(:\w+)?}", lambda match: match[1].upper(), above + each.path)
        for method in each.methods - {"HEAD"}:
            yield f"POST {path}" if method == "POST" else path


def test_every_address_of_the_workbench_is_named_once_and_no_other_is():
    pages = [text(DOCS / name) for name in ("workbench.md", "json.md")]
    rows = re.findall(r"^\| (`(?:GET |POST )?/.*?) \| ", "\n".join(pages), re.MULTILINE)
    named = re.findall(r"`(?:GET )?([^`]+)`", " ".join(rows))
    assert sorted(named) == sorted(routes(made(Shelf([])).routes))
    assert len(named) > 50


def test_numbers_on_the_pages_of_the_workbench_and_the_journal_are_those_of_the_program():
    workbench, journal = text(DOCS / "workbench.md"), text(DOCS / "journal.md")
    mega = 1024 * 1024
    assert f"as pocket calculators, {len(sums())} of them" in workbench
    assert f"up to {LARGEST // mega} MB" in workbench
    assert f"Up to 2,000 rows and {spreadsheet.LARGEST // mega} MiB" in workbench
    assert (spreadsheet._MOST_ROWS, codes.TRIES, codes.LENGTH, codes.VALID) == (2_000, 5, 8, 300)
    assert f"not used for {devices.UNUSED_DAYS} days" in workbench
    limits = (
        f"At most {belonging.MOST_FILES:,} files, {belonging.LARGEST_FILE // mega} MB each, the "
        f"journal {belonging.LARGEST_JOURNAL // mega // 1024} GB, "
        f"{belonging.LARGEST_IN_ALL // mega // 1024} GB in all"
    )
    assert limits in journal


@contextmanager
def served(folder: Path) -> Iterator[int]:
    """Run the workbench in a process of its own, as a person would, and give its port."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    own = {**os.environ, "XDG_STATE_HOME": str(folder / "state")}
    words = [sys.executable, "-m", "wattwright", "serve", str(folder), "--port", str(port)]
    server = subprocess.Popen(words, env=own, stdout=subprocess.PIPE, encoding="utf-8")
    try:
        assert server.stdout is not None
        assert f":{port}/" in server.stdout.readline()
        # The address is printed before the first request is taken.
        while server.poll() is None:
            with suppress(ConnectionRefusedError):
                socket.create_connection(("127.0.0.1", port)).close()
                break
        yield port
    finally:
        server.kill()
        server.communicate()


# For machines without curl: as much of it as the example needs.
CURL = """\
import argparse, sys, urllib.request
asked = argparse.ArgumentParser()
asked.add_argument("-s", "--silent", action="store_true")
asked.add_argument("-H", action="append", default=[])
asked.add_argument("-d")
asked.add_argument("url")
asked = asked.parse_args()
heads = dict(each.split(": ", 1) for each in asked.H)
data = None if asked.d is None else asked.d.encode()
with urllib.request.urlopen(urllib.request.Request(asked.url, data, heads)) as answer:
    sys.stdout.write(answer.read().decode())
"""


def key_of_a_program(port):
    """Make a key as the page Devices does."""
    at = f"http://127.0.0.1:{port}"
    with urllib.request.urlopen(f"{at}/devices") as answer:
        token = re.search(r'name="token" content="(\w+)"', answer.read().decode())[1]
    sent = urllib.parse.urlencode({"token": token, "name": "a script", "may": "change"}).encode()
    with urllib.request.urlopen(f"{at}/devices/key", sent) as answer:
        return re.search(r'"big"><code>([\w-]+)<', answer.read().decode())[1]


def test_the_example_of_the_api_does_what_the_page_says(tmp_path):
    (script,) = re.findall(r"^```sh\n(.*?)^```", text(DOCS / "json.md"), re.M | re.S)
    start(tmp_path / "my-pickup", "orchard-pickup")
    path = os.environ["PATH"]
    if shutil.which("curl") is None:
        (tmp_path / "curl").write_text(f"#!{sys.executable}\n{CURL}")
        (tmp_path / "curl").chmod(0o755)
        path = f"{tmp_path}{os.pathsep}{path}"
    with served(tmp_path) as port:
        assert "key=...  " in script
        script = script.replace("key=...", f"key={key_of_a_program(port)}")
        done = subprocess.run(
            ["sh", "-eu", "-c", script.replace(":8437", f":{port}")],
            env={**os.environ, "PATH": path},
            capture_output=True,
            encoding="utf-8",
        )
    assert done.returncode == 0, done.stderr
    # One document after the other, with nothing between them.
    explained, saved, undone = json.loads(f"[{done.stdout.replace('}{', '},{')}]")
    assert explained["finding"]["address"] == "vehicle.axle_load@rear/full"
    assert saved["revision"]["why"] == "by a script"
    turned = {each["address"] for each in saved["ripple"]["changes"] if each["turned"]}
    assert "vehicle.axle_load@rear/full" in turned
    assert undone["revision"]["kind"] == "undo"


# ---------------------------------------------------------------------------------- the repository


@pytest.mark.parametrize("page", [*HAND_WRITTEN, *GENERATED], ids=page_id)
def test_every_relative_link_leads_somewhere(page):
    for link in re.findall(r"\]\(([^)#\s]+)", text(page)):
        if not link.startswith("https://"):
            assert (page.parent / link).exists(), link


@pytest.mark.parametrize("page", HAND_WRITTEN, ids=page_id)
def test_the_tone_is_plain(page):
    words = re.sub(r"<!--.*?-->|```.*?```|`[^`]*`", "", text(page), flags=re.DOTALL)
    assert "!" not in words
    assert not re.search("[\u2600-\u27bf\U0001f300-\U0001faff]", words)


def test_every_page_is_reached_from_the_readme():
    readme = text(ROOT / "README.md")
    for page in [*sorted(DOCS.glob("*.md")), *GENERATED]:
        assert f"({page_id(page)})" in readme


def test_the_changelog_has_the_current_version_first():
    versions = re.findall(r"^## (\S+)", text(ROOT / "CHANGELOG.md"), re.MULTILINE)
    assert versions[0] == wattwright.__version__


def below(error: type[WattwrightError]) -> Iterator[type[WattwrightError]]:
    for each in error.__subclasses__():
        if each.__module__.startswith("wattwright."):
            yield each
            yield from below(each)


def test_the_tree_of_errors_lists_every_error_under_the_one_it_is():
    """An error stands under its base, two spaces further in."""
    tool("doc_pages").import_everything()
    tree: dict[str, str] = {}
    above: dict[int, str] = {}
    for line in (wattwright.errors.__doc__ or "").splitlines():
        if found := re.match(r"( {4,})(\w+Error)\b", line):
            depth = len(found[1])
            tree[found[2]] = above.get(depth - 2, "")
            above[depth] = found[2]
    real = {each.__name__: each.__mro__[1].__name__ for each in below(WattwrightError)}
    assert tree == {"WattwrightError": "", **real}


def wanted(name: str) -> list[str]:
    lines = (line.partition("#")[0].strip() for line in text(ROOT / name).splitlines())
    return [line for line in lines if line and not line.startswith("-")]


def test_every_dependency_is_explained_with_its_pinned_release():
    page = text(DOCS / "dependencies.md")
    run, check = page.split("## To build and check")
    pinned = re.findall(r"^([a-z0-9-]+)==([^ ]+)", text(ROOT / "requirements.txt"), re.MULTILINE)
    for part, names in ((run, wanted("requirements-run.in")), (check, wanted("requirements.in"))):
        rows = re.findall(r"^\| ([a-z0-9-]+) \| ([^|]+) \|", part, re.MULTILINE)
        assert sorted(name for name, _ in rows if name != "package") == sorted(names)
        for name, releases in rows:
            if name != "package":
                assert releases.split(", ") == [r for pin, r in pinned if pin == name]


def test_the_program_needs_what_the_page_says_it_needs():
    declared = re.search(r"^dependencies = \[(.*?)^\]", text(ROOT / "pyproject.toml"), re.M | re.S)
    assert declared is not None
    names = re.findall(r'"([a-z0-9-]+)', declared[1])
    assert sorted(names) == sorted(wanted("requirements-run.in"))


def test_notice_names_every_table():
    tables = sorted(path.name for path in (ROOT / "src/wattwright/tables").glob("*.csv"))
    assert tables
    notice = text(ROOT / "NOTICE")
    assert [name for name in tables if name not in notice] == []


# Put together here so that this file does not hold what it looks for.
REGISTRIES = re.compile("|".join(("pypi" + r"\.", "python" + "hosted", "index" + "-url")))
MACHINE = re.compile(r"(?<![\w.~/$-])/(?:home|root|Users|work|mnt)/\w|[A-Z]:\\Users")
SKIPPED = {".git", ".venv", "__pycache__", ".mypy_cache", ".ruff_cache", ".pytest_cache"}
SKIPPED_AT_TOP = {"dist", "build", ".hypothesis"}


def repository():
    for folder, folders, names in os.walk(ROOT):
        at_top = Path(folder) == ROOT
        folders[:] = [
            name
            for name in folders
            if name not in SKIPPED and not (at_top and name in SKIPPED_AT_TOP)
        ]
        # A work tree beside the main one has a file of this name, which holds where that is.
        yield from (Path(folder) / name for name in names if name != ".git")


def test_no_file_holds_a_registry_address_or_a_machine_path():
    files = list(repository())
    assert len(files) > 60
    found = []
    for path in files:
        content = path.read_bytes().decode("utf-8", errors="replace")
        for pattern in (REGISTRIES, MACHINE):
            found += [f"{page_id(path)}: {hit[0]}" for hit in pattern.finditer(content)]
    assert found == []


def test_the_search_for_addresses_finds_them():
    assert REGISTRIES.search("https://files.python" + "hosted.org/x")
    assert MACHINE.search("see /ho" + "me/someone/file")
    assert not MACHINE.search("make PYTHON=/path/to/python3.11 run")
