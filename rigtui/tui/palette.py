"""What the command palette finds: actions, presets, songs, setlists, and themes."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.content import Content

from rigtui.model.text import visible
from rigtui.tui.settings import THEMES

if TYPE_CHECKING:
    from rigtui.tui.app import RigApp

_MOVES = ("move", "page", "edge", "command_palette", "screen.", "app.focus", "help_quit")
"""Actions that only move the cursor or the focus, or open the palette itself."""


class Command(NamedTuple):
    """Something that can be chosen."""

    words: str
    """What it does, as shown; never markup."""
    key: str
    run: Callable[[], Awaitable[Any] | Any]


class RigCommands(Provider):
    """Every action of the view in sight and of the program, and every place to go to."""

    @property
    def _rig_app(self) -> RigApp:
        return cast("RigApp", self.app)

    async def startup(self) -> None:
        """List the commands once: the palette lies over the screen, so nothing changes below."""
        self._commands = (*self._actions(), *self._program(), *self._places())

    async def discover(self) -> Hits:
        """Show the actions before anything is typed; the places would be too many."""
        for command in (*self._actions(), *self._program()):
            yield DiscoveryHit(_shown(command), command.run, command.words)

    async def search(self, query: str) -> Hits:
        """Find the commands that hold every word typed; those that begin with it come first."""
        wanted = query.casefold().split()
        for at, command in enumerate(self._commands):
            words = command.words.casefold()
            if all(word in words for word in wanted):
                score = _score(words, wanted, at / max(1, len(self._commands)))
                yield Hit(score, _shown(command), command.run, command.words)

    def _actions(self) -> Iterator[Command]:
        """Actions that have a key where the focus is."""
        keys: dict[str, Command] = {}
        for active in self.screen.active_bindings.values():
            binding = active.binding
            if not binding.description or not active.enabled or binding.action.startswith(_MOVES):
                continue
            key = self.app.get_key_display(binding)
            known = keys.get(binding.action)
            if known is not None:
                key = f"{known.key}, {key}" if key not in known.key.split(", ") else known.key
            run = partial(self.app.run_action, binding.action, active.node)
            keys[binding.action] = Command(visible(binding.description), key, run)
        yield from keys.values()

    def _program(self) -> Iterator[Command]:
        from rigtui.tui.importing import import_commands
        from rigtui.tui.sheet_preview import sheet_commands

        app = self._rig_app
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

    def _places(self) -> Iterator[Command]:
        document = self._rig_app.document
        if document is None:
            return
        rig = document.rig
        for what, table, rows in (
            ("preset", "presets", rig.presets),
            ("song", "songs", rig.songs),
            ("setlist", "setlists", rig.setlists),
        ):
            for row in rows:
                go = partial(self._rig_app.go_to, f"{table}.{row.id}")
                yield Command(f"Go to {what}: {visible(row.label)}", "", go)


def _shown(command: Command) -> Content:
    """The words of a command and the key that does the same, as text and nothing else."""
    key = f"  ({command.key})" if command.key else ""
    return Content(command.words) + Content.styled(key, "not bold")


def _score(words: str, wanted: list[str], place: float) -> float:
    """How well a command fits, between 0 and 1: word beginnings first, then the usual order."""
    starts = sum(words.startswith(word) or f" {word}" in words for word in wanted)
    return 0.9 * (starts + 0.1) / (len(wanted) + 0.1) + 0.09 * (1 - place) + 0.001
