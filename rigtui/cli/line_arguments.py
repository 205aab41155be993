"""The arguments of `rigtui line`, and its help."""

from __future__ import annotations

from rigtui.cli.parser import Parser

_ABOUT = """\
Show or write a song's sections in one line: name, bars, preset, pedals.

  Intro 4 clean, Verse 16, Chorus 8 lead +wah, Verse, Chorus x2

A name used before keeps its bars and preset. A preset's short form is the
start of each word: cc is Clean Chop. "x2" plays the section twice; "?" leaves
it unmapped. Without a song, lists all songs in the form `rigtui import` reads.
"""
_END = """\
examples:
  rigtui line rig.toml                        every song, one a line
  rigtui line rig.toml --setlist friday > friday.txt
  rigtui line rig.toml low-fen                one song's sections
  rigtui line rig.toml low-fen "Intro 4 cc, Verse 16, Chorus 8 cr x2"
                                              write them into the file
  rigtui import rig.toml --from friday.txt --in-place --same replace

Cues, hands and rests stay with sections that stay, and the version before is
kept: `rigtui restore` goes back.

exit status:
  0  shown, or written
  2  a bad file, no such song, or a line that can't be read; nothing is written
"""


def line() -> Parser:
    """Make the parser of `rigtui line`."""
    parser = Parser("rigtui line", "rigtui line FILE [SONG [LINE] | --setlist ID]", _ABOUT, _END)
    parser.add_argument("file", metavar="FILE", help="rig file (TOML)")
    parser.add_argument("song", metavar="SONG", nargs="?", help="id of a song")
    parser.add_argument("line", metavar="LINE", nargs="?", help="its sections, to write into FILE")
    parser.add_argument("--setlist", metavar="ID", help="list the songs of this setlist")
    return parser
