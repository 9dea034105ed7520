"""Write the generated documentation; with ``--check``, say what is stale and change nothing."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

import doc_blocks
import doc_pages

ROOT = Path(__file__).resolve().parents[1]


def documents(root: Path) -> Iterator[tuple[Path, str]]:
    """Yield every generated file with what should be in it."""
    for name, text in doc_pages.pages().items():
        yield root / "docs" / name, text
    regions = doc_pages.regions()
    for page in [root / "README.md", *sorted((root / "docs").glob("*.md"))]:
        text = page.read_text(encoding="utf-8")
        yield page, doc_blocks.with_output(doc_blocks.filled(text, regions))


def stale(root: Path) -> Iterator[tuple[Path, str]]:
    """Yield the files whose content is not what it should be, and left-over generated files."""
    wanted = dict(documents(root))
    for path, text in wanted.items():
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            yield path, text
    for folder in ("reference", "schemas"):
        for path in sorted((root / "docs" / folder).glob("*")):
            if path not in wanted:
                yield path, ""


def main(argv: list[str] | None = None) -> int:
    """Bring the documentation up to date, or check that it is."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true", help="change nothing; exit 1 when stale")
    asked = parser.parse_args(argv)
    found = list(stale(ROOT))
    for path, text in found:
        name = path.relative_to(ROOT).as_posix()
        if asked.check:
            print(f"{name} is stale: make docs")
        elif text:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
            print(f"wrote {name}")
        else:
            path.unlink()
            print(f"deleted {name}")
    return 1 if asked.check and found else 0


if __name__ == "__main__":
    sys.exit(main())
