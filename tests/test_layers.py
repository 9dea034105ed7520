"""The order of the layers: a module imports only from layers before its own."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import wattwright

ROOT = Path(wattwright.__file__).parent

# Lowest first. A name stands for the module, or for the package and everything in it.
LAYERS = (
    (
        *("bracketed", "convex", "kinds", "errors", "great_circle", "limit_edges", "once"),
        "plane",
        *("point_network", "waves"),
    ),
    ("closest", "cylinder_in_air", "elastic_support", "network_adjustment", "unit_hints"),
    ("cable_over_time", "unit_table"),
    ("units_written",),
    ("units",),
    ("formula", "given"),
    ("slopes",),
    ("values",),
    ("sampled",),
    ("tables", "hunts"),
    ("physics",),
    ("uses",),
    ("build",),
    ("journal",),
    ("findings", "descriptions"),
    ("use_pass",),
    ("areas",),
    ("assessment",),
    ("words", "said_of_survey"),
    ("worthwhile",),
    ("next_readings", "working"),
    ("output",),
    ("written_out", "declared_out"),
    ("paper",),
    ("drawings",),
    ("bench",),
    ("pages",),
    ("quick_sums",),
    ("web",),
    ("cli",),
    ("__main__",),
)
# Holds what differs between operating systems; any layer may use it, and it knows only errors.
FREE = "system"
# Only areas and the pass through uses bring formulas and builds together; quick sums have no build.
USE_PHYSICS = {"physics", "areas", "use_pass", "quick_sums"}
HEAVY = (
    "numba",
    "numpy",
    "pydantic",
    "networkx",
    "tree_sitter",
    "tree_sitter_toml",
    "scipy",
    "sqlalchemy",
    "starlette",
    "jinja2",
    "PIL",
    "typst",
    "ezdxf",
    "fcl",
)

MODULES = sorted(ROOT.rglob("*.py"))


def name_of(path: Path) -> str:
    pieces = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(piece for piece in pieces if piece != "__init__")


def imports(path: Path) -> Iterator[str]:
    """Modules of the package that a file imports, wherever in the file, without the root name."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name} imports by a relative name"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        else:
            continue
        yield from (name.removeprefix("wattwright.") for name in names if "wattwright." in name)


def layer(name: str) -> int:
    head = name.partition(".")[0]
    return next(place for place, names in enumerate(LAYERS) if head in names)


def test_every_module_has_a_layer() -> None:
    heads = {name_of(path).partition(".")[0] for path in MODULES} - {"", FREE}
    assert heads == {name for names in LAYERS for name in names}


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_a_module_imports_only_from_layers_before_its_own(path: Path) -> None:
    name = name_of(path)
    for imported in imports(path):
        head, own = imported.partition(".")[0], name.partition(".")[0]
        if head in (FREE, "__version__"):
            continue
        if name == FREE:
            assert head == "errors"
            continue
        if head == own:
            continue
        assert layer(imported) < layer(name), f"{name} imports {imported}"


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_only_areas_use_formulas(path: Path) -> None:
    if name_of(path).partition(".")[0] not in USE_PHYSICS:
        assert not [name for name in imports(path) if name.partition(".")[0] == "physics"]


def test_the_loop_over_time_knows_nothing_of_builds_values_and_findings() -> None:
    for path in (ROOT / "uses").glob("*.py"):
        heads = {name.partition(".")[0] for name in imports(path)}
        assert heads.isdisjoint({"build", "values", "findings", "descriptions", "areas"}), path.name


def test_no_area_imports_another() -> None:
    """What areas share stands beside them, as a module that is no area and imports none."""
    shared = {f"areas.{path.stem}" for path in (ROOT / "areas").glob("*.py")} - {"areas.__init__"}
    for path in (ROOT / "areas").rglob("*.py"):
        own = name_of(path)
        if own == "areas":
            continue
        package = ".".join(own.split(".")[:2])
        for imported in imports(path):
            of = ".".join(imported.split(".")[:2])
            if imported.startswith("areas"):
                assert of in {package, *shared}, f"{own} imports {imported}"
                assert own not in shared or of in shared, f"{own} imports {imported}"


def test_the_physics_of_one_phenomenon_uses_no_other() -> None:
    for path in (ROOT / "physics").rglob("*.py"):
        assert not [name for name in imports(path) if name.startswith("physics")]


def test_the_checks_above_see_imports_inside_functions(tmp_path: Path) -> None:
    file = tmp_path / "module.py"
    file.write_text("def f():\n    from wattwright.cli import check\n", encoding="utf-8")
    assert list(imports(file)) == ["cli.check"]


def modules_after(code: str) -> set[str]:
    run = subprocess.run(
        [sys.executable, "-c", f"import sys\n{code}\nprint('\\n'.join(sys.modules))"],
        capture_output=True,
        text=True,
        check=True,
    )
    return set(run.stdout.split())


def test_the_parser_and_help_import_nothing_heavy() -> None:
    seen = modules_after("import wattwright.cli.parser")
    assert "wattwright.cli.parser" in seen
    assert not seen & set(HEAVY)
    seen = modules_after(
        "from wattwright.cli import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit as end:\n    assert not end.code"
    )
    assert "wattwright.cli.parser" in seen
    assert not seen & set(HEAVY)


def test_a_check_imports_what_it_needs_and_no_more() -> None:
    """The guard above works: reading a build does import something heavy."""
    seen = modules_after("import wattwright.cli.check")
    assert {"pydantic", "tree_sitter"} <= seen
    assert not seen & {"networkx", "numba", "numpy", "scipy", "sqlalchemy"}
