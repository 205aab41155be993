"""The last line of the screen: what the keys do here, as many as there is room for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, NamedTuple

from textual import events
from textual.content import Content
from textual.widget import Widget

from rigtui.tui.text import plain

if TYPE_CHECKING:
    from textual.binding import ActiveBinding
    from textual.screen import Screen


class KeyShown(NamedTuple):
    """A key on the line."""

    key: str
    name: str
    """What the key is called."""
    words: str
    action: str
    enabled: bool

    @property
    def width(self) -> int:
        """Cells that it takes with the gap after it."""
        return plain(f"{self.name} {self.words} ").cell_length


class KeyLine(Widget, can_focus=False):
    """The keys of the part that has the focus, then those of the program.

    Where there is no room for all of them the last ones go, but never the last of all, which lists
    every key.
    """

    DEFAULT_CSS: ClassVar[str] = """
    KeyLine { height: 1; dock: bottom; background: $footer-background; color: $footer-foreground; }
    """

    def on_mount(self) -> None:
        """Follow the keys that are of use."""
        self.screen.bindings_updated_signal.subscribe(self, self._keys_changed)

    def on_unmount(self) -> None:
        """Follow them no more."""
        self.screen.bindings_updated_signal.unsubscribe(self)

    def _keys_changed(self, screen: Screen[Any]) -> None:
        if screen is self.screen and screen.app.app_focus:
            self.refresh()

    @property
    def shown(self) -> list[KeyShown]:
        """The keys that there is room for, from the left."""
        active: dict[str, ActiveBinding] = {}
        for row in self.screen.active_bindings.values():
            if row.binding.show:
                active.setdefault(row.binding.action, row)
        keys = [
            KeyShown(
                row.binding.key,
                self.app.get_key_display(row.binding),
                row.binding.description,
                row.binding.action,
                row.enabled,
            )
            for row in active.values()
        ]
        while len(keys) > 1 and sum(key.width for key in keys) - 1 > self.size.width:
            del keys[-2]
        return keys

    def render(self) -> Content:
        """Draw the keys; one that has no use now is greyed; none while a question is asked."""
        line = Content("")
        if self.app.screen is not self.screen:
            return line
        for key in self.shown:
            look = "$footer-key-foreground bold" if key.enabled else "$text-disabled"
            line += Content.styled(key.name, look)
            line += Content.styled(f" {key.words} ", "" if key.enabled else "$text-disabled")
        return line

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """A click on a key presses it."""
        x = event.x
        for key in self.shown:
            if 0 <= x < key.width - 1:
                if key.enabled:
                    self.app.simulate_key(key.key)
                else:
                    self.app.bell()
                return
            x -= key.width
