"""Contrast of the colours, by the formula of the Web Content Accessibility Guidelines.

Source: WCAG 2.1, "relative luminance" and "contrast ratio"; success criteria 1.4.3 (4.5 to 1) and
1.4.6 (7 to 1). Inactive parts and pure decoration are exempt there, and so are greyed keys and
lines here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from rich.color import Color, ColorSystem
from rich.segment import Segment
from screens import DEMOS, LARGE, app_on, checked, on_screen
from textual.pilot import Pilot
from textual.screen import ModalScreen
from textual.strip import Strip
from textual.theme import Theme

from rigtui.tui.app import RigApp
from rigtui.tui.settings import THEMES, for_sixteen

Colour = tuple[int, int, int]
LEAST = {"dark": 4.5, "light": 4.5, "high-contrast": 7.0}
LINES = {chr(code) for code in range(0x2500, 0x25A0)} - set("█░") | {" "}


def luminance(colour: Colour) -> float:
    """Relative luminance of an sRGB colour.

    The knee stands at 0.03928 in WCAG and at 0.04045 in sRGB; no 8-bit value lies between them.
    """
    parts = [value / 255 for value in colour]
    red, green, blue = (
        part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first: Colour, second: Colour) -> float:
    """Contrast ratio of two colours, 1 to 21."""
    darker, lighter = sorted((luminance(first), luminance(second)))
    return (lighter + 0.05) / (darker + 0.05)


def rgb(code: str) -> Colour:
    """A colour of six hexadecimal digits."""
    return int(code[:2], 16), int(code[2:4], 16), int(code[4:], 16)


@pytest.mark.parametrize(
    ("first", "second", "ratio"),
    [
        ("000000", "FFFFFF", 21.0),
        ("767676", "FFFFFF", 4.5422),
        ("777777", "FFFFFF", 4.4781),
        ("949494", "FFFFFF", 3.0335),
        ("595959", "FFFFFF", 7.0047),
        ("0000FF", "FFFFFF", 8.5925),
        ("FF0000", "0000FF", 2.1489),
        ("FF0000", "FFFFFF", 3.9985),
        ("00FF00", "FFFFFF", 1.3722),
        ("FFFF00", "000000", 19.5560),
    ],
)
def test_formula(first: str, second: str, ratio: float) -> None:
    """The formula gives the published ratios.

    Source: 4.54 for 767676 and 8.59 for 0000FF on white are printed in textbooks on web colour;
    the other figures are worked out by hand from the formula.
    """
    assert contrast(rgb(first), rgb(second)) == pytest.approx(ratio, abs=1e-4)
    assert contrast(rgb(second), rgb(first)) == pytest.approx(ratio, abs=1e-4)


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_four_meanings_in_sixteen_colours(theme: Theme) -> None:
    """What a colour means is still told apart where a terminal has sixteen, and from plain text.

    Rich finds the nearest of the sixteen, as it does when it paints.
    """
    colours = for_sixteen(theme).variables
    names = ("text-success", "text-warning", "text-error", "text-accent")
    shown = [colours[name] for name in names] + [theme.foreground, theme.background]
    nearest = [Color.parse(str(code)).downgrade(ColorSystem.STANDARD).number for code in shown]
    assert len(set(nearest)) == len(shown)


def painted(app: RigApp) -> Iterator[Segment]:
    """Text as it is painted: of a question that lies over a view, only the question."""
    parts = [widget.region for widget in app.screen.query(".dialog")]
    areas = parts if isinstance(app.screen, ModalScreen) and parts else [app.screen.region]
    for y, line in enumerate(app.screen._compositor.render_strips()):
        x = 0
        for segment in Strip(line):
            seen = any(area.contains(x, y) for area in areas)
            if seen and not set(segment.text) <= LINES:
                yield from _filtered(app, segment)
            x += segment.cell_length


def _filtered(app: RigApp, segment: Segment) -> list[Segment]:
    strip = Strip([segment])
    for each in app._filters:
        if each.enabled:
            strip = strip.apply_filter(each, app.screen.styles.background)
    return list(strip)


def too_faint(app: RigApp, least: float) -> set[tuple[str, str, float, str]]:
    """Text on the screen that has too little contrast, with its colours."""
    unreadable = set()
    for segment in painted(app):
        style = segment.style
        assert style is not None
        assert style.color is not None, segment
        assert style.bgcolor is not None, segment
        front, back = style.color.get_truecolor(), style.bgcolor.get_truecolor()
        ratio = contrast(tuple(front), tuple(back))  # type: ignore[arg-type]
        if ratio < least:
            unreadable.add((front.hex, back.hex, round(ratio, 2), segment.text.strip()))
    return unreadable


async def every_screen(pilot: Pilot[Any]) -> Iterator[str]:
    """Go through the views and some questions, naming each."""
    app = pilot.app
    for keys in (
        ("2",), ("3",), ("4",), ("tab", "tab"), ("F",), ("escape", "w"),
        ("escape", "question_mark"), ("escape", "O"), ("escape", "2", "e"), ("escape", "m"),
        ("escape", "x"),
    ):  # fmt: skip
        await pilot.press(*keys)
        await pilot.pause()
        yield " ".join(keys)
    await pilot.press("escape", "ctrl+p")
    await app.workers.wait_for_complete()
    await pilot.pause()
    yield "palette"
    await pilot.press("escape")
    app.say("Saved quay-street.toml")
    app.say("Not saved: the disk is full", "error")
    await pilot.pause()
    yield "notices"


def test_themes_are_all_held_to_it() -> None:
    """Each theme that can be chosen has a least contrast."""
    assert set(LEAST) == set(THEMES)


@pytest.mark.parametrize("theme", THEMES)
async def test_text_stands_out(theme: str) -> None:
    """On every screen all text has the contrast that its theme promises."""
    app = app_on(DEMOS / "quay-street.toml")
    faint: dict[str, set[Any]] = {}
    async with on_screen(app, LARGE) as pilot:
        app.theme = theme
        await checked(pilot)
        async for name in every_screen(pilot):
            unreadable = too_faint(app, LEAST[theme])
            if unreadable:
                faint[name] = unreadable
    assert not faint


async def test_no_color_paints_none(monkeypatch: pytest.MonkeyPatch) -> None:
    """With NO_COLOR nothing is coloured, and the cursor is still to be seen.

    Source: no-color.org: when present and not an empty string, no colour is added.
    """
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_on(DEMOS / "first-rig.toml")
    async with on_screen(app, LARGE) as pilot:
        await checked(pilot)
        async for name in every_screen(pilot):
            for segment in painted(app):
                style = segment.style
                assert style is not None
                assert style.color is None or style.color.is_default, (name, segment)
                assert style.bgcolor is None or style.bgcolor.is_default, (name, segment)
            styles = [segment.style for segment in painted(app) if segment.style is not None]
            marked = any(style.reverse or style.underline for style in styles)
            assert marked or name == "escape question_mark", name


async def test_empty_no_color_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty NO_COLOR is as good as none."""
    monkeypatch.setenv("NO_COLOR", "")
    app = app_on(DEMOS / "first-rig.toml")
    async with on_screen(app, LARGE):
        assert not app.no_color
        assert any(segment.style and segment.style.bgcolor for segment in painted(app))
