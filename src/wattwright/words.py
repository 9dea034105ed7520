"""What is said of a finding beside its numbers, in the words of the command line and the pages."""

from __future__ import annotations

from collections.abc import Callable

from wattwright.assessment import WORST_FIRST, Assessment
from wattwright.build.typed import DECIDED
from wattwright.findings import Finding
from wattwright.kinds import difference_of
from wattwright.units import Taste, write
from wattwright.values import Given, Lack, Value

CERTIFIES_NOTHING = (
    "This helps a competent person and certifies nothing. Local codes, the authority's answers "
    "and licensed practice come first."
)
_MOST_REASONS = 8


def tally_words(assessment: Assessment) -> str:
    """Count the verdicts in one line."""
    counts = [(assessment.count(verdict), verdict.value) for verdict in WORST_FIRST]
    words = " · ".join(f"{count} {word}" for count, word in counts if count)
    provisional = assessment.provisional
    tail = f" ({provisional} of all provisional)" if provisional else ""
    return f"{words}{tail}" if words else "nothing can be said yet"


def margin_words(finding: Finding, taste: Taste) -> str:
    """Say how far a value is from its limit."""
    if finding.margin is None:
        return ""
    band = finding.margin_band or None
    kind = difference_of(finding.check.kind)
    amount = write(abs(finding.margin), kind, taste, band).partition(" ± ")[0]
    if finding.margin >= 0:
        return f"{amount} to spare"
    return f"{amount} {'short' if finding.sense == 'at least' else 'over'}"


def shift_words(effect: float, value: Value, taste: Taste) -> str:
    """Write a shift with two digits, in the unit the value is shown in."""
    kind = difference_of(value.kind)
    if not effect or value.number is None:
        return "no band" if not effect else f"± {write(abs(effect), kind, taste)}"
    amount, _, band = write(value.number, kind, taste, abs(effect)).partition(" ± ")
    return f"± {band} {amount.partition(' ')[2]}".rstrip()


def reasons(finding: Finding, named: Callable[[Lack], str] | None = None) -> tuple[str, ...]:
    """Say why a finding is unknown: what it lacks, or what is doubted."""
    name = named or lack_words
    said = sorted({name(lack) for lack in finding.lacks}) or list(finding.doubts)
    if not said:
        said = ["something more exact: the band is wider than the limit itself"]
    if len(said) > _MOST_REASONS:
        said[_MOST_REASONS - 1 :] = [f"and {len(said) - _MOST_REASONS + 1} more"]
    return tuple(said)


def lack_words(lack: Lack) -> str:
    """Name what is lacking, and why where that is more than not having been written."""
    if not lack.path:
        return f"{lack.label}: {lack.why}"
    return lack.path if lack.why in ("not given", "unknown") else f"{lack.path} ({lack.why})"


def lack_label(lack: Lack) -> str:
    """Name what is lacking in words, for where a link leads to it."""
    ordinary = lack.why in ("not given", "unknown")
    return lack.label if ordinary else f"{lack.label} ({lack.why})"


def origin_words(origin: Given) -> str:
    """Name where an input comes from."""
    if origin.detail == DECIDED.detail:
        return DECIDED.detail
    if origin.origin.value == "rule":
        return "rule, answered" if origin.confirmed else "rule, not answered yet"
    return origin.origin.value


def input_words(origin: Given) -> str:
    """Say what was typed for an input, and all that is known about it, each thing once."""
    pieces = [origin.text]
    if origin.origin.value not in origin.text:
        pieces.append(origin_words(origin))
    if origin.detail and origin.detail not in "; ".join(pieces):
        pieces.append(origin.detail)
    if origin.date and origin.date not in origin.text:
        pieces.append(origin.date)
    if origin.band_note:
        pieces.append(origin.band_note)
    if origin.line is not None:
        pieces.append(f"line {origin.line}")
    return "; ".join(pieces)
