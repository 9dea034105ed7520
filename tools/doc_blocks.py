"""Blocks inside hand-written pages: generated regions, and commands with their real output.

A region stands between ``<!-- generated: NAME -->`` and ``<!-- end -->``. A block of commands is
fenced as ``console``; each ``$`` line is run in a folder of its own that holds the examples, and
what follows is replaced by what was printed. A comment above the fence chooses what is shown:

    <!-- shown: axle load +3; Caution +1 -->

shows three lines from the first that contains "axle load", then one from "Caution".
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from wattwright.cli import main

ROOT = Path(__file__).resolve().parents[1]
CUT = "..."

_REGION = re.compile(r"(<!-- generated: (\w+) -->\n).*?(<!-- end -->)", re.DOTALL)
_CONSOLE = re.compile(
    r"(?:<!-- shown: (?P<shown>.*?) -->\n)?```console\n(?P<body>.*?)```", re.DOTALL
)
_TOML = re.compile(r"^```toml\n(.*?)^```", re.DOTALL | re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Ran:
    """One command of a page: what it printed and how it ended."""

    command: str
    output: str
    code: int


def filled(text: str, regions: Mapping[str, Callable[[], Iterator[str]]]) -> str:
    """Write the generated regions of a page anew."""

    def fill(match: re.Match[str]) -> str:
        body = "\n".join(regions[match[2]]()).strip("\n")
        return f"{match[1]}\n{body}\n\n{match[3]}"

    return _REGION.sub(fill, text)


def toml_blocks(text: str) -> list[str]:
    """List the TOML examples of a page."""
    return _TOML.findall(text)


def commands_of(text: str) -> list[list[str]]:
    """List the commands of a page, block by block."""
    return [
        [line[2:] for line in match["body"].splitlines() if line.startswith("$ ")]
        for match in _CONSOLE.finditer(text)
    ]


def with_output(text: str) -> str:
    """Run the commands of a page, in one folder from first to last, and show what they print."""
    with examples_folder():

        def show(match: re.Match[str]) -> str:
            pieces = _pieces(match["shown"])
            lines: list[str] = []
            printed = ""
            code = 0
            for command in commands_of(match[0])[0]:
                ran = run(command, code)
                code, printed = ran.code, printed + ran.output
                lines += [f"$ {command}", *_chosen(ran.output.splitlines(), pieces)]
            for wanted, _ in pieces:
                if wanted not in printed:
                    raise ValueError(f"none of the commands prints {wanted!r}: {lines[0]}")
            head = f"<!-- shown: {match['shown']} -->\n" if pieces else ""
            return "\n".join([f"{head}```console", *lines, "```"])

        return _CONSOLE.sub(show, text)


@contextlib.contextmanager
def examples_folder() -> Iterator[Path]:
    """Work in a new folder that holds the examples, as a reader would, with plain output."""
    before = Path.cwd()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copytree(ROOT / "examples", folder / "examples")
        os.chdir(folder)
        try:
            yield folder
        finally:
            os.chdir(before)


def run(command: str, code: int = 0) -> Ran:
    """Run one command of a page; ``echo $?`` shows the exit code of the one before it."""
    if command == "echo $?":
        return Ran(command, f"{code}\n", 0)
    program, *words = shlex.split(command)
    if program != "wattwright":
        raise ValueError(f"a page may show only wattwright at work, not: {command}")
    said = io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        try:
            code = main(words)
        except SystemExit as end:
            code = end.code if isinstance(end.code, int) else 1
    return Ran(command, said.getvalue(), code)


def _pieces(shown: str | None) -> list[tuple[str, int]]:
    pairs = (piece.strip().rpartition(" +") for piece in (shown or "").split(";") if piece.strip())
    return [(wanted, int(count)) for wanted, _, count in pairs]


def _chosen(lines: list[str], pieces: list[tuple[str, int]]) -> Iterator[str]:
    """Choose the pieces that this command prints; all of it where it prints none of them."""
    reached = 0
    for wanted, count in pieces:
        found = next(
            (at for at, line in enumerate(lines) if at >= reached and wanted in line), None
        )
        if found is None:
            continue
        if found > reached:
            yield CUT
        reached = found + count
        yield from lines[found:reached]
    if reached == 0:
        yield from lines
    elif reached < len(lines):
        yield CUT
