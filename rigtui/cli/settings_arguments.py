"""The arguments of `rigtui settings`, and its help."""

from __future__ import annotations

from rigtui.cli.parser import Parser

_ABOUT = """\
Open the settings in your text editor: the colours, the screen that a rig opens
in, and the keys. If there is no settings file, rigtui first writes one that
explains itself. When you leave the editor, rigtui checks the file and names the
line of any mistake. The editor is $VISUAL, or else $EDITOR.
"""
_END = """\
examples:
  rigtui settings           open them
  rigtui settings --path    where the file is
  rigtui settings --list    every command you can set keys for, and its keys
  rigtui settings --check   only check the file

exit status:
  0  fine
  2  a setting makes no sense, or the file can't be read or opened
"""


def settings() -> Parser:
    """Make the parser of `rigtui settings`."""
    parser = Parser("rigtui settings", "rigtui settings [--path | --list | --check]", _ABOUT, _END)
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--path", action="store_true", help="print where the settings file is")
    what.add_argument(
        "--list", action="store_true", help="list commands, their keys and what they do"
    )
    what.add_argument("--check", action="store_true", help="only check the file")
    return parser
