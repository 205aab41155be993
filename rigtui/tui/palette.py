"""What the command palette finds: actions, presets, songs, setlists, and themes."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterator, Sequence
from functools import partial
from inspect import isawaitable
from typing import TYPE_CHECKING, Any, NamedTuple

from rigtui.model.places import place_at
from rigtui.model.text import visible
from rigtui.tui.settings import THEMES
from rigtui.tui.widgets.pick import Pick

if TYPE_CHECKING:
    from rigtui.tui.document_app import DocumentApp

_MOVES = ("move", "page", "edge", "find", "screen.", "app.focus", "help_quit")
"""Actions that only move the cursor or the focus, or open the palette itself."""


class Command(NamedTuple):
    """Something that can be chosen."""

    words: str
    """What it does, as shown; never markup."""
    key: str
    run: Callable[[], Awaitable[Any] | Any]


class Palette(Pick):
    """The commands by name; what was typed is looked for in their words, beginnings first."""

    def __init__(self, app: DocumentApp) -> None:
        """List the commands once: the palette lies over the screen, so nothing changes below."""
        self._actions = (*_actions(app), *_program(app))
        self._commands = (*self._actions, *_places(app))
        choices = [(str(at), _shown(command)) for at, command in enumerate(self._commands)]
        super().__init__("Find", choices, hint="an action, a preset, a song, a setlist ...")

    def narrowed(self, words: str) -> Sequence[tuple[str, str]]:
        """Before anything is typed, show the actions alone; the places would be too many."""
        wanted = words.casefold().split()
        if not wanted:
            return self._choices[: len(self._actions)]
        ranked: list[tuple[float, tuple[str, str]]] = []
        for at, (choice, command) in enumerate(zip(self._choices, self._commands)):
            text = command.words.casefold()
            if all(word in text for word in wanted):
                ranked.append((_score(text, wanted, at / len(self._commands)), choice))
        ranked.sort(key=lambda scored: -scored[0])
        return [choice for _, choice in ranked]

    async def run(self, answer: str | None) -> None:
        """Do what was chosen."""
        if answer is not None:
            done = self._commands[int(answer)].run()
            if isawaitable(done):
                await done


def _actions(app: DocumentApp) -> Iterator[Command]:
    """Actions that have a key where the focus is."""
    commands: dict[str, Command] = {}
    for active in app.screen.active_bindings.values():
        binding = active.binding
        if not binding.description or not active.enabled or binding.action.startswith(_MOVES):
            continue
        key = app.get_key_display(binding)
        known = commands.get(binding.action)
        if known is not None:
            key = f"{known.key}, {key}" if key not in known.key.split(", ") else known.key
        run = partial(app.run_action, binding.action, active.node)
        commands[binding.action] = Command(visible(binding.description), key, run)
    yield from commands.values()


def _program(app: DocumentApp) -> Iterator[Command]:
    from rigtui.tui.importing import import_commands
    from rigtui.tui.sheet_preview import sheet_commands

    for name in THEMES:
        here = " (now)" if app.theme == name else ""
        words = f"Theme: colours {name.replace('-', ' ')}{here}"
        yield Command(words, "", partial(app.action_colours, name))
    for words, show in sheet_commands(app):
        yield Command(words, "", show)
    for words, ask in import_commands(app):
        yield Command(words, "", ask)
    yield Command("Save a picture of the screen", "", app.action_picture)
    yield Command("Back to the shell for a while", "", app.action_suspend_process)


def _places(app: DocumentApp) -> Iterator[Command]:
    if app.document is None:
        return
    rig = app.document.rig
    for what, table, rows in (
        ("preset", "presets", rig.presets),
        ("song", "songs", rig.songs),
        ("setlist", "setlists", rig.setlists),
    ):
        for row in rows:
            go = partial(app.go_to, place_at(table, row.id))
            yield Command(f"Go to {what}: {visible(row.label)}", "", go)


def _shown(command: Command) -> str:
    """The words of a command and the key that does the same."""
    return f"{command.words}  ({command.key})" if command.key else command.words


def _score(words: str, wanted: list[str], place: float) -> float:
    """How well a command fits, between 0 and 1: word beginnings first, then the usual order."""
    starts = sum(words.startswith(word) or f" {word}" in words for word in wanted)
    return 0.9 * (starts + 0.1) / (len(wanted) + 0.1) + 0.09 * (1 - place) + 0.001
