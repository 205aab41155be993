"""The arguments of `rigtui leads` and `rigtui cuts`, and their help."""

from __future__ import annotations

from rigtui.cli.parser import Parser

_END = """\
exit status:
  0  fine
  2  a bad file, or something mistyped
"""
_LEADS = """\
List every patch lead on the board in signal order, with its number in the
chain: jacks, length and where it comes from, a plug that fits at each end, and
the result of its test. Lengths come from the layout ([[places]]), from a tape
(route_mm), or are set by you (length_mm).
"""
_CUTS = """\
Say which lead to cut from which reel or offcut ([[reels]]) with the least
waste, which plugs to buy, and the work in the order of a production line.
"""


def leads() -> Parser:
    """The parser of `rigtui leads`."""
    parser = _list(
        "leads",
        _LEADS,
        " [--labels | --board | --svg]",
        "  rigtui leads rig.toml --labels\n  rigtui leads rig.toml --svg -o board.svg\n",
    )
    what = parser.add_mutually_exclusive_group()
    what.add_argument(
        "--labels", action="store_true", help="the labels for both ends of each lead, to print"
    )
    what.add_argument("--board", action="store_true", help="the board from above, to scale")
    what.add_argument("--svg", action="store_true", help="the same as a picture, as SVG")
    return parser


def cuts() -> Parser:
    """The parser of `rigtui cuts`."""
    return _list("cuts", _CUTS)


def _list(name: str, about: str, more: str = "", example: str = "") -> Parser:
    usage = f"rigtui {name} FILE [--json | --csv]{more} [-o OUT]"
    examples = (
        f"examples:\n  rigtui {name} rig.toml\n  rigtui {name} rig.toml --csv -o {name}.csv\n"
    )
    parser = Parser(f"rigtui {name}", usage, about, f"{examples}\n{_END}")
    parser.add_argument("file", metavar="FILE", help="rig file (TOML) to read")
    kind = parser.add_mutually_exclusive_group()
    kind.add_argument("--json", action="store_true", help="one JSON object for other programs")
    kind.add_argument("--csv", action="store_true", help="a table for a spreadsheet")
    parser.add_argument("-o", "--output", metavar="OUT", help="file to write; printed without it")
    return parser
