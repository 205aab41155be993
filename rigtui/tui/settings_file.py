"""The settings file: its keys, the check for mistakes, and the file to start with."""

from __future__ import annotations

import importlib
import os
import pkgutil
import shlex
import string
import subprocess
import tomllib
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from textual.binding import Binding
from textual.keys import REPLACED_KEYS, Keys, _character_to_key

import rigtui.tui
from rigtui.model.text import did_you_mean, listed, visible
from rigtui.store.kept import begin_settings, settings_text
from rigtui.tui.ascii_only import CHARACTERS
from rigtui.tui.settings import LAST, THEMES
from rigtui.tui.views.all_views import VIEW_OF

MODIFIERS = ("ctrl", "shift", "alt", "super", "hyper", "meta")
KNOWN = ("theme", "characters", "start", "keys")
_PROGRAM = "app"
"""Where the keys stand that work in every view."""


class KeyCommand(NamedTuple):
    """What a key does in some place of the program, by the name that the settings know."""

    id: str
    keys: tuple[str, ...]
    words: str
    homes: frozenset[str]
    """Names of the classes that take its keys."""


class SettingFault(NamedTuple):
    """What of the settings makes no sense."""

    path: tuple[str | int, ...]
    message: str


@cache
def key_commands() -> dict[str, KeyCommand]:
    """All that keys can be set for, by name, in the order of the views."""
    for module in pkgutil.walk_packages(rigtui.tui.__path__, "rigtui.tui."):
        importlib.import_module(module.name)
    commands: dict[str, KeyCommand] = {}
    for home, binding in _bindings():
        name = binding.id or ""
        known = commands.get(name, KeyCommand(name, (), binding.description, frozenset()))
        keys = tuple(dict.fromkeys((*known.keys, *binding.key.split(","))))
        commands[name] = known._replace(keys=keys, homes=known.homes | {home})
    return dict(sorted(commands.items(), key=lambda command: _room(command[0])))


def settings_faults(text: str) -> Sequence[tuple[int | None, str]]:
    """What is wrong with a settings file: the line, where it is known, and the message."""
    from rigtui.store.toml_map import TomlMap

    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        return [(None, f"not TOML: {error}")]
    lines = TomlMap(text)
    faults = [(lines.line_of(fault.path), fault.message) for fault in _faults(data)]
    return sorted(faults, key=lambda fault: fault[0])


def starter_text() -> str:
    """A settings file that sets nothing and explains everything."""
    rows = [
        "# How rigtui looks and which keys it takes. A line that begins with # sets nothing.",
        "",
        f"# The colours: {listed(THEMES, 'or')}.",
        '# theme = "dark"',
        "",
        "# The characters on the screens: all, or ascii where lines and arrows come out wrong.",
        '# characters = "all"',
        "",
        f"# The screen that a rig opens in: {listed(VIEW_OF)}; or {LAST}, where you left it.",
        f'# start = "{LAST}"',
        "",
        "# Other keys: one, or several with commas between.",
        "# A key is a character, or a name such as f2, ctrl+s, shift+up, space, enter, delete.",
        "[keys]",
    ]
    width = max(len(name) for name in key_commands()) + 2
    for command in key_commands().values():
        name = f'"{command.id}"'
        rows.append(f'# {name:{width}} = "{",".join(command.keys)}"  # {command.words}')
    return "\n".join(rows) + "\n"


def keys_in_force(settings: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    """The keys of each command with what the settings change."""
    rows = settings.get("keys")
    changed = rows if isinstance(rows, Mapping) else {}
    return {
        name: _split(changed[name]) if isinstance(changed.get(name), str) else command.keys
        for name, command in key_commands().items()
    }


def have_settings() -> None:
    """Write the file to begin with, where there is no settings file yet.

    Raises:
        SaveError: it cannot be written.
        OSError, ValueError: the file that is there cannot be read, or its folder not made.
    """
    if settings_text() is None:
        begin_settings(starter_text())


def editor_words() -> list[str]:
    """The user's own text editor as a command line; empty where none is named.

    Source: environ(7) of the Linux manual pages, VISUAL and EDITOR.
    """
    try:
        return shlex.split(os.environ.get("VISUAL") or os.environ.get("EDITOR") or "")
    except ValueError:
        return []


def run_editor(words: list[str], path: Path) -> str:
    """Have the user's editor open a file; return why it can't be started, or ""."""
    try:
        subprocess.run([*words, str(path)], check=False)
    except OSError as error:
        return f"{words[0]} can't be started: {error.strerror or error}; open {path}"
    return ""


def _faults(data: Mapping[str, Any]) -> Iterator[SettingFault]:
    for key in data:
        if key not in KNOWN:
            better = did_you_mean(key, KNOWN, f"the settings are {listed(KNOWN)}")
            yield SettingFault((key,), f"{visible(key)} is not a setting; {better}")
    yield from _choice(data, "theme", tuple(THEMES))
    yield from _choice(data, "characters", CHARACTERS)
    yield from _choice(data, "start", (*VIEW_OF, LAST))
    rows = data.get("keys", {})
    if not isinstance(rows, Mapping):
        yield SettingFault(("keys",), 'keys must be a table, such as [keys] with "app.save" = "f2"')
        return
    if rows:  # else nothing needs to know all keys, which loads every screen
        yield from _key_faults(rows)


def _choice(data: Mapping[str, Any], key: str, known: tuple[str, ...]) -> Iterator[SettingFault]:
    value = data.get(key, known[0])
    if value not in known:
        shown = visible(str(value))
        yield SettingFault((key,), f"{key} must be {listed(known, 'or')}, not {shown}")


def _key_faults(rows: Mapping[str, Any]) -> Iterator[SettingFault]:
    commands = key_commands()
    for name, keys in rows.items():
        place = ("keys", name)
        if name not in commands:
            better = did_you_mean(name, commands, "`rigtui settings --list` lists all")
            yield SettingFault(place, f"{visible(name)} is not a command; {better}")
        elif not isinstance(keys, str):
            yield SettingFault(place, f'the keys of {name} must be text, such as "f2,ctrl+s"')
        else:
            for key in _split(keys):
                if not _is_key(key):
                    yield SettingFault(
                        place,
                        f"{visible(key) or 'nothing'} is not a key; write a character, "
                        "or a name such as f2, ctrl+s, shift+up, space",
                    )
    yield from _clashes(rows)


def _clashes(rows: Mapping[str, Any]) -> Iterator[SettingFault]:
    """Keys that the settings give to one command and that another of the same place has."""
    commands, in_force = key_commands(), keys_in_force({"keys": rows})
    for name in rows.keys() & commands.keys():
        new = set(map(_plain, in_force[name])) - set(commands[name].keys)
        for other, command in commands.items():
            meet = command.homes & commands[name].homes or _PROGRAM in (
                _room(name)[1], _room(other)[1]
            )  # fmt: skip
            shared = new & set(map(_plain, in_force[other]))
            if other != name and meet and shared:
                yield SettingFault(("keys", name), f"{other} has {listed(sorted(shared))} too")


def _bindings() -> Iterator[tuple[str, Binding]]:
    from textual.dom import DOMNode

    waiting: list[type] = [DOMNode]
    while waiting:
        kind = waiting.pop()
        waiting += kind.__subclasses__()
        if kind.__module__.startswith("rigtui."):
            own = kind.__dict__.get("BINDINGS", ())
            for row in own:
                if isinstance(row, Binding) and row.id:
                    yield kind.__name__, row


def _room(name: str) -> tuple[int, str]:
    """Where a command stands: the whole program first, then the views in their order."""
    room = name.partition(".")[0]
    order = [_PROGRAM, *VIEW_OF]
    return (order.index(room) if room in order else len(order)), room


def _split(keys: str) -> tuple[str, ...]:
    return tuple(key.strip() for key in keys.split(","))


def _plain(key: str) -> str:
    return _character_to_key(key) if len(key) == 1 else key


def _is_key(key: str) -> bool:
    *held, last = key.split("+") if len(key) > 1 else (key,)
    if any(modifier not in MODIFIERS for modifier in held):
        return False
    if len(last) == 1:
        return last.isprintable() and not last.isspace()
    return last in _named_keys() or _is_character(last)


@cache
def _named_keys() -> frozenset[str]:
    names = (key.value for key in Keys if not key.value.startswith("<"))
    return frozenset((*names, *map(_character_to_key, string.punctuation)))


def _is_character(name: str) -> bool:
    """Whether a name is that of a character, as Unicode has it, such as question_mark."""
    try:
        unicodedata.lookup(REPLACED_KEYS.get(name, name).upper().replace("_", " "))
    except KeyError:
        return False
    return True


def told_faults() -> tuple[str, ...]:
    """What is wrong with the settings file, each with its line; nothing where there is none.

    Raises:
        OSError, ValueError: it cannot be read.
    """
    faults = settings_faults(settings_text() or "")
    return tuple(f"line {line}: {told}" if line else told for line, told in faults)


def commands_listed(settings: Mapping[str, Any]) -> Iterable[tuple[str, str, str]]:
    """Name, keys and words of each command, with what the settings change."""
    for name, keys in keys_in_force(settings).items():
        yield name, ", ".join(keys), key_commands()[name].words
