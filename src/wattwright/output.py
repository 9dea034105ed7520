"""What ``--json`` says: the documented form of findings, figures, workings and ripples.

The JSON Schemas under docs/schemas are generated from these classes. ``format`` changes only when
a reader of the old form would be misled.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field


class Out(BaseModel):
    """Base of the output classes."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class ValueOut(Out):
    """A number in SI with its unit, its text as shown, and its band."""

    number: float | None
    unit: str
    text: str
    band: float | None = Field(description="95 % half-width in the same unit")
    state: str


class RestsOnOut(Out):
    """An input that counts, and how far the margin shifts over its band."""

    path: str
    origin: str
    soft: bool = Field(description="typical, assumed or an unanswered rule")
    effect: float


class UnknownOut(Out):
    """Something to find out."""

    field: str
    label: str
    why: str
    how: str
    minutes: float


class FigureOut(Out):
    """A result without a limit."""

    id: str
    about: str
    address: str
    area: str
    says: str
    value: ValueOut
    lacks: list[UnknownOut]
    doubts: list[str]


class FindingOut(FigureOut):
    """A value against a limit."""

    sense: Literal["at most", "at least", "within"]
    limit: ValueOut
    margin: float | None
    margin_band: float | None
    verdict: Literal["failing", "unknown", "marginal", "sound"]
    provisional: bool
    rests_on: list[RestsOnOut]
    source: str
    caution: str


class TellMeFirstOut(Out):
    """An area nobody has begun."""

    area: str
    fields: list[str]


class BundleOut(Out):
    """Measurements to take together."""

    purpose: Literal["settle", "confirm"]
    minutes: float
    settles: list[str]
    of: int = Field(description="how many readings the bundle has in all")
    readings: list[UnknownOut]


class CheckOut(Out):
    """What ``check --json`` prints."""

    format: Literal[1] = 1
    build: str
    digest: str
    findings: list[FindingOut]
    figures: list[FigureOut]
    unknowns: list[UnknownOut]
    tell_me_first: list[TellMeFirstOut]
    next: list[BundleOut]


class InputOut(Out):
    """One input of a working."""

    id: str
    label: str
    path: str
    origin: str = ""
    text: str = ""
    value: ValueOut
    line: int | None = None
    detail: str = ""
    date: str = ""
    note: str = ""


class StepOut(Out):
    """One step of a working, complete enough to be recomputed elsewhere.

    ``expression`` is Python; names in it are the keys of ``arguments`` and ``constants`` and the
    functions of Python's ``math`` module. An argument is the id of an input or step, or a list
    of ids.
    """

    id: str
    formula: str
    symbol: str
    says: str
    expression: str
    shown: str
    method: str
    constants: dict[str, float | list[tuple[float, float]]]
    arguments: dict[str, str | list[str]]
    result: ValueOut
    source: str


class PartOut(Out):
    """One part of the balance of a run."""

    name: str
    value: ValueOut


class RunOut(Out):
    """The run that a result of a use comes from, with all inputs as they are."""

    balance: list[PartOut] = Field(description="where the energy that left the cells went")
    hardest_at: float | None = Field(description="s after the start; none where nothing is driven")
    hardest_inputs: list[InputOut]
    hardest_steps: list[StepOut] = Field(description="the hardest second; its own ids")


class ExplainOut(Out):
    """What ``explain --json`` prints."""

    format: Literal[1] = 1
    build: str
    digest: str
    finding: FindingOut | None
    figure: FigureOut | None
    inputs: list[InputOut]
    steps: list[StepOut]
    value: str = Field(description="id of the input or step that is the value")
    limit: str | None = Field(description="id of the input or step that is the limit")
    run: RunOut | None = Field(
        default=None, description="for what comes of a use: the run behind it"
    )


class ChangeOut(Out):
    """One line of a ripple."""

    address: str
    says: str
    before: str
    after: str
    verdict_before: str
    verdict_after: str
    turned: bool


class CompareOut(Out):
    """What ``compare --json`` prints."""

    format: Literal[1] = 1
    old: str
    new: str
    changes: list[ChangeOut]


class RevisionOut(Out):
    """One state of the build file, as the journal holds it."""

    number: int
    at: str = Field(description="ISO 8601, in UTC")
    who: str
    why: str
    kind: Literal["start", "edit", "undo", "redo", "restore", "outside"]
    of: int | None = Field(
        description="the revision that an undo takes back, a redo makes again, a restore goes to"
    )
    digest: str = Field(description="SHA-256 of the build file")
    state: Literal["done", "not saved"]
    assessment: str = Field(description="digest of the build it was assessed as; empty: unknown")


class UndoOut(Out):
    """What ``undo --json`` prints."""

    format: Literal[1] = 1
    build: str
    target: RevisionOut = Field(description="what is taken back, or made again with --redo")
    made: RevisionOut | None = Field(description="the revision that does so; null for --dry-run")
    changes: list[ChangeOut]
    unreadable: list[str] = Field(description="why nothing can be said of changes, if so")


class HistoryOut(Out):
    """What ``history --json`` prints."""

    format: Literal[1] = 1
    revisions: list[RevisionOut] = Field(description="newest first, or the one asked for")
    difference: str | None = Field(
        description="unified difference to the file before it, for the one asked for"
    )


class ReadingOut(Out):
    """One reading, as the journal holds it."""

    id: int
    at: str = Field(description="when it was written down, ISO 8601, in UTC")
    who: str
    about: str = Field(description="SHEET/LINE, the path of a field, or words")
    text: str
    instrument: str
    date: str
    initials: str
    note: str
    replaces: int | None = Field(description="the reading that it corrects")
    replaced_by: int | None = Field(description="the reading that corrects it")
    accepted_into: str = Field(description="the field it stands in now; empty: none")


class ReadingsOut(Out):
    """What ``read --json`` prints without a reading."""

    format: Literal[1] = 1
    readings: list[ReadingOut] = Field(description="newest first")


class CauseOut(Out):
    """What may be behind a symptom."""

    name: str
    short: str
    says: str
    share: float = Field(description="rough share of cases, by the weights of the hunt")
    place: str
    mends: str


class OutcomeOut(Out):
    """What a test may show, and what follows from it."""

    reads: str
    rules_out: list[str] = Field(description="names of causes")
    points_to: list[str] = Field(description="names of causes")
    go_on: int | None = Field(description="number of the test to skip to")
    hunt: str = Field(description="another hunt to change to; empty: none")


class TestOut(Out):
    """One test of a hunt at this build."""

    number: int
    name: str
    act: str
    where: str
    tools: list[str]
    minutes: float
    danger: Literal["none", "not touched", "licensed"]
    place: str
    address: str = Field(description="finding or figure that it is held against; empty: none")
    sense: Literal["", "at most", "at least"] = Field(description="how the limit is meant")
    value: ValueOut | None = Field(description="what this build expects; none: not worked out")
    limit: ValueOut | None = Field(description="what the reading must keep to; none: no limit")
    usual: str
    missing: str = Field(description="what the build lacks for its own number")
    source: str = Field(description="where what is usual comes from")
    outcomes: list[OutcomeOut]


class HuntOut(Out):
    """One symptom: its causes, the likeliest first, and its tests in their order."""

    name: str
    title: str
    symptom: str
    cautions: list[str]
    source: str = Field(description="where the shares of the causes come from")
    causes: list[CauseOut]
    tests: list[TestOut]


class HuntsOut(Out):
    """What ``hunt --json`` prints: one symptom, or all of them."""

    format: Literal[1] = 1
    build: str
    outlet: str = Field(description="outlet it is hunted at; empty: the build has none")
    hunts: list[HuntOut]


class ColumnOut(Out):
    """One column of a curve or grid."""

    name: str
    kind: str
    unit: str = Field(description="SI unit that numbers are held in")
    usual_unit: str = Field(description="unit that a file usually names in its head")
    allowed: list[str]


class FieldOut(Out):
    """One declared field."""

    path: str
    label: str
    shape: str
    kind: str
    unit: str
    example: str
    allowed: list[str]
    how: str
    minutes: float | None
    default: str
    basis: str
    help: str
    kinds: list[str] = Field(description="kinds of part that have it; empty: all")
    columns: list[ColumnOut] = Field(
        default=[], description="columns of the file, where the field names one"
    )


class FieldsOut(Out):
    """What ``fields --json`` prints."""

    format: Literal[1] = 1
    fields: list[FieldOut]


class DeclaredOut(Out):
    """One check or figure that an area may state."""

    id: str
    area: str
    says: str
    meaning: str
    kind: str
    limit: str
    near: str
    source: str
    caution: str


class FindingsOut(Out):
    """What ``findings --json`` prints."""

    format: Literal[1] = 1
    checks: list[DeclaredOut]
    figures: list[DeclaredOut]


OUTPUTS: dict[str, type[Out]] = {
    "check": CheckOut,
    "explain": ExplainOut,
    "compare": CompareOut,
    "undo": UndoOut,
    "history": HistoryOut,
    "read": ReadingsOut,
    "hunt": HuntsOut,
    "fields": FieldsOut,
    "findings": FindingsOut,
}
