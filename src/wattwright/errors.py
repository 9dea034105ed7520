"""Every error the program raises on purpose.

    WattwrightError
      UnitsError (ValueError)     a typed quantity that cannot be read
      FormulaError (ValueError)   a formula used or declared against its own declaration
      TableError (ValueError)     a published table that cannot be trusted
      HuntError (ValueError)      a fault hunt that cannot be trusted; carries every problem found
      ImageError (ValueError)     an uploaded picture that cannot be taken
      DrawingError (ValueError)   a drawing that was asked for and cannot be drawn
      TypesetError                a page that could not be set
      BuildError (ValueError)     a build folder that cannot be read; carries every problem found
      UseError (ValueError)       a trace, map or parameter that nothing can be driven with
      EditError (ValueError)      an edit that cannot be made without harm
        ConflictError             somebody else changed the file since it was read
        ClashError                somebody else changed the same value since the page was made
        NotSavedError             an edit after which the build could not be read any more
      JournalError                a journal that cannot be read or written
      StoppedError                a person stopped the working out of a build
      BusyError                   a lock that another program holds for too long
      DevicesError                the file of devices that were let in cannot be read or written
      PairingError                a code or link that lets nobody in
        TooSoonError              a try that is not looked at, after too many wrong ones
      RefusedError                a request that the guard of the workbench turns away
      UsageError (ValueError)     a name the program does not know (a finding, an area, an example)
        NoBuildError              a build that this workbench does not have

A message says what is wrong, where, what was found, what is allowed and what to do.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

_LONGEST_FOUND = 200


class WattwrightError(Exception):
    """Root of all errors raised on purpose."""


class UnitsError(WattwrightError, ValueError):
    """A quantity as typed cannot be read as what was asked for."""


class FormulaError(WattwrightError, ValueError):
    """A formula was declared or called against its own declaration."""


class TableError(WattwrightError, ValueError):
    """A published table lacks a source, or a row that was asked for."""


class ImageError(WattwrightError, ValueError):
    """What was uploaded is no picture, or none that can be taken."""


class UseError(WattwrightError, ValueError):
    """A trace, a map or a parameter makes no sense for driving."""


class EditError(WattwrightError, ValueError):
    """An edit cannot be made to the build file as it stands."""


class ConflictError(EditError):
    """The file was changed since it was read; ``newer`` is the revision that did, where known."""

    def __init__(self, message: str, newer: int | None = None) -> None:
        self.newer = newer
        super().__init__(message)


class JournalError(WattwrightError):
    """The journal beside a build cannot be read or written; the build file is untouched by that."""


class StoppedError(WattwrightError):
    """Somebody stopped what was being worked out; the build and its journal are untouched."""


class UsageError(WattwrightError, ValueError):
    """The person asked for something that does not exist."""


def acts(sign: str) -> bool:
    """Say whether a character acts on a terminal or hides text instead of being seen."""
    return sign not in "\n\t" and unicodedata.category(sign) in ("Cc", "Cf", "Co", "Cs")


def visible(text: str) -> str:
    """Show a text with every character that acts on a terminal replaced."""
    return "".join("?" if acts(sign) else sign for sign in text)


def _cut(text: str) -> str:
    """Cut a text that would bury what is said about it."""
    return text if len(text) <= _LONGEST_FOUND else f"{text[: _LONGEST_FOUND - 2]} …"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a build file, with the place and the way out."""

    what: str
    path: str = ""
    file: str = "build.toml"
    line: int | None = None
    column: int | None = None
    got: str = ""
    allowed: str = ""
    do: str = ""

    def __str__(self) -> str:
        place = self.file
        if self.line is not None:
            place += f":{self.line}"
            if self.column is not None:
                place += f":{self.column}"
        text = f"{place}: {self.path}: {self.what}" if self.path else f"{place}: {self.what}"
        if self.got:
            text += f"; found {_cut(self.got)}"
        if self.allowed:
            text += f"; allowed: {self.allowed}"
        if self.do:
            text += f"\n    {self.do}"
        return visible(text)


class BuildError(WattwrightError, ValueError):
    """A build folder cannot be read. ``problems`` holds everything found in one pass."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


class HuntError(WattwrightError, ValueError):
    """A fault hunt cannot be trusted. ``problems`` holds everything found in one pass."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))
