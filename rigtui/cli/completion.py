"""`rigtui completion`: what a shell needs to complete commands, options, choices and files."""

from __future__ import annotations

import argparse
from argparse import Namespace
from typing import NamedTuple

from rigtui.cli.arguments import COMMANDS, parser_of
from rigtui.cli.plan.arguments import KINDS
from rigtui.cli.terminal import put


class CommandWords(NamedTuple):
    """What can stand after a command."""

    options: dict[str, str]
    """Each option with its help."""
    choices: dict[str, tuple[str, ...]]
    """What can stand after an option, where that is known; after "" what stands for itself."""
    free: tuple[str, ...]
    """Options that are followed by a word of the user's own, such as a file."""


def run(arguments: Namespace) -> int:
    """Print the script and return the exit status."""
    put({"bash": _bash, "zsh": _zsh, "fish": _fish}[arguments.shell]())
    return 0


def words_of(command: str) -> CommandWords:
    """What can stand after a command, as its own parser has it."""
    options: dict[str, str] = {}
    seconds = tuple(name.split()[1] for name in COMMANDS if name.startswith(f"{command} "))
    choices: dict[str, tuple[str, ...]] = {"": (*KINDS, *seconds)} if command == "plan" else {}
    free: list[str] = []
    for action in parser_of(command)._actions:
        named = [name for name in action.option_strings if name.startswith("--")]
        if action.help != argparse.SUPPRESS:
            options |= dict.fromkeys(named, _plain(action.help or ""))
        if action.choices is not None:
            choices |= dict.fromkeys(named or [""], tuple(map(str, action.choices)))
        elif action.nargs != 0:
            free += action.option_strings
    return CommandWords(options, choices, tuple(free))


def _plain(text: str) -> str:
    return " ".join(text.split()).replace("'", "").replace("%%", "%")


def _firsts() -> list[str]:
    """The words that a command begins with."""
    return list(dict.fromkeys(command.split()[0] for command in COMMANDS))


def _bash() -> str:
    cases = []
    for command in sorted(COMMANDS, key=lambda name: -len(name.split())):
        words = words_of(command)
        after = [
            f'      {option}) COMPREPLY=($(compgen -W "{" ".join(known)}" -- "$word")); return ;;'
            for option, known in words.choices.items()
            if option
        ]
        if words.free:
            after.append(
                f'      {"|".join(words.free)}) COMPREPLY=($(compgen -f -- "$word")); return ;;'
            )
        plain = " ".join(words.choices.get("", ()))
        cases += [
            f'    "{command} "*)',
            '      case "$before" in',
            *(f"  {line}" for line in after),
            "      esac",
            f'      options="{" ".join(words.options)}"; plain="{plain}" ;;',
        ]
    return "\n".join(
        [
            "# Completion of rigtui for bash. In ~/.bashrc:  source <(rigtui completion bash)",
            "_rigtui() {",
            '  local word="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD-1]}"',
            '  local options="--help --version" plain=""',
            '  local typed="${COMP_WORDS[*]:1:$((COMP_CWORD-1))} "',
            f'  [ "$COMP_CWORD" = 1 ] && plain="{" ".join(_firsts())}"',
            '  case "$typed" in',
            *cases,
            "  esac",
            '  case "$word" in',
            '    -*) COMPREPLY=($(compgen -W "$options" -- "$word")) ;;',
            '    *) COMPREPLY=($(compgen -W "$plain" -- "$word") $(compgen -d -- "$word")'
            ' $(compgen -f -X "!*.toml" -- "$word")) ;;',
            "  esac",
            "}",
            "complete -o filenames -F _rigtui rigtui",
            "",
        ]
    )


def _zsh() -> str:
    lines = _bash().splitlines()[1:]
    head = [
        "# Completion of rigtui for zsh. In ~/.zshrc:  source <(rigtui completion zsh)",
        "(( $+functions[compdef] )) || { autoload -U compinit && compinit }",
        "autoload -U +X bashcompinit && bashcompinit",
    ]
    return "\n".join([*head, *lines, ""])


def _fish() -> str:
    firsts = " ".join(_firsts())
    lines = [
        "# Completion of rigtui for fish:  rigtui completion fish | source",
        f"complete -c rigtui -n 'not __fish_seen_subcommand_from {firsts}' -f"
        f" -a '{firsts} (__fish_complete_suffix .toml)'",
    ]
    for command in COMMANDS:
        words = words_of(command)
        seen = " ; and ".join(f"__fish_seen_subcommand_from {word}" for word in command.split())
        known = " ".join(words.choices.get("", ()))
        lines.append(
            f"complete -c rigtui -n '{seen}' -f -a '{known} (__fish_complete_suffix .toml)'"
        )
        for option, told in words.options.items():
            values = words.choices.get(option)
            takes = f" -x -a '{' '.join(values)}'" if values else ""
            takes = " -r" if option in words.free else takes
            lines.append(f"complete -c rigtui -n '{seen}' -l {option[2:]}{takes} -d '{told}'")
    return "\n".join([*lines, ""])
