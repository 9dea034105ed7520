"""The wheel: one version, one entry point, and everything the program reads at run time."""

from __future__ import annotations

import ast
import configparser
import email.parser
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

import wattwright
from wattwright import cli

ROOT = Path(__file__).parents[1]

# One worker builds the wheel for all of these.
pytestmark = pytest.mark.xdist_group("wheel")


@pytest.fixture(scope="session")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    done = subprocess.run(
        [sys.executable, "-m", "build", "--no-isolation", "--wheel", "--outdir", folder, ROOT],
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr + done.stdout
    (made,) = folder.glob("*.whl")
    with zipfile.ZipFile(made) as opened:
        yield opened


@pytest.fixture(scope="session")
def names(wheel):
    return set(wheel.namelist())


def metadata(wheel, name):
    (path,) = (each for each in wheel.namelist() if each.endswith(f".dist-info/{name}"))
    return wheel.read(path).decode("utf-8")


def test_the_version_is_the_one_of_the_package(wheel):
    said = email.parser.Parser().parsestr(metadata(wheel, "METADATA"))
    assert said["Version"] == wattwright.__version__
    assert re.fullmatch(r"\d+\.\d+\.\d+", wattwright.__version__)


def test_the_version_is_written_once():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert "version" not in project
    assert project["dynamic"] == ["version"]
    sources = (path.read_text(encoding="utf-8") for path in (ROOT / "src").rglob("*.py"))
    assert sum(f'"{wattwright.__version__}"' in source for source in sources) == 1


def test_the_entry_point_leads_to_the_command_line(wheel):
    points = configparser.ConfigParser()
    points.read_string(metadata(wheel, "entry_points.txt"))
    assert dict(points["console_scripts"]) == {"wattwright": "wattwright.cli:entry"}
    assert callable(cli.main)


def test_what_the_program_reads_is_in_the_wheel(names):
    inside = {
        path.relative_to(ROOT / "src").as_posix()
        for path in (ROOT / "src" / "wattwright").rglob("*")
        if path.is_file() and path.suffix != ".pyc"
    }
    assert {"wattwright/starter.toml", "wattwright/py.typed"} <= inside
    assert any(name.startswith("wattwright/tables/") and name.endswith(".csv") for name in inside)
    assert inside - names == set()


def test_the_examples_are_in_the_wheel(names):
    builds = [path.parent.name for path in (ROOT / "examples").glob("*/build.toml")]
    assert {"orchard-pickup", "island-runabout", "bare-start"} <= set(builds)
    for build in builds:
        assert f"wattwright/examples/{build}/build.toml" in names


def test_nothing_else_is_in_the_wheel(names):
    tops = {name.partition("/")[0] for name in names}
    assert tops == {"wattwright", f"wattwright-{wattwright.__version__}.dist-info"}
    assert [name for name in names if "test" in name] == []


def test_licence_and_notice_come_with_it(wheel, names):
    licences = {name.rpartition("/")[2] for name in names if ".dist-info/licenses/" in name}
    assert licences == {"LICENSE", "NOTICE"}
    assert "License-Expression: MIT" in metadata(wheel, "METADATA")


# Packages that are imported by another name than they are installed by.
CALLED = {"PIL": "pillow", "fcl": "python-fcl"}


def test_the_wheel_needs_exactly_what_the_program_imports(wheel):
    imported = set()
    for path in (ROOT / "src").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                imported |= {alias.name.partition(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                imported.add(node.module.partition(".")[0])
    foreign = {CALLED.get(name, name) for name in imported}
    foreign -= {*sys.stdlib_module_names, "wattwright"}
    said = email.parser.Parser().parsestr(metadata(wheel, "METADATA"))
    needs = {re.match(r"[a-z0-9-]+", line)[0] for line in said.get_all("Requires-Dist")}
    assert needs == {name.replace("_", "-") for name in foreign}
    assert said["Requires-Python"] == ">=3.11"
