"""The keys that work right now, in words."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import ActiveBinding, Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static, TextArea

from rigtui.model.text import listed
from rigtui.tui.views.all_views import VIEWS
from rigtui.tui.widgets.overlay import Overlay

INTRO = (
    "rigtui plans which loops each preset switches and which preset each section of a "
    "song gets, counts what your feet have to do, and shows what will trouble you. "
    f"{listed(view.key for view in VIEWS)} switch between screens; ctrl+p finds "
    "every action, preset and song by name. Hold shift to select text with the mouse."
)
MOVING = (
    ("arrows, h j k l", "move"),
    ("page up, page down", "move by a page"),
    ("g, G", "first, last row"),
    ("home, end", "first, last column"),
    ("/", "search the list: only rows with these letters stay; Esc shows all"),
)
TYPING = (
    ("letters", "write over all that the field holds"),
    ("← →, home, end", "go along it, to change a letter"),
    ("^w, ^k", "delete the word before; all behind"),
)
"""Keys of a field with text."""
SKIPPED = ("move", "page", "edge", "search")
"""Beginnings of the actions that `MOVING` tells of."""
LEGEND = (
    ("2/3", "bank 2, switch 3; - means not stored yet"),
    ("moves", "presses from section to section, as the songs are written"),
    ("least", "the fewest presses with which every section still sounds right"),
    ("on the beat", "what must happen at the change itself; bank steps can come before it"),
    ("set-up", "presses between songs"),
    ("i o  s r  @  #  *", "in, out; send, return; hole; overlap; the lead's path (Wiring)"),
    ("!  !! or X", "a warning, an error"),
    ("+  h  t  8?", "pedal stepped on; hands; tempo or meter of its own; repeats until a cue"),
)


def _is_ours(active: ActiveBinding) -> bool:
    """Whether the program itself has given a key its meaning and its words, not the library."""
    return any(
        isinstance(own, Binding) and own.action == active.binding.action
        for kind in type(active.node).__mro__
        if kind.__module__.startswith("rigtui.")
        for own in kind.__dict__.get("BINDINGS", ())
    )


class HelpScreen(Overlay[None]):
    """The keys of the view in sight and of the program, or of the question that is asked."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,question_mark,f1,enter", "dismiss(None)", "Close", show=False)
    ]

    def compose(self) -> ComposeResult:
        """One line a key."""
        below = self.app.screen_stack[-2] if len(self.app.screen_stack) > 1 else None
        in_question = isinstance(below, Overlay)
        lines = [] if in_question else [Content(INTRO), Content("")]
        keys: dict[str, list[str]] = {}
        active = list(below.active_bindings.values()) if below else []
        if in_question:  # its own keys before those of typing
            active.sort(key=lambda binding: binding.node is not below)
        for binding in active:
            text = binding.binding.description
            if not _is_ours(binding):
                continue
            if text and not binding.binding.action.startswith(SKIPPED):
                display = self.app.get_key_display(binding.binding)
                keys.setdefault(text, []).append(display)
        rows = [(", ".join(dict.fromkeys(shown)), text) for text, shown in keys.items()]
        if in_question and below is not None and isinstance(below.focused, Input | TextArea):
            rows += TYPING
        for shown, text in rows if in_question else (*MOVING, *rows):
            lines.append(Content(f"{shown:<22}") + Content(text))
        with VerticalScroll(classes="dialog"):
            yield Static("Keys", classes="dialog--title", markup=False)
            yield Static(Content("\n").join(lines), markup=False)
            if not in_question:
                yield Static("\nWhat stands for what", classes="dialog--title", markup=False)
                legend = [Content(f"{mark:<22}") + Content(text) for mark, text in LEGEND]
                yield Static(Content("\n").join(legend), markup=False)
            yield Static("Esc close", classes="dialog--keys", markup=False)

    def on_mount(self) -> None:
        """Let the arrows scroll."""
        self.query_one(VerticalScroll).focus()
