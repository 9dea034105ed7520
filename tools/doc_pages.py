"""Reference pages, each written from the declarations the program itself works with."""

from __future__ import annotations

import argparse
import importlib
import inspect
import json
import pkgutil
import sys
import textwrap
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from importlib.resources import files

import wattwright
from wattwright.areas import AREAS
from wattwright.build.catalogue import NAMED, Entry, entries
from wattwright.build.fields import Quantity, Sampled, Section, Track
from wattwright.build.model import Build
from wattwright.build.shape import slots
from wattwright.cli.parser import parser
from wattwright.declared_out import findings_out
from wattwright.formula import FORMULAS, Argument, Formula
from wattwright.kinds import KINDS, TEMPERATURE, TEMPERATURE_DIFFERENCE, Kind
from wattwright.output import OUTPUTS, DeclaredOut
from wattwright.tables import FLAGS, load
from wattwright.units import write
from wattwright.working import formula_text

WIDTH = 98
WRITTEN = "<!-- Written by tools/write_docs.py from the program itself; edits here are lost. -->"


def pages() -> dict[str, str]:
    """Write every page that is generated as a whole, by its path under docs/."""
    import_everything()
    written = {
        "reference/fields.md": _page("Fields of a build", _fields()),
        "reference/findings.md": _page("Findings and figures", _findings()),
        "reference/formulas.md": _page("Formulas", _formulas()),
        "reference/rules.md": _page("Rules", _rules()),
        "reference/tables.md": _page("Published tables", _tables()),
    }
    for name, model in OUTPUTS.items():
        schema = {
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            **model.model_json_schema(mode="serialization"),
        }
        text = json.dumps(schema, indent=2, ensure_ascii=False, sort_keys=True)
        written[f"schemas/{name}.schema.json"] = f"{text}\n"
    return written


def regions() -> dict[str, Callable[[], Iterator[str]]]:
    """Name the parts of hand-written pages that are generated."""
    return {"commands": _commands, "bands": _bands, "schemas": _schema_list}


def import_everything() -> None:
    """Import every module of the package, since formulas are known once they are imported."""
    for module in pkgutil.walk_packages(wattwright.__path__, "wattwright."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)


def _page(title: str, lines: Iterator[str]) -> str:
    return "\n".join([f"# {title}", "", WRITTEN, "", *lines]).rstrip("\n") + "\n"


def _wrapped(text: str, first: str = "", indent: str = "") -> str:
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=first or indent,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _bullet(text: str) -> str:
    return _wrapped(text, "- ", "  ")


def _sentence(text: str) -> str:
    return text if text.endswith((".", "?")) else f"{text}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


# ---------------------------------------------------------------------------------------- fields


def _fields() -> Iterator[str]:
    yield _wrapped(
        f"Everything that may stand in a build file. `{NAMED}` is a name of your own. The command "
        "`wattwright fields` prints the same. How a value is written: [build-file.md]"
        "(../build-file.md)."
    )
    headings = {slot.name: slot.declared.label for slot in slots(Build)}
    section = ""
    for entry in entries():
        if entry.section != section:
            section = entry.section
            yield ""
            yield f"## {section}: {headings[section]}"
            yield ""
        yield _bullet(" ".join(_field(entry)))


def _field(entry: Entry) -> Iterator[str]:
    declared = entry.slot.declared
    yield f"`{entry.path}`: {declared.label}."
    if isinstance(declared, Quantity):
        yield from _quantity(entry, declared)
        return
    if isinstance(declared, Sampled):
        yield from _sampled(declared)
        return
    if isinstance(declared, Track):
        yield "A route in a CSV or GPX file."
        yield _sentence(_capital(declared.help))
        yield f"How: {declared.how}; {declared.minutes:g} min."
        return
    if entry.allowed:
        yield f"One of {', '.join(f'`{word}`' for word in entry.allowed)}."
    if not isinstance(declared, Section) and entry.slot.required:
        yield "Needed."
    if declared.help:
        yield _sentence(_capital(declared.help))


def _quantity(entry: Entry, declared: Quantity) -> Iterator[str]:
    if declared.codes:
        codes = ", ".join(load(declared.codes).rows)
        yield f"A code of the table `{declared.codes}`: {codes}."
    else:
        allowed = f", {' to '.join(entry.allowed)}" if entry.allowed else ""
        yield f"{_capital(declared.kind.name)}, such as `{declared.example}`{allowed}."
    if declared.may_be_none:
        yield 'May be `"none"`.'
    if declared.help:
        yield _sentence(_capital(declared.help))
    yield f"How: {declared.how}; {declared.minutes:g} min."
    if declared.default:
        basis = f" ({declared.basis})" if declared.basis else ""
        yield f"Left out: {declared.default}{basis}."


def _sampled(declared: Sampled) -> Iterator[str]:
    columns = (
        f"`{column.head}`" + (f", {' to '.join(column.allowed)}" if column.allowed else "")
        for column in declared.columns
    )
    yield f"A {declared.form} in a CSV file with the columns {'; '.join(columns)}."
    if declared.may_be_none:
        yield 'May be `"none"`.'
    if declared.help:
        yield _sentence(_capital(declared.help))
    yield f"How: {declared.how}; {declared.minutes:g} min."


def _rules() -> Iterator[str]:
    yield _wrapped(
        "Limits and answers that the authority or engineer sets, in `[rules]`. A rule counts as "
        "answered when it says `answered_by` and `date`. Until then the default stands, where "
        "there is one, and every finding that reads it is provisional. No default is law. A rule "
        "for gross mass or an axle comes before the maker's plate; without one the plate counts. "
        'A limit that does not exist where you are is written `value = "none"`.'
    )
    rules = next(slot.record for slot in slots(Build) if slot.name == "rules")
    if rules is None:
        raise TypeError("rules are no section")
    yield ""
    for slot in slots(rules):
        declared = slot.declared
        pieces = [f"`rules.{slot.name}`: {declared.label}."]
        if isinstance(declared, Quantity):
            low, high = declared.allowed or ("", "")
            pieces.append(f"{_capital(declared.kind.name)}, {low} to {high}.")
            if declared.default:
                pieces.append(f"Default {declared.default}: {declared.basis}.")
            else:
                pieces.append("No default.")
        else:
            pieces.append("Answer in words.")
        yield _bullet(" ".join(pieces))


# -------------------------------------------------------------------------------------- findings


def _findings() -> Iterator[str]:
    yield _wrapped(
        "What each area may say. A finding or figure is addressed by its name, `@` and what it is "
        "about: `vehicle.axle_load@rear/full`. How a verdict follows: [verdicts.md]"
        "(../verdicts.md). The command `wattwright findings` prints the same."
    )
    declared = findings_out()
    for area in AREAS:
        yield ""
        yield f"## {area.title}: findings"
        for check in declared.checks:
            if check.area == area.name:
                yield from _check(check)
        yield ""
        yield f"## {area.title}: figures"
        yield ""
        for figure in declared.figures:
            if figure.area == area.name:
                yield _bullet(f"`{figure.id}`: {figure.says}. {figure.meaning}")


def _check(check: DeclaredOut) -> Iterator[str]:
    yield ""
    yield f"### `{check.id}`: {check.says}"
    yield ""
    yield _wrapped(check.meaning)
    yield ""
    yield _bullet(f"Limit: {check.limit} ({check.kind}).")
    yield _bullet(f"Marginal within: {check.near}.")
    yield _bullet(f"Source: {check.source}.")
    if check.caution:
        yield _bullet(f"Caution: {check.caution}")


# -------------------------------------------------------------------------------------- formulas


def _formulas() -> Iterator[str]:
    yield _wrapped(
        "Every formula that may stand in a working. What is shown here and there is the return "
        "expression of the function itself. Units are those the number is held in; what a reader "
        "sees is converted."
    )
    module = ""
    own = (each for each in FORMULAS.values() if each.fn.__module__.startswith("wattwright."))
    for formula in sorted(own, key=lambda formula: formula.name):
        if formula.fn.__module__ != module:
            module = formula.fn.__module__
            about = inspect.getdoc(sys.modules[module]) or ""
            yield ""
            yield f"## {module.rpartition('.')[2]}"
            yield ""
            yield _wrapped(" ".join(about.partition("\n\n")[0].split()))
        yield from _formula(formula)


def _formula(formula: Formula) -> Iterator[str]:
    yield ""
    yield f"### `{formula.name}`"
    yield ""
    yield _wrapped(_sentence(formula.says))
    yield ""
    yield f"    {formula.symbol} = {formula_text(formula)}"
    yield ""
    yield _bullet(f"Result: `{formula.symbol}`, {_kind(formula.kind)}.")
    for argument in formula.arguments:
        yield _bullet(_argument(formula, argument))
    for name, constant in formula.constants.items():
        if isinstance(constant, list):
            yield _bullet(f"`{name.lower()}`: {len(constant)} rows of a published table.")
        else:
            yield _bullet(f"`{name.lower()}`: {constant:g}.")
    if formula.method:
        yield _bullet(f"Method: {_sentence(formula.method)}")
    yield _bullet(f"Source: {_sentence(str(formula.source))}")


def _argument(formula: Formula, argument: Argument) -> str:
    text = f"{argument.name.replace('_', ' ')}: {_kind(argument.kind)}"
    if argument.many:
        text += ", several"
    if argument.name in formula.valid:
        low, high = formula.valid[argument.name]
        text += f"; the source vouches for {low:g} to {high:g}"
    return f"{text}."


def _kind(kind: Kind) -> str:
    return f"{kind.name} in {kind.si}" if kind.si else f"{kind.name}, plain number"


# ---------------------------------------------------------------------------------------- tables


def _tables() -> Iterator[str]:
    yield _wrapped(
        "Published data that ships with the program, one CSV file each under `src/wattwright/"
        "tables`. Every row names its source and carries a flag: `seen` read in a copy of the "
        "source, `memory` not yet read again, `computed` follows from definitions, `practice` "
        "common practice. A row from memory is shown as such and never makes a limit."
    )
    folder = files("wattwright.tables")
    for name in sorted(
        f.name.removesuffix(".csv") for f in folder.iterdir() if f.name[-4:] == ".csv"
    ):
        table = load(name)
        flags: Counter[str] = Counter(row.source.flag for row in table)
        columns = next(iter(table)).cells
        yield ""
        yield f"## `{name}`"
        yield ""
        yield _bullet(f"Columns: {', '.join(f'`{column}`' for column in columns)}.")
        counts = ", ".join(f"{flags[flag]} {flag}" for flag in FLAGS if flags[flag])
        yield _bullet(f"Rows: {sum(flags.values())} ({counts}).")
        for source in dict.fromkeys(str(row.source) for row in table):
            yield _bullet(f"Source: {source}.")


# ------------------------------------------------------------------- parts of hand-written pages


def commands() -> dict[str, argparse.ArgumentParser]:
    """Find the parser of each command by its name."""
    for action in parser()._actions:
        if isinstance(action, argparse._SubParsersAction):
            return dict(action.choices)
    raise TypeError("the command line has no commands")


def options(command: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """Walk what a command takes; help is said once for all."""
    for action in command._actions:
        if action.dest != "help":
            yield action


def _commands() -> Iterator[str]:
    taken = {name: list(options(command)) for name, command in commands().items()}
    shared = set.intersection(*({action.dest for action in found} for found in taken.values()))
    yield "Every command takes:"
    yield ""
    for action in taken["check"]:
        if action.dest in shared:
            yield _option(action)
    for name, command in commands().items():
        own = [action for action in taken[name] if action.dest not in shared]
        yield ""
        yield f"### `wattwright {' '.join([name, *map(_usage, own)])}`"
        yield ""
        yield _wrapped(_sentence(_capital(command.description or "")))
        if own:
            yield ""
        for action in own:
            yield _option(action)


def _option(action: argparse.Action) -> str:
    return _bullet(f"`{_spelling(action)}`: {_sentence(action.help or '')}")


def _word(action: argparse.Action) -> str:
    return str(action.metavar or action.dest.upper())


def _spelling(action: argparse.Action) -> str:
    if not action.option_strings:
        return _word(action)
    if action.choices:
        return f"{action.option_strings[-1]} {'|'.join(action.choices)}"
    return " ".join([action.option_strings[-1], *([] if action.nargs == 0 else [_word(action)])])


def _usage(action: argparse.Action) -> str:
    if action.option_strings or action.nargs == "?":
        return f"[{_spelling(action)}]"
    several = f"{_word(action)} ..."
    return {"+": several, "*": f"[{several}]"}.get(str(action.nargs), _word(action))


def _bands() -> Iterator[str]:
    rows = [
        (kind.name, _width(kind, kind.measured), _width(kind, kind.assumed))
        for kind in sorted(KINDS.values(), key=lambda kind: kind.name)
    ]
    yield from _grid(("kind", "measured", "typical or assumed"), rows)


def _width(kind: Kind, amount: float) -> str:
    if not amount:
        return "exact"
    if kind.true_zero:
        return f"{100 * amount:g} % of the value"
    # A band of a temperature is a difference: 5 K, not 5 K above absolute zero.
    written = TEMPERATURE_DIFFERENCE if kind is TEMPERATURE else kind
    return write(amount, written, "metric", amount).partition(" ± ")[0]


def _grid(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    yield f"| {' | '.join(head)} |"
    yield f"|{'---|' * len(head)}"
    for row in rows:
        yield f"| {' | '.join(row)} |"


def _schema_list() -> Iterator[str]:
    for name, model in OUTPUTS.items():
        about = (inspect.getdoc(model) or "").partition("\n")[0].replace("``", "`")
        yield _bullet(f"[{name}.schema.json](schemas/{name}.schema.json): {about}")
