"""The arguments of `rigtui plan`, and its help."""

from __future__ import annotations

import argparse
import math
from collections.abc import Callable
from dataclasses import dataclass

from rigtui.cli.parser import Parser
from rigtui.model.text import listed, nearest, visible
from rigtui.plan.ask.goal import FIRST
from rigtui.plan.ask.question import MEANT_FOR, SECONDS

_ABOUT_KIND = {
    "loops": "which pedals earn a loop",
    "switches": "which memory holds which preset",
    "route": "what to press",
    "all": "loops, memories and route together",
    "curve": "what another switcher would buy",
}
KINDS = tuple(_ABOUT_KIND)
_ALIASES = {
    **dict.fromkeys(("memory", "memories", "bank", "banks", "preset", "presets"), "switches"),
    **dict.fromkeys(("walk", "sections", "moves"), "route"),
    **dict.fromkeys(("everything", "both"), "all"),
    **dict.fromkeys(("compare", "switcher"), "curve"),
    **dict.fromkeys(("pedals", "board"), "loops"),
}
"""Other words that a player may look for a kind of plan under."""
_FOR = {
    "pin": MEANT_FOR["pins"],
    "keep": MEANT_FOR["keep"],
    "apart": MEANT_FOR["apart"],
    "no_sharing": MEANT_FOR["sharing"],
    "keep_order": MEANT_FOR["keep_order"],
    "loops": MEANT_FOR["loops"],
    "memories": MEANT_FOR["memories"],
    "pin_switch": MEANT_FOR["pin_switch"],
    "first": MEANT_FOR["first"],
    "copies": MEANT_FOR["copies"],
    "explain": ("loops", "switches", "route", "all"),
}
"""The kinds of plan that each of these has a meaning for."""

_USAGE = """\
rigtui plan loops|switches|route|all|buy FILE [--setlist ID] [--all]
                   [--json] [--write NEW] [--seconds N] [options]"""
_ABOUT = """\
Find how few foot moves your songs can be played with, and prove it. Your file
is only read; --write puts the plan into a new file.

  loops     which pedals earn a loop, which share one, which stay outside;
            the presets that follow, and every section mapped to them
  switches  memories: which memory stores which preset, for the fewest bank
            steps, then the shortest way for the foot
  route     the fewest presses with the rig as it is, section by section, and
            the mapping that makes them the ones that are written
  all       loops, then switches, then route, judged together
  buy       what another switcher would save your feet, by loops, memories
            and footswitches of a bank (also called curve)

  compromise has its own help: rigtui plan compromise --help. It says which
            sounds to give up when you have more sounds than memories.

Every song keeps its sounds: a plan only changes how you get to them. Pedals
that a section allows on or off ("may") help to save moves.
"""
_END = """\
examples:
  rigtui plan all rig.toml --setlist friday
  rigtui plan loops rig.toml --pin wah=out --pin delay=in --no-sharing
  rigtui plan switches rig.toml --pin-switch lead=4 --write better.toml
  rigtui plan loops rig.toml --loops 4,2 --memories 16   on another switcher
  rigtui plan route rig.toml --json | jq '.songs[].walk'
  rigtui plan buy rig.toml
  rigtui plan all rig.toml --without delay --write tonight.toml

"Proved" means that there is no better plan of this kind. If time ran out, the
bound is printed: no plan of this kind needs less.
Ctrl-C stops early and keeps the best plan so far.

exit status:
  0    a plan (proved or not)
  1    no plan can do what you want (it says why, and what would help), or none
       was found in the time
  2    a bad file, something mistyped, or NEW exists already
  130  stopped with Ctrl-C
"""


def plan() -> Parser:
    """Make the parser of `rigtui plan`."""
    parser = Parser("rigtui plan", _USAGE, _ABOUT, _END)
    parser.add_argument("kind", metavar="KIND", type=_kind, help="what may change, as above")
    parser.add_argument("file", metavar="FILE", help="rig file (TOML) to read")
    parser.add_argument(
        "--setlist", metavar="ID", action="append", default=[],
        help="plan for this setlist only; repeat for more (default: all setlists)",
    )  # fmt: skip
    parser.add_argument(
        "--all", action="store_true",
        help="print every song, section and proof, not only what matters most",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--write", metavar="NEW", help="write the rig as planned to a new file")
    parser.add_argument(
        "--seconds", metavar="N", type=_read("--seconds", _seconds), default=SECONDS,
        help=f"stop after this many seconds with the best plan so far (default {SECONDS:g})",
    )  # fmt: skip
    parser.add_argument(
        "--explain", action="store_true",
        help="say why: each pedal in a loop or outside, each preset, the worst changes",
    )  # fmt: skip
    ask_without(parser)
    limits = parser.add_argument_group(
        "what must stay, and limits (only those that fit the kind of plan)"
    )
    limits.add_argument(
        "--pin", metavar="PEDAL=in|out", type=_read("--pin", _pin), action="append", default=[],
        help="this pedal must be in a loop, or outside",
    )  # fmt: skip
    limits.add_argument(
        "--keep", metavar="PRESET", action="append", default=[],
        help="this preset keeps its sound and its sections, with what they switch on top",
    )  # fmt: skip
    limits.add_argument(
        "--apart", metavar="A,B", type=_read("--apart", _pair), action="append", default=[],
        help="these two pedals must not share a loop",
    )  # fmt: skip
    limits.add_argument("--no-sharing", action="store_true", help="one pedal a loop")
    limits.add_argument(
        "--keep-order", action="store_true",
        help="leave the signal order alone; otherwise pedals outside the loops may move "
            "before or behind them",
    )  # fmt: skip
    limits.add_argument(
        "--loops", metavar="FRONT,FX", type=_read("--loops", _loops),
        help="this many loops on each side; one number is the total (default: as the rig)",
    )  # fmt: skip
    limits.add_argument(
        "--memories", metavar="N", type=_read("--memories", _whole("memories", 1, 128)),
        help="this many presets can be stored, on this switcher or another (default: as the rig)",
    )  # fmt: skip
    limits.add_argument(
        "--pin-switch", metavar="PRESET=MEMORY", type=_read("--pin-switch", _pin_switch),
        action="append", default=[],
        help="this preset must be in this memory, counted from 1",
    )  # fmt: skip
    limits.add_argument(
        "--first", choices=FIRST,
        help="what comes first: effort (presses, and more for each extra one on a beat; "
            "the default), extra (as few extra presses as possible) or moves (presses "
            "alone)",
    )  # fmt: skip
    limits.add_argument(
        "--copies", metavar="N", type=_read("--copies", _whole("copies", 0, 127)),
        help="at most this many copies of presets in spare memories, 0 for none (switches, "
            "all; default: as many as help)",
    )  # fmt: skip
    return parser


def ask_without(parser: Parser) -> None:
    """Add the option that plans for a night without some pedals."""
    parser.add_argument(
        "--without", metavar="PEDAL", action="append", default=[],
        help="for a night without this pedal: it is dead, say; repeat for more",
    )  # fmt: skip


def faults(arguments: argparse.Namespace) -> list[str]:
    """Say everything that was mistyped, or has no meaning for the kind of plan asked for.

    What was mistyped is taken out of the arguments, so that the rest can be looked at.
    """
    said = []
    for name, given in vars(arguments).items():
        several = given if isinstance(given, list) else [given]
        wrong = [mistyped for mistyped in several if isinstance(mistyped, _Mistyped)]
        said += [option.said for option in wrong]
        if wrong:
            kept = [option for option in several if option not in wrong]
            setattr(arguments, name, kept if isinstance(given, list) else None)
    for name, kinds in _FOR.items():
        given = getattr(arguments, name)
        if given not in (None, False, []) and arguments.kind not in kinds:
            said.append(
                f"--{name.replace('_', '-')} is for {listed(kinds)}, not for plan {arguments.kind}"
            )
    if arguments.kind == "curve" and arguments.write is not None:
        said.append("--write needs a plan: a curve only compares, and changes nothing")
    return said


@dataclass(frozen=True)
class _Mistyped:
    """Stands for a value that could not be read, until all of them are told."""

    said: str


def _read(option: str, read: Callable[[str], object]) -> Callable[[str], object]:
    """Read a value, or keep what is wrong with it."""

    def value(text: str) -> object:
        try:
            return read(text)
        except argparse.ArgumentTypeError as error:
            return _Mistyped(f"argument {option}: {error}")

    return value


def _kind(text: str) -> str:
    if text in KINDS:
        return text
    if text == "buy":  # what a player would call it
        return "curve"
    meant = _ALIASES.get(text.lower()) or nearest(text[:80].lower(), KINDS)
    if text == "compromise":
        raise argparse.ArgumentTypeError("that word comes first: rigtui plan compromise FILE ...")
    hint = f"; there are {listed((*KINDS, 'compromise'))}"
    if meant:
        hint = f': did you mean "{meant}" ({_ABOUT_KIND[meant]})?'
    raise argparse.ArgumentTypeError(f'there is no plan "{visible(text)}"{hint}')


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = math.nan
    if not 0 < seconds <= 86_400:
        raise argparse.ArgumentTypeError(f'"{text}" must be more than 0 and at most 86400 seconds')
    return seconds


def _number(text: str, what: str, low: int, high: int) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 9 and low <= int(text) <= high):
        raise argparse.ArgumentTypeError(f'{what} must be {low} to {high}, not "{text}"')
    return int(text)


def read_number(what: str, low: int, high: int) -> Callable[[str], int | str]:
    """Read a whole number for `--at-most` and the like; what is wrong with it is kept as text."""

    def value(text: str) -> int | str:
        try:
            return _number(text, what, low, high)
        except argparse.ArgumentTypeError as error:
            return str(error)

    return value


def read_seconds(text: str) -> float | str:
    """Read `--seconds`; what is wrong with it is kept as text."""
    try:
        return _seconds(text)
    except argparse.ArgumentTypeError as error:
        return f"argument --seconds: {error}"


def _whole(what: str, low: int, high: int) -> Callable[[str], int]:
    return lambda text: _number(text, what, low, high)


def _pin(text: str) -> tuple[str, str]:
    pedal, _, where = text.rpartition("=")
    if not pedal or where not in ("in", "out"):
        raise argparse.ArgumentTypeError(
            f'"{text}" must be a pedal and where it goes, as wah=out or delay=in'
        )
    return pedal, where


def _pair(text: str) -> tuple[str, str]:
    first, _, second = text.partition(",")
    if not first or not second or "," in second or first == second:
        raise argparse.ArgumentTypeError(f'"{text}" must be two different pedals, as chorus,delay')
    return first, second


def _loops(text: str) -> tuple[int, ...]:
    parts = text.split(",")
    if len(parts) > 2:
        raise argparse.ArgumentTypeError(
            f'"{text}" must be the loops before the amp and in its effects loop, as 4,2'
        )
    return tuple(_number(part, "loops", 0, 99) for part in parts)


def _pin_switch(text: str) -> tuple[str, int]:
    preset, _, memory = text.rpartition("=")
    if not preset:
        raise argparse.ArgumentTypeError(f'"{text}" must be a preset and its memory, as lead=4')
    return preset, _number(memory, "a memory", 1, 128)
