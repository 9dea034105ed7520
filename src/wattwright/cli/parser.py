"""Commands and options. Nothing heavy is imported here: ``--help`` must answer at once."""

from __future__ import annotations

import argparse
import sys
from typing import NoReturn

from wattwright import __version__

USAGE = 64


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        self.print_usage(sys.stderr)
        self.exit(USAGE, f"{self.prog}: {message}\n")


def parser() -> argparse.ArgumentParser:
    """Build the parser of the command line."""
    top = _Parser(
        prog="wattwright",
        description="The bench book that computes, for converting one vehicle to electric drive.",
        epilog="It helps a competent person; it certifies nothing. Local codes come first.",
    )
    top.add_argument("--version", action="version", version=f"wattwright {__version__}")
    plain = _Parser(add_help=False)
    plain.add_argument("--verbose", action="store_true", help="log what happens to stderr")
    measured = _Parser(add_help=False, parents=[plain])
    measured.add_argument(
        "--units",
        choices=("metric", "inch", "mixed"),
        default="metric",
        help="units to show (default: metric)",
    )
    listed = _Parser(add_help=False, parents=[plain])
    listed.add_argument("--json", action="store_true", help="print JSON of a documented form")
    common = _Parser(add_help=False, parents=[measured])
    common.add_argument("--json", action="store_true", help="print JSON of a documented form")
    commands = top.add_subparsers(title="commands", required=True, metavar="COMMAND")

    def command(
        name: str, module: str, text: str, options: _Parser = common
    ) -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=text, description=text, parents=[options])
        made.set_defaults(module=module, command=name)
        return made

    check = command("check", "check", "assess a build: what holds, what does not, what is unknown")
    check.add_argument("build", help="folder of the build")

    explain = command("explain", "explain", "show the working behind one finding or figure")
    explain.add_argument("build", help="folder of the build")
    explain.add_argument("finding", help="address, such as vehicle.axle_load@rear/full")

    compare = command("compare", "compare", "show what changed between two builds")
    compare.add_argument("old", help="folder of the build before")
    compare.add_argument("new", help="folder of the build after")

    draw = command("draw", "draw", "draw a view of the build as SVG", measured)
    draw.add_argument("build", help="folder of the build")
    draw.add_argument(
        "name",
        help="windows (voltages side by side), force (at the road, by gear), envelope (torque of "
        "the motors), range (at a steady speed), clearances (room between bodies), shaft_angles "
        "and shaft_plunge (half-shafts over their travel); what is placed where: side, plan (from "
        "above), rear (from behind), as planned or, as in plan@fitted, as fitted today; mounts "
        "(the unit on its mounts), mount_loads and survey (its readings) from the side, plan or "
        "rear, as in mounts@rear; or of a use, such as along@NAME: along (over its time), energy "
        "(where it goes), currents (by how long); pattern@NAME (a hole pattern with what was "
        "measured); adaptor (the adaptor plate for the machinist); shaft_line@NAME (a propshaft "
        "to scale) and shaft_excitation (what its joints shake); charging_chain@NAME (an outlet "
        "link by link) and charging_power@NAME (a charge over its time); fuse_curves@NAME (a "
        "power cable and its fuse, time against current)",
    )
    draw.add_argument("-o", "--output", metavar="FILE", help="file to write (default: print it)")

    adjust = command(
        "adjust",
        "adjust",
        "find points and pose from all readings, and the one that is off",
        measured,
    )
    adjust.add_argument("build", help="folder of the build")
    adjust.add_argument(
        "--keep", action="store_true", help="put the result into the build and show the ripple"
    )

    taken = command("read", "reading", "write down a reading, or list those there are")
    taken.add_argument("build", help="folder of the build")
    taken.add_argument(
        "about",
        nargs="?",
        help="line of a sheet, such as weigh_donor/fl; a field, such as donor.wheelbase; or words "
        "of your own (left out: list the readings)",
    )
    taken.add_argument("text", nargs="?", help='what it shows, with its unit: "313.5 kg"')
    taken.add_argument(
        "--instrument", default="", help="name of one in [instrument], or a usual one"
    )
    taken.add_argument("--date", default="", help="day it was taken, 2026-03-14 (default: today)")
    taken.add_argument("--initials", default="", help="who read it")
    taken.add_argument("--note", default="", help="anything else")
    taken.add_argument("--photo", metavar="FILE", help="photo of the display")
    taken.add_argument("--corrects", type=int, metavar="N", help="reading that this one corrects")
    taken.add_argument("--sure", action="store_true", help="keep it though it looks like a slip")
    taken.add_argument(
        "--accept",
        nargs="?",
        const=0,
        type=int,
        metavar="N",
        help="put it into the build, or with N one that stands in the journal, and show the ripple",
    )
    taken.add_argument(
        "--dry-run", action="store_true", help="show the ripple and save nothing in the build"
    )

    page = command("print", "print_page", "print a page of the build as PDF", measured)
    page.add_argument("build", help="folder of the build")
    page.add_argument(
        "name",
        nargs="?",
        help="register (every finding with its working), weight_book, side, plan, rear, a sheet of "
        "the bench, fuse_curves@CABLE, charging_chain@OUTLET and charging_power@OUTLET, "
        "template@PART (a part from above, full size) or "
        "template@check (bars to test a printer); left out, those of this build are listed",
    )
    page.add_argument(
        "-o", "--output", metavar="FILE", help="file to write (default: named by build and page)"
    )
    page.add_argument(
        "--paper", choices=("a4", "letter"), default="a4", help="paper to print on (default: a4)"
    )
    page.add_argument(
        "--address",
        metavar="URL",
        default="",
        help="where the workbench is, such as http://192.168.1.20:8437, for the square on a sheet",
    )
    page.add_argument(
        "--format",
        choices=("pdf", "svg", "dxf"),
        default="pdf",
        help="pdf, svg for a view or template, or dxf for a template (default: pdf)",
    )

    hunted = command("hunt", "hunt", "list the tests that find a fault, with expected readings")
    hunted.add_argument("build", help="folder of the build")
    hunted.add_argument(
        "symptom",
        nargs="?",
        help="charge_will_not_start, charge_stops, charge_trips or hot_plug (left out: list them)",
    )
    hunted.add_argument(
        "--outlet", default="", metavar="NAME", help="outlet it happens at (default: the first)"
    )

    edit = command("set", "edit", "change values in a build file and show the ripple")
    edit.add_argument("build", help="folder of the build")
    edit.add_argument(
        "changes",
        nargs="+",
        metavar="PATH=TEXT",
        help='such as part.charger.mass="6.2 kg, measured"; PATH= alone deletes',
    )
    edit.add_argument(
        "--whole-section", action="store_true", help="let PATH= delete a section with all in it"
    )
    edit.add_argument("--why", metavar="TEXT", help="what the journal says of it")
    edit.add_argument("--dry-run", action="store_true", help="show the ripple, save nothing")

    undo = command("undo", "undo", "take back the last change and show the ripple")
    undo.add_argument("build", help="folder of the build")
    undo.add_argument("--redo", action="store_true", help="make again what was taken back last")
    undo.add_argument("--dry-run", action="store_true", help="show the ripple, save nothing")

    history = command("history", "history", "list what was changed, newest first", listed)
    history.add_argument("build", help="folder of the build")
    history.add_argument(
        "number", nargs="?", type=int, metavar="N", help="show what this revision changed"
    )

    new = command("new", "new", "make a commented starter build in a new folder", plain)
    new.add_argument("folder", help="folder to make")
    new.add_argument("--like", metavar="EXAMPLE", help="start from one of the examples instead")

    serve = command("serve", "serve", "open the workbench in a browser", plain)
    serve.add_argument(
        "builds",
        nargs="*",
        metavar="BUILD",
        help="folders of builds, or a folder that holds several (default: this folder)",
    )
    serve.add_argument(
        "--lan", action="store_true", help="answer paired devices on the local network too"
    )
    serve.add_argument("--port", type=int, default=0, help="port (default: 8437 or the next free)")

    backup = command("backup", "backup", "keep a build as one file, restored and compared", plain)
    backup.add_argument("build", help="folder of the build")
    backup.add_argument("file", metavar="FILE.zip", help="file to make, outside of the folder")
    backup.add_argument("--replace", action="store_true", help="let it take the place of another")
    backup.add_argument(
        "--without-journal", action="store_true", help="leave out revisions, readings and sign-offs"
    )

    restore = command("restore", "backup", "make a build folder out of a backup", plain)
    restore.add_argument("file", metavar="FILE.zip", help="file that backup has made")
    restore.add_argument("folder", help="folder to make")
    restore.add_argument(
        "--plain",
        action="store_true",
        help="take a zip of a build folder that another program made, which cannot be compared",
    )

    fields = command("fields", "catalogues", "list the fields of a build and how to measure them")
    fields.add_argument(
        "section", nargs="?", help="only this area or section, such as vehicle or part"
    )

    command("findings", "catalogues", "list every finding and figure with meaning and source")
    return top
