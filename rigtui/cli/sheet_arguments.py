"""The arguments of `rigtui sheet`, and its help."""

from __future__ import annotations

import argparse
import textwrap

from rigtui.cli.parser import Parser
from rigtui.model.sheet_kinds import IN_HAND_M, SHEET_KINDS

_SHEET = """\
Put the plan on paper. The rig file doesn't change unless you --record.

{kinds}
"""
_SHEET_END = """\
examples:
  rigtui sheet rig.toml                            the set sheet, right here
  rigtui sheet rig.toml -o friday.pdf              a page a set, to print
  rigtui sheet floor rig.toml -o friday.pdf --setlist friday
  rigtui sheet floor rig.toml -o small.pdf --distance 1.2 --paper letter
  rigtui sheet floor rig.toml --pages              count pages before you print
  rigtui sheet program rig.toml -o sheets          into the folder sheets
  rigtui sheet deputy rig.toml --format pdf | lpr  straight to the printer
  rigtui sheet floor rig.toml -o friday.pdf --force --record

{scope}

Every sheet carries its date and its revision, a code that changes whenever
anything on the sheet does. With --record the rig file notes both; then
`rigtui report` finds sheets older than the plan (rule stale-sheet).

Capitals are a two-hundredth of the reading distance high. The foot of the page
says how many millimetres that is.

exit status:
  0  written
  2  a bad file, no such setlist, a file that already exists, or something
     mistyped
"""


def sheet() -> Parser:
    """Make the parser of `rigtui sheet`."""
    from rigtui.sheets.formats import FORMATS, laid_out_formats
    from rigtui.sheets.sizes import PAPERS

    formats = [name if facts.name.lower() == name else f"{name} ({facts.name})"
               for name, facts in FORMATS.items()]  # fmt: skip
    formats[0] += " (the default)"
    sized, (usual_paper, *papers) = " and ".join(laid_out_formats()), PAPERS
    parser = Parser(
        "rigtui sheet",
        "rigtui sheet [SHEET] FILE [--setlist ID]\n"
        f"                    [--format {'|'.join(FORMATS)}] [-o OUT] [--force] [--record]\n"
        f"                    [--all] [--pages] [--paper {'|'.join(PAPERS)}] [--distance METRES]",
        _SHEET.format(kinds=_kinds()),
        _SHEET_END.format(scope=_scope()),
    )
    parser.add_argument(
        "kind",
        metavar="SHEET",
        nargs="?",
        default=next(iter(SHEET_KINDS)),
        choices=tuple(SHEET_KINDS),
        help=f"{', '.join(SHEET_KINDS)}; the first if left out",
    )
    parser.add_argument("file", metavar="FILE", help="rig file (TOML) to read")
    parser.add_argument("--setlist", metavar="ID", help="the evening it is for")
    parser.add_argument(
        "--format",
        choices=tuple(FORMATS),
        help=f"{', '.join(formats)}; the ending of -o FILE can say it too",
    )
    parser.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="file or folder to write to; standard output without it",
    )
    parser.add_argument(
        "--force", action="store_true", help="replace OUT if it exists (never a rig file)"
    )
    parser.add_argument("--record", action="store_true", help="record in FILE that you printed it")
    parser.add_argument(
        "--all", action="store_true", help="rehearsal: list everything, not only two pages"
    )
    parser.add_argument(
        "--pages",
        action="store_true",
        help="only say how many pages it takes and how large its type is",
    )
    parser.add_argument(
        "--paper",
        choices=tuple(PAPERS),
        help=f"{sized}: {usual_paper} (the default) or {', '.join(papers)}",
    )
    parser.add_argument(
        "--distance",
        metavar="METRES",
        type=_metres,
        help=f"{sized}: how far away you read it: {_distances()}",
    )
    return parser


def _kinds() -> str:
    """Each sheet with what is on it."""
    hang = " " * 13
    return "\n".join(
        textwrap.fill(facts.shows, 80, initial_indent=f"  {kind:<11}", subsequent_indent=hang)
        for kind, facts in SHEET_KINDS.items()
    )


def _scope() -> str:
    """Which sheets are of a setlist, and which of the whole rig."""
    from rigtui.model.text import listed

    of_one = listed(kind for kind, facts in SHEET_KINDS.items() if facts.of_a_setlist)
    whole = listed(kind for kind, facts in SHEET_KINDS.items() if not facts.of_a_setlist)
    return textwrap.fill(
        f"Without --setlist, {of_one} are for the first setlist, and {whole} for the "
        f"whole rig. With --setlist, {whole} also say what that evening does not need.",
        78,
    )


def _distances() -> str:
    """How far away sheets are usually read: those that are not held in the hand by name."""
    farther = [
        f"{facts.distance_m:g} for {kind}"
        for kind, facts in SHEET_KINDS.items()
        if facts.distance_m != IN_HAND_M
    ]
    return ", ".join([*farther, f"else {IN_HAND_M:g}"])


def _metres(text: str) -> float:
    from rigtui.sheets.sizes import FARTHEST_M, NEAREST_M

    try:
        metres = float(text)
    except ValueError:
        metres = 0.0
    if not NEAREST_M <= metres <= FARTHEST_M:
        raise argparse.ArgumentTypeError(
            f'"{text}" is not a reading distance: use metres from {NEAREST_M:g} to {FARTHEST_M:g}'
        )
    return metres
