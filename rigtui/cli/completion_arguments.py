"""The arguments of `rigtui completion`, and its help."""

from __future__ import annotations

from rigtui.cli.parser import Parser

_ABOUT = """\
Print the script that lets your shell complete commands, options and rig files
when you press Tab.
"""
_END = """\
examples:
  source <(rigtui completion bash)     for now; put it into ~/.bashrc to keep it
  source <(rigtui completion zsh)      the same in ~/.zshrc
  rigtui completion fish | source      the same in ~/.config/fish/config.fish

exit status:
  0  printed
  2  something mistyped
"""


def completion() -> Parser:
    """Make the parser of `rigtui completion`."""
    parser = Parser("rigtui completion", "rigtui completion bash|zsh|fish", _ABOUT, _END)
    parser.add_argument(
        "shell", metavar="SHELL", choices=("bash", "zsh", "fish"), help="your shell"
    )
    return parser
