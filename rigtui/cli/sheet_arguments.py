"""What can be typed after `rigtui sheet`, and the help that teaches it."""

from __future__ import annotations

import argparse

from rigtui.cli.parser import Parser

KINDS = ("floor", "program", "wiring", "rehearsal", "deputy")
"""As the rig file spells them; a test keeps it so. Not imported: `--help` must answer at once."""
NEAREST_M, FARTHEST_M = 0.3, 4.0

_SHEET = """\
Put the plan on paper. Nothing in the rig is changed, unless you --record.

  floor      the setlist in big type: each section with the switch to press, its
             sound, and what feet and hands do; changes that crowd marked "!"
  program    what to key into the switcher, memory by memory, a box to tick each
  wiring     from the guitar to the amp and back, jack by jack
  rehearsal  the busiest changes, what the rules find, and room to write
  deputy     all of it in one, with what each preset sounds like
"""
_SHEET_END = """\
examples:
  rigtui sheet floor rig.toml                      to read right here
  rigtui sheet floor rig.toml -o friday.pdf --setlist friday
  rigtui sheet floor rig.toml -o small.pdf --distance 1.2 --paper letter
  rigtui sheet program rig.toml -o sheets          into the folder sheets
  rigtui sheet deputy rig.toml --format pdf | lpr  straight to the printer
  rigtui sheet floor rig.toml -o friday.pdf --force --record

Without --setlist, floor, rehearsal and deputy are of the first setlist, and
program and wiring of the whole rig. With it, program and wiring also say what
that evening does not need.

Every sheet carries its revision, which is another one as soon as anything on it
is, and the day. With --record the rig file notes both; then `rigtui report`
finds a printed sheet that is older than the plan (rule stale-sheet).

Capitals are a two-hundredth of the reading distance high; the foot of the page
says how large that is.

exit status:
  0  written
  2  a bad file, no such setlist, a file that is there already, or something
     mistyped
"""


def sheet() -> Parser:
    """Make the parser of `rigtui sheet`."""
    parser = Parser(
        "rigtui sheet",
        f"rigtui sheet {'|'.join(KINDS)} FILE [--setlist ID]\n"
        "                    [--format text|md|html|pdf] [-o OUT] [--force] [--record]\n"
        "                    [--paper a4|letter] [--distance METRES]",
        _SHEET,
        _SHEET_END,
    )
    parser.add_argument("kind", metavar="SHEET", choices=KINDS, help=", ".join(KINDS))
    parser.add_argument("file", metavar="FILE", help="rig file (TOML) to read")
    parser.add_argument("--setlist", metavar="ID", help="the evening that it is for")
    parser.add_argument(
        "--format",
        choices=("text", "md", "html", "pdf"),
        help="text (the default), md (Markdown), html or pdf; -o FILE.pdf says it as well",
    )
    parser.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="file or folder to write to; without it, standard output",
    )
    parser.add_argument(
        "--force", action="store_true", help="replace OUT if it is there already (no rig file)"
    )
    parser.add_argument("--record", action="store_true", help="note in FILE that it was printed")
    parser.add_argument(
        "--paper", choices=("a4", "letter"), help="html and pdf: a4 (the default) or letter"
    )
    parser.add_argument(
        "--distance",
        metavar="METRES",
        type=_metres,
        help="html and pdf: how far away it is read: 2 for floor, 1 for deputy, else 0.5",
    )
    return parser


def _metres(text: str) -> float:
    try:
        metres = float(text)
    except ValueError:
        metres = 0.0
    if not NEAREST_M <= metres <= FARTHEST_M:
        raise argparse.ArgumentTypeError(
            f'"{text}" is no reading distance: use metres from {NEAREST_M:g} to {FARTHEST_M:g}'
        )
    return metres
