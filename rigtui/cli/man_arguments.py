"""The arguments of `rigtui man`, and its help."""

from __future__ import annotations

from rigtui.cli.parser import Parser

_ABOUT = """\
Print the help of all commands as one manual page, in the format that `man`
reads.
"""
_END = """\
examples:
  rigtui man | man -l -       read it
  rigtui man -o ~/.local/share/man/man1/rigtui.1
                              then `man rigtui` shows it

exit status:
  0  printed or written
  2  something mistyped, or it can't be written
"""


def man() -> Parser:
    """Make the parser of `rigtui man`."""
    parser = Parser("rigtui man", "rigtui man [-o OUT]", _ABOUT, _END)
    parser.add_argument("-o", "--output", metavar="OUT", help="write to this file")
    return parser
