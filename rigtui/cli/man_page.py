"""`rigtui man`: the help of all commands as one manual page."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator

from rigtui import __version__
from rigtui.cli.arguments import COMMANDS, parser_of
from rigtui.cli.outputs import put_or_write

HEAD = ".TH RIGTUI 1"


def run(arguments: Namespace) -> int:
    """Print or write the page and return the exit status."""
    return put_or_write(man_page(), arguments.output, "such a page", _is_ours, "rigtui man")


def man_page() -> str:
    """The page in the `man` macros of roff.

    Source: man-pages(7) for the sections and their order, groff_man(7) for the macros.
    """
    lines = [
        f'{HEAD} "" "rigtui {__version__}" "User Commands"',
        ".SH NAME",
        _plain("rigtui - plan a pedalboard round a programmable loop switcher"),
        ".SH SYNOPSIS",
        ".nf",
        *map(_plain, _usage(None)),
        *(_plain(line) for command in COMMANDS for line in _usage(command)),
        ".fi",
        ".SH DESCRIPTION",
        *_as_it_is(_body(None)),
        ".SH COMMANDS",
    ]
    for command in COMMANDS:
        lines += [f'.SS "rigtui {command}"', *_as_it_is(_body(command))]
    lines += [".SH SEE ALSO", "The guide that comes with the program, in docs/."]
    return "\n".join(lines) + "\n"


def _usage(command: str | None) -> list[str]:
    usage = parser_of(command).format_usage().removeprefix("usage: ").rstrip("\n")
    return [line.strip() if at == 0 else line for at, line in enumerate(usage.split("\n"))]


def _body(command: str | None) -> str:
    """The help without the line that says how to call it, which stands in the synopsis."""
    return parser_of(command).format_help().partition("\n\n")[2]


def _as_it_is(text: str) -> Iterator[str]:
    yield ".nf"
    yield from map(_plain, text.rstrip("\n").split("\n"))
    yield ".fi"


def _plain(line: str) -> str:
    r"""A line that roff prints as it is: a backslash, a dash, a dot or quote at the beginning."""
    line = line.replace("\\", "\\e").replace("-", "\\-").replace("`", "\\(ga").replace("'", "\\(aq")
    return f"\\&{line}" if line.startswith(".") else line


def _is_ours(head: bytes) -> bool:
    return head.startswith(HEAD.encode())
