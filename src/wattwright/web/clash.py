"""Edits of one value by two people at once, and the edits that lead from one text to another."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wattwright.build.edits import ANY, Edit, quote
from wattwright.build.text import Path, Source


@dataclass(frozen=True, slots=True)
class Clash:
    """A value that is not what an edit meant to replace: what is there, what was to be."""

    path: Path
    now: str | None
    meant: str | None

    @property
    def now_says(self) -> str:
        """What is there now, as a form shows it."""
        return as_shown(self.now)

    @property
    def meant_says(self) -> str:
        """What was to be there, as a form shows it."""
        return as_shown(self.meant)


def as_shown(text: str | None) -> str:
    """Return a value of the file as a form shows it: without quotes, a record field by field."""
    if text is None:
        return "nothing"
    try:
        return _in_words(tomllib.loads(f"value = {text}")["value"])
    except tomllib.TOMLDecodeError:
        return text


def _in_words(value: object) -> str:
    match value:
        case bool():
            return "yes" if value else "no"
        case dict():
            return "; ".join(
                f"{key.replace('_', ' ')}: {_in_words(each)}" for key, each in value.items()
            )
        case list():
            return ", ".join(_in_words(each) for each in value)
        case _:
            return str(value) or "nothing"


def clashes(source: Source, edits: Sequence[Edit]) -> tuple[Clash, ...]:
    """List the edits whose value was changed meanwhile to something else than they mean."""
    found = []
    for edit in edits:
        now = written(source, edit.path)
        if edit.was is ANY or _same(now, edit.was) or _same(now, edit.new):
            continue
        found.append(Clash(edit.path, now, edit.new))
    return tuple(found)


def _same(one: str | None, other: str | None) -> bool:
    """Compare as a browser sends texts back, which ends every line with CR LF."""
    if one is None or other is None:
        return one is other
    return one.replace("\r\n", "\n") == other.replace("\r\n", "\n")


def written(source: Source, path: Path) -> str | None:
    """Return a value as it stands in the text, or none where nothing stands."""
    place = source.places.get(path)
    if place is None:
        return None
    if place.shape == "record":
        return quote(_look_up(source, path))
    return source.text[place.start : place.end]


def _look_up(source: Source, path: Path) -> object:
    data: object = source.data
    for key in path:
        data = data[key] if isinstance(data, dict) else None
    return data


def difference(old: Source, new: Source) -> tuple[Edit, ...]:
    """List the edits that make the values of one text from those of another."""
    return tuple(_difference(old, new))


def _difference(old: Source, new: Source) -> Iterator[Edit]:
    before, after = leaves(old), leaves(new)
    for path, text in before.items():
        if path not in after:
            yield Edit(path, None, text)
    for path, text in after.items():
        if before.get(path) != text:
            yield Edit(path, text, before.get(path))


def leaves(source: Source) -> dict[Path, str]:
    """List every value as written."""
    return {
        path: source.text[place.start : place.end]
        for path, place in source.places.items()
        if place.shape == "leaf"
    }
