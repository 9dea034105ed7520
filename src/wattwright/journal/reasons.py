"""What a change of the build file did, in one line: ``donor.wheelbase: 2540 mm -> 2545 mm``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.build.text import Path, Source, dotted

# More than that is read in the difference itself.
_MOST = 6
_LONGEST = 80


def described(before: Source, after: Source) -> str:
    """Say which values differ between two texts of a build file."""
    old, new = _leaves(before), _leaves(after)
    paths = [
        *(path for path in old if old[path] != new.get(path)),
        *(p for p in new if p not in old),
    ]
    if not paths:
        return "comments or layout"
    said = [_one(path, old.get(path), new.get(path)) for path in paths[:_MOST]]
    if len(paths) > _MOST:
        said.append(f"and {len(paths) - _MOST} more")
    return "; ".join(said)


def _leaves(source: Source) -> dict[Path, str]:
    return dict(_walk(source, source.data, ()))


def _walk(source: Source, data: Mapping[str, object], base: Path) -> Iterator[tuple[Path, str]]:
    for key, value in data.items():
        path = (*base, key)
        if isinstance(value, dict) and value:
            yield from _walk(source, value, path)
        elif isinstance(value, str):
            yield path, " ".join(value.split())
        elif isinstance(value, dict):
            yield path, "{}"
        else:
            place = source.places[path]
            yield path, " ".join(source.text[place.start : place.end].split())


def _one(path: Path, old: str | None, new: str | None) -> str:
    if old is None:
        return f"{dotted(path)}: {_short(new or '')} added"
    if new is None:
        return f"{dotted(path)}: {_short(old)} deleted"
    return f"{dotted(path)}: {_short(old)} -> {_short(new)}"


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 3]}..."
