"""The arguments of `rigtui restore`, and its help."""

from __future__ import annotations

import argparse

from rigtui.cli.parser import Parser

_USAGE = """\
rigtui restore FILE [--json]
       rigtui restore FILE N | --name NAME | --unsaved [--to NEW] [--json]"""
_ABOUT = """\
List the restore points of a rig file, the latest first: when each was made,
its name if you gave one, and what changed. Whatever writes the file makes
one: saving, import --in-place, sheet --record, restore. The last 20 are kept,
and up to 100 with a name (on the screens: Ctrl-N).

With a number or a name, that version comes back to the last byte. The file as
it is now becomes a restore point first, so you can undo this too.
The file itself may be gone or damaged: its restore points are kept elsewhere.
"""
_END = """\
examples:
  rigtui restore rig.toml                        what is there
  rigtui restore rig.toml 2                      put back number 2 from the list
  rigtui restore rig.toml --name "before the gig"
  rigtui restore rig.toml 2 --to old-rig.toml    as a new file; rig.toml stays
  rigtui restore rig.toml --unsaved --to saved.toml
                 edits that a crash left unsaved (the screens offer them too)

exit status:
  0  listed, or restored
  2  no such restore point, or it can't be written (then nothing has
     changed), or something mistyped
"""


def restore() -> Parser:
    """Make the parser of `rigtui restore`."""
    parser = Parser("rigtui restore", _USAGE, _ABOUT, _END)
    parser.add_argument("file", metavar="FILE", help="rig file (TOML); it may be gone")
    which = parser.add_mutually_exclusive_group()
    which.add_argument(
        "number", metavar="N", nargs="?", type=_number, help="put back this number from the list"
    )
    which.add_argument("--name", metavar="NAME", help="put back the latest with this name")
    which.add_argument(
        "--unsaved", action="store_true", help="put back the edits that a crash left unsaved"
    )
    parser.add_argument("--to", metavar="NEW", help="write a new file instead")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    return parser


def _number(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 9 and int(text) > 0):
        raise argparse.ArgumentTypeError(f'"{text}" must be a number from the list, 1 or more')
    return int(text)
