"""The user's settings: colours, and keys for the program's commands.

A colour means one thing on all screens: the first colour is where you are and what you can press,
the second what is on or gained, the third a warning, the fourth an error or a loss. Bars are drawn
in the colour of text. Nothing is told by colour alone.

Colours are given in full for everything that shows text, because contrast is checked: at least
4.5 to 1 for each text on its ground, 7 to 1 in the high contrast theme (tests/reference).
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from textual.theme import Theme

from rigtui.store.kept import LastPlace, keep_setting, table
from rigtui.tui.views.all_views import FIRST, VIEW_OF

if TYPE_CHECKING:
    from textual.app import App

DARK = Theme(
    name="dark",
    primary="#0b6ab5",
    secondary="#2f5d8a",
    accent="#ffa62b",
    warning="#ffb64d",
    error="#d9637f",
    success="#4ebf71",
    foreground="#e6e6e6",
    background="#121212",
    surface="#1e1e1e",
    panel="#232a31",
    variables={
        "panel-lighten-1": "#5f6b76",  # lines between parts of a view
        "text": "#ffffff",
        "text-muted": "#acacac",
        "text-disabled": "#9a9a9a",
        "text-success": "#7fd89b",
        "text-warning": "#ffc46b",
        "text-error": "#ff9bab",
        "text-accent": "#8cc4f5",
        "text-primary": "#8cc4f5",
        "primary-muted": "#173a57",
        "footer-key-foreground": "#8cc4f5",
    },
)
LIGHT = Theme(
    name="light",
    primary="#004578",
    secondary="#0b5fa3",
    accent="#7a4a00",
    warning="#8a5300",
    error="#a3203f",
    success="#1d6b38",
    foreground="#1a1a1a",
    background="#f4f4f4",
    surface="#e8e8e8",
    panel="#dadada",
    dark=False,
    variables={
        "panel-lighten-1": "#7a7a7a",  # lines between parts of a view
        "text": "#ffffff",
        "text-muted": "#4c4c4c",
        "text-disabled": "#565656",
        "text-success": "#155c2d",
        "text-warning": "#744400",
        "text-error": "#931a37",
        "text-accent": "#0a4f86",
        "text-primary": "#004578",
        "primary-muted": "#bcd3e6",
        "footer-key-foreground": "#004578",
    },
)
HIGH_CONTRAST = Theme(
    name="high-contrast",
    primary="#ffe000",
    secondary="#66d9ff",
    accent="#66d9ff",
    warning="#ffd24d",
    error="#ff9a9a",
    success="#5dff8f",
    foreground="#ffffff",
    background="#000000",
    surface="#0c0c0c",
    panel="#000000",
    variables={
        "panel-lighten-1": "#c8c8c8",  # lines between parts of a view
        "text": "#000000",
        "text-muted": "#dcdcdc",
        "text-disabled": "#c4c4c4",
        "text-success": "#5dff8f",
        "text-warning": "#ffd24d",
        "text-error": "#ff9a9a",
        "text-accent": "#66d9ff",
        "text-primary": "#ffe000",
        "primary-muted": "#3a3400",
        "footer-key-foreground": "#66d9ff",
    },
)


def _with_selection(theme: Theme) -> Theme:
    """The theme with what is selected, in sight or out of focus, in its first colour."""
    selected = {
        "block-cursor-blurred-background": theme.variables["primary-muted"],
        "input-selection-background": theme.primary,
        "input-selection-foreground": theme.variables["text"],
    }
    return replace(theme, variables=theme.variables | selected)


THEMES = {theme.name: _with_selection(theme) for theme in (DARK, LIGHT, HIGH_CONTRAST)}


_ON_DARK = {
    "text-success": "#55ff55",
    "text-error": "#ff6a6a",
    "text-accent": "#55ffff",
    "text-primary": "#55ffff",
    "footer-key-foreground": "#55ffff",
}
_ON_LIGHT = {
    "text-success": "#006000",
    "text-accent": "#00008a",
    "text-primary": "#00008a",
    "footer-key-foreground": "#00008a",
}


def for_sixteen(theme: Theme) -> Theme:
    """The theme with text in colours that stay apart on a terminal of sixteen.

    The nearest of sixteen to a soft red or green is white or grey, and to these it is red or green.
    """
    return replace(theme, variables=theme.variables | (_ON_DARK if theme.dark else _ON_LIGHT))


LAST = "last"
"""Start where the file was left."""


def colours() -> bool | None:
    """Whether to use the terminal's own colours only (True), or leave it to the theme (None).

    With NO_COLOR the screen library would paint in greys; taken as a terminal of few colours it
    paints none. A variable that is empty counts as one that is not set.

    Source: no-color.org.
    """
    if not os.environ.get("NO_COLOR"):
        os.environ.pop("NO_COLOR", None)
        return None
    return True


def apply_settings(app: App[Any], settings: Mapping[str, Any]) -> None:
    """Give the app its themes, and what the user has set; what makes no sense is passed over."""
    sixteen = app.console.color_system == "standard"
    for theme in THEMES.values():
        app.register_theme(for_sixteen(theme) if sixteen else theme)
    wanted = settings.get("theme")
    app.theme = wanted if isinstance(wanted, str) and wanted in THEMES else DARK.name
    app.stylesheet.set_variables(app.get_css_variables())  # so that the first paint has them
    app.set_keymap(table(settings, "keys"))


def starts_as_left(settings: Mapping[str, Any]) -> bool:
    """Whether a file opens in the view in which it was left; it does where nothing else is set."""
    return _start(settings) not in VIEW_OF


def first_view(settings: Mapping[str, Any], stood: LastPlace | None) -> str:
    """The view that a file opens in, which was last left at a place."""
    if (start := _start(settings)) in VIEW_OF:
        return start
    return stood.screen if stood is not None and stood.screen in VIEW_OF else FIRST


def _start(settings: Mapping[str, Any]) -> str:
    start = settings.get("start")
    return start if isinstance(start, str) else LAST


def choose_theme(app: App[Any], name: str) -> None:
    """Change the theme, now and for the next time.

    Raises:
        SaveError: it could not be kept for the next time.
    """
    app.theme = name
    keep_setting("theme", name)
