"""The arguments of `rigtui`, and its help."""

from __future__ import annotations

import argparse
import importlib
from collections.abc import Callable
from typing import cast

from rigtui import __version__
from rigtui.cli.parser import BAD_USAGE, Parser

__all__ = ["BAD_USAGE", "COMMANDS", "parser_of"]

_TOP = """\
Plan a pedalboard built round a programmable loop switcher: program presets,
map the sections of your songs to them, count what your feet must do, and see
trouble before the rehearsal does.
"""
_TOP_END = """\
commands (each has its own --help):
  rigtui report FILE   moves and findings as text or JSON, without the screens
  rigtui plan ... FILE the fewest moves, proved: which pedals earn a loop,
                       which switch recalls which preset, what to press
  rigtui plan compromise FILE
                       which sounds to give up, and what that buys
  rigtui sheet ... FILE sheets for the floor, the switcher, the wiring, the
                       rehearsal and a deputy: text, Markdown, HTML or PDF
  rigtui new FILE      write a small starter rig, with comments that explain it
  rigtui midi FILE     songs and setlists as MIDI files; send a preset
  rigtui line FILE     show or write a song's sections in one line
  rigtui import FILE   take songs from a plain list, ChordPro, MIDI, CSV or
                       another rig
  rigtui export FILE   songs as CSV, to a spreadsheet and back
  rigtui chain FILE    the signal path: a picture, and jack by jack
  rigtui leads FILE    every patch lead: jacks, length, plugs, test
  rigtui cuts FILE     cutting list, plugs to buy, the work in order
  rigtui schema        JSON Schema of the rig file, for text editors
  rigtui restore FILE  earlier versions, and edits that a crash left
  rigtui settings      colours, first screen and keys, in your text editor
  rigtui completion SHELL
                       completion by Tab for bash, zsh or fish
  rigtui man           all of this help as one manual page

examples:
  rigtui                       the last rig, or the demo rigs and a new one
  rigtui quay-street.toml      open a rig
  rigtui report quay-street.toml --setlist boathouse
  rigtui ./report              open a file with the name of a command

exit status:
  0  fine            1  report: a finding at or above --fail-on
                        plan: no plan can do what you want
  2  a bad file, or something mistyped
  130  stopped with Ctrl-C        70  a fault in rigtui itself: please report it
"""
_REPORT = """\
Say what can't be played and what to rehearse, then the rest in a line for each
cause, then the foot moves of every setlist and song. The @@DEL

A move is one press of a foot. "Least" is the fewest moves with which every
section still sounds right, whichever presets get there.
"""
_REPORT_END = """\
examples:
  rigtui report rig.toml                     the whole rig
  rigtui report rig.toml --setlist friday    one evening
  rigtui report rig.toml --all               every finding, not only its cause
  rigtui report rig.toml --song low-fen      one song, change by change
  rigtui report rig.toml --json | jq .songs  for other programs
  rigtui report rig.toml --fail-on warning   for a script that should stop

Waived findings are listed with your reason and never cause exit 1.
Colour is for terminals only; NO_COLOR=1 turns it off, FORCE_COLOR=1 on.

exit status:
  0  no finding at or above --fail-on
  1  at least one finding at or above --fail-on
  2  a bad file (all its mistakes are listed), or something mistyped
"""
_NEW = """\
Write a small rig to start from: four loops, four presets, two songs and a
setlist, with comments that explain each part. An existing file is never
overwritten.
"""
_NEW_END = """\
examples:
  rigtui new my-rig.toml     write it
  rigtui my-rig.toml         then open it, or change it in any text editor

exit status:
  0  written
  2  the file already exists, or it can't be written there
"""


def _top() -> Parser:
    parser = Parser("rigtui", "rigtui [FILE]\n       rigtui COMMAND ...", _TOP, _TOP_END)
    parser.add_argument("files", metavar="FILE", nargs="*", help="rig file (TOML) to open")
    parser.add_argument("--version", action="version", version=f"rigtui {__version__}")
    return parser


def _report() -> Parser:
    parser = Parser(
        "rigtui report",
        "rigtui report FILE [--setlist ID | --song ID] [--all] [--json]\n"
        "                     [--fail-on error|warning|advice]",
        _REPORT,
        _REPORT_END,
    )
    parser.add_argument("file", metavar="FILE", help="rig file (TOML) to read")
    scope = parser.add_mutually_exclusive_group()
    scope.add_argument("--setlist", metavar="ID", help="only this setlist and its songs")
    scope.add_argument("--song", metavar="ID", help="only this song")
    parser.add_argument("--all", action="store_true", help="list every finding, with its reason")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument(
        "--fail-on",
        metavar="LEVEL",
        choices=("error", "warning", "advice"),
        default="error",
        help="exit 1 if there is a finding this bad or worse: error (the default), warning "
        "or advice",
    )
    return parser


def _new() -> Parser:
    parser = Parser("rigtui new", "rigtui new FILE", _NEW, _NEW_END)
    parser.add_argument("file", metavar="FILE", help="file to write, such as my-rig.toml")
    return parser


def _from(home: str, name: str) -> Callable[[], Parser]:
    """A parser that a module of this package makes, loaded when its command is asked for."""
    return lambda: cast(Parser, getattr(importlib.import_module(f"rigtui.cli.{home}"), name)())


COMMANDS: dict[str, Callable[[], Parser]] = {
    "report": _report,
    "plan": _from("plan.arguments", "plan"),
    "plan compromise": _from("plan.compromise_arguments", "compromise"),
    "sheet": _from("sheet_arguments", "sheet"),
    "new": _new,
    "line": _from("line_arguments", "line"),
    "midi": _from("exchange_arguments", "midi"),
    "import": _from("exchange_arguments", "importing"),
    "export": _from("exchange_arguments", "export"),
    "chain": _from("exchange_arguments", "chain"),
    "leads": _from("bench_arguments", "leads"),
    "cuts": _from("bench_arguments", "cuts"),
    "schema": _from("exchange_arguments", "schema"),
    "restore": _from("restore_arguments", "restore"),
    "settings": _from("settings_arguments", "settings"),
    "completion": _from("completion_arguments", "completion"),
    "man": _from("man_arguments", "man"),
}


def parser_of(command: str | None) -> argparse.ArgumentParser:
    """Make the parser of a command, or the one that opens the screens."""
    return (COMMANDS[command] if command else _top)()
