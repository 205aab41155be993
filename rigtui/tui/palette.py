"""What the command palette finds: actions of all screens, sheets, pedals, presets, songs."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from inspect import isawaitable
from typing import TYPE_CHECKING, Any, NamedTuple

from textual.binding import Binding

from rigtui.model.kind_words import common_names
from rigtui.model.places import place_at
from rigtui.model.text import visible
from rigtui.tui.common_names import SMALL_WORDS, names_of_action, names_of_command
from rigtui.tui.settings import THEMES
from rigtui.tui.views.all_views import VIEWS
from rigtui.tui.widgets.pick import Pick

if TYPE_CHECKING:
    from textual.widget import Widget

    from rigtui.tui.document_app import DocumentApp

_MOVES = ("move", "page", "edge", "find", "screen.", "app.focus", "help_quit")
"""Actions that only move the cursor or the focus, or open the palette itself."""


class Command(NamedTuple):
    """Something that can be chosen."""

    words: str
    """What it does, as shown; never markup."""
    key: str
    run: Callable[[], Awaitable[Any] | Any]
    also: str = ""
    """Other words by which it is found; not shown."""


class Palette(Pick):
    """The commands by name; what was typed is looked for in their words, beginnings first."""

    def __init__(self, app: DocumentApp) -> None:
        """List the commands once: the palette lies over the screen, so nothing changes below."""
        self._actions = (*_actions(app), *_program(app), *_elsewhere(app))
        self._commands = (*self._actions, *_places(app))
        choices = [(str(at), _shown(command)) for at, command in enumerate(self._commands)]
        super().__init__("Find", choices, hint="an action, a preset, a song, a setlist ...")

    def narrowed(self, words: str) -> Sequence[tuple[str, str]]:
        """Before anything is typed, show the actions alone; the places would be too many."""
        typed = words.casefold().split()
        if not typed:
            return self._choices[: len(self._actions)]
        wanted = [word for word in typed if word not in SMALL_WORDS] or typed
        ranked: list[tuple[float, tuple[str, str]]] = []
        for at, (choice, command) in enumerate(zip(self._choices, self._commands)):
            text = command.words.casefold()
            place = at / len(self._commands)
            if all(word in text for word in wanted):
                ranked.append((1 + _score(text, wanted, place), choice))
            elif _begun(wanted, f"{text} {command.also.casefold()}"):
                ranked.append((_score(text, wanted, place), choice))
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
        also = names_of_action(binding.id)
        commands[binding.action] = Command(visible(binding.description), key, run, also)
    yield from commands.values()


def _elsewhere(app: DocumentApp) -> Iterator[Command]:
    """Actions that have a key on another screen, or another part of this: it is gone to first."""
    if app.document is None:
        return
    here = {active.binding.id for active in app.screen.active_bindings.values()}
    for facts in VIEWS:
        view = facts.view_class()
        parts = view.keyed()
        for keyed in parts[1:] if facts.id == app.view_id else parts:
            for binding in keys_of(keyed):
                if binding.action.startswith(_MOVES) or not binding.description:
                    continue
                if binding.id and binding.id in here:
                    continue
                words = f"{view.called(keyed)}: {visible(binding.description)}"
                key = app.get_key_display(binding)
                run = partial(app.act_in, facts.id, keyed, binding.action)
                yield Command(words, f"{facts.key} {key}", run, names_of_action(binding.id))


def _program(app: DocumentApp) -> Iterator[Command]:
    from rigtui.tui.importing import import_commands
    from rigtui.tui.sheet_preview import sheet_commands
    from rigtui.tui.views.plan.called import plan_commands
    from rigtui.tui.views.report.called import waive_commands
    from rigtui.tui.writing import writing_commands

    for words, start in plan_commands(app):
        yield _command(words, start)
    for words, ask in waive_commands(app):
        yield _command(words, ask)
    for name in THEMES:
        here = " (now)" if app.theme == name else ""
        words = f"Theme: colours {name.replace('-', ' ')}{here}"
        yield _command(words, partial(app.action_colours, name))
    for commands in (sheet_commands, import_commands, writing_commands):
        for words, run in commands(app):
            yield _command(words, run)
    yield _command("Save a picture of the screen", app.action_picture)
    yield _command("Back to the shell for a while", app.action_suspend_process)


def keys_of(part: type[Widget]) -> Iterator[Binding]:
    """The keys that a class of widgets itself has."""
    for binding in part.__dict__.get("BINDINGS", ()):
        if isinstance(binding, Binding):
            yield replace(binding, key=binding.key.partition(",")[0])


def _command(words: str, run: Callable[[], Awaitable[Any] | Any]) -> Command:
    return Command(words, "", run, names_of_command(words))


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
    for pedal in rig.pedals:
        go = partial(app.go_to, place_at("pedals", pedal.id))
        also = common_names(pedal.kind) + (" mute silent" if pedal.kind == "tuner" else "")
        yield Command(f"Go to pedal: {visible(pedal.label)}", "", go, f"{also} pedal")


def _begun(wanted: list[str], text: str) -> bool:
    """Whether each word begins a word of a text."""
    return all(f" {word}" in f" {text}" for word in wanted)


def _shown(command: Command) -> str:
    """The words of a command and the key that does the same."""
    return f"{command.words}  ({command.key})" if command.key else command.words


def _score(words: str, wanted: list[str], place: float) -> float:
    """How well a command fits, between 0 and 1: word beginnings first, then the usual order."""
    starts = sum(words.startswith(word) or f" {word}" in words for word in wanted)
    return 0.9 * (starts + 0.1) / (len(wanted) + 0.1) + 0.09 * (1 - place) + 0.001
