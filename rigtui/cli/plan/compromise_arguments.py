"""The arguments of `rigtui plan compromise`, and its help."""

from __future__ import annotations

from rigtui.cli.parser import Parser
from rigtui.cli.plan.arguments import ask_without, read_number, read_seconds
from rigtui.plan.ask.question import SECONDS

_USAGE = """\
rigtui plan compromise FILE [--setlist ID] [--at-most SECTIONS]
                   [--keep PRESET] [--without PEDAL] [--move-pedals]
                   [--seconds N] [--json] [--write NEW]
       rigtui plan compromise FILE --undo [--write NEW]"""
_ABOUT = """\
Find what to give up. If the songs need more sounds than you have memories,
you can play a section with another sound: with the chorus left off, say. This
lists what each step of that buys, from every sound kept to no change with two
presses on one beat.

Something left off costs its price (`price` of the pedal; without one, 0.5 for
modulation, tremolo, delay and reverb, else 1; another channel 3) for each bar,
twice that on a lead sound. A section played with another sound keeps its own
sound in the file, so that --undo can give it back.
"""
_END = """\
examples:
  rigtui plan compromise rig.toml
  rigtui plan compromise rig.toml --keep solo --at-most 6
  rigtui plan compromise rig.toml --at-most 6 --write saturday.toml
  rigtui plan compromise saturday.toml --undo --write rig2.toml

"Proved" means that no other choice of sounds to keep has fewer extra presses at
that price, on this board. If it is not proved, a line under each row says
what no choice can beat.

exit status:
  0  the table, or what was given back
  2  a bad file, something mistyped, or NEW exists already
"""


def compromise() -> Parser:
    """Make the parser of `rigtui plan compromise`."""
    parser = Parser("rigtui plan compromise", _USAGE, _ABOUT, _END)
    parser.add_argument("file", metavar="FILE", help="rig file (TOML) to read")
    parser.add_argument(
        "--setlist", metavar="ID", action="append", default=[],
        help="for this setlist only; repeat for more (default: all setlists)",
    )  # fmt: skip
    parser.add_argument(
        "--at-most", metavar="SECTIONS", type=read_number("sections", 0, 100_000),
        help="take the best with at most this many sections played with another sound",
    )  # fmt: skip
    parser.add_argument(
        "--keep", metavar="PRESET", action="append", default=[],
        help="this preset keeps its sections, its sound and its memory; repeat for more",
    )  # fmt: skip
    ask_without(parser)
    parser.add_argument(
        "--move-pedals", action="store_true",
        help="try other boards too: that of `rigtui plan all`, and single pedals outside",
    )  # fmt: skip
    parser.add_argument(
        "--seconds", metavar="N", type=read_seconds, default=SECONDS,
        help="stop after this many seconds with the best found (default: 60)",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument(
        "--write", metavar="NEW", help="write that rig to a new file (needs --at-most or --undo)"
    )
    parser.add_argument(
        "--undo", action="store_true", help="give every section back the sound it should have"
    )
    return parser
