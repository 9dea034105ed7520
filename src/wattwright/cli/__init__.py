"""The command line: parse, call, show.

Exit codes: 0 everything sound and nothing provisional · 1 something marginal or failing ·
2 the build cannot be read · 3 only unknown or provisional left · 64 wrong usage ·
70 a fault of this program.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING

from wattwright.cli.parser import parser
from wattwright.errors import BuildError, WattwrightError

if TYPE_CHECKING:
    import logging

_SELDOM = 200_000
SOUND, ATTENTION, UNREADABLE, OPEN, USAGE, OWN_FAULT = 0, 1, 2, 3, 64, 70


def entry() -> int:
    """Run the command that the program was started with.

    One command makes many things that live until it ends; to look for circles among them over and
    over took a tenth of its time.
    """
    gc.set_threshold(_SELDOM)
    # Whatever else is installed beside this program has no say in how a build is read, and to look
    # for it took another tenth.
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"
    # Our matrices are small, and threads that wait for each other made a survey of 60 readings take
    # two seconds instead of a fiftieth where the machine had other work.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    return main()


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    # A caller may have closed our output; what is then said goes nowhere, and nothing breaks.
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115
    asked = parser().parse_args(argv)
    try:
        from wattwright.system import configure_console

        configure_console()
        if asked.verbose:
            _log("DEBUG")
        command = import_module(f"wattwright.cli.{asked.module}")
        code: int = command.run(asked)
        sys.stdout.flush()
    except BuildError as error:
        for problem in error.problems:
            print(problem, file=sys.stderr)
        count = len(error.problems)
        print(f"{count} problem{'s' if count > 1 else ''}; nothing was changed", file=sys.stderr)
        return UNREADABLE
    except WattwrightError as error:
        print(f"wattwright: {error}", file=sys.stderr)
        return USAGE
    except BrokenPipeError:
        # The reader of our output has gone; Python must not complain about it at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return SOUND
    except OSError as error:
        print(f"wattwright: {error}", file=sys.stderr)
        return OWN_FAULT
    except Exception:
        _log("WARNING").exception("a fault of this program, not of your build")
        return OWN_FAULT
    return code


def _log(level: str) -> logging.Logger:
    import logging

    logging.basicConfig(stream=sys.stderr, level=level)
    return logging.getLogger("wattwright")
