"""With `characters = "ascii"` screens paint nothing else, and everything stands where it stood."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from screens import DEMOS, app_on, checked, lines, on_screen, shown

from rigtui.store.kept import settings_path
from rigtui.tui.ascii_only import in_ascii, wants_ascii
from rigtui.tui.views.all_views import VIEWS


@given(st.text(st.characters(exclude_categories=("C",))))
def test_text_stays_as_wide(text: str) -> None:
    """Whatever a name holds, it is ASCII and as wide as the terminal would paint it (wcwidth)."""
    plain = in_ascii(text)
    assert plain.isascii()
    assert len(plain) == sum(map(cell_len, text))


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("┌──┬──┐", "+--+--+"),
        ("350 → 317 █░", "350 > 317 #."),
        ("Café ‹b›", "Cafe <b>"),
        ("雨 x", "?? x"),
        ("plain [b]", "plain [b]"),
    ],
)
def test_likenesses(text: str, plain: str) -> None:
    """Lines, arrows and bars have a likeness; an accent goes; a wide character is two marks."""
    assert in_ascii(text) == plain


async def test_every_screen_in_ascii(tmp_path: Path) -> None:
    """Each view of a demo: the same words in the same places, and nothing but ASCII."""
    settings_path().parent.mkdir(parents=True, exist_ok=True)
    settings_path().write_text('characters = "ascii"\n')
    path = tmp_path / "rig.toml"
    path.write_bytes((DEMOS / "three-piece.toml").read_bytes())
    async with on_screen(app_on(path), (100, 30)) as pilot:
        await checked(pilot)
        for view in VIEWS:
            await pilot.press(view.key)
            await pilot.pause()
            assert shown(pilot.app).isascii()
            assert view.title in lines(pilot.app)[0]


async def test_the_setting_is_put_in_force_at_once(tmp_path: Path) -> None:
    """Settings changed while the program runs: what stands on the screen is painted anew."""
    path = tmp_path / "rig.toml"
    path.write_bytes((DEMOS / "three-piece.toml").read_bytes())
    async with on_screen(app_on(path), (100, 30)) as pilot:
        await checked(pilot)
        assert not shown(pilot.app).isascii()
        settings_path().parent.mkdir(parents=True, exist_ok=True)
        settings_path().write_text('characters = "ascii"\n')
        pilot.app.take_settings()
        await pilot.pause()
        assert shown(pilot.app).isascii()


def test_a_terminal_without_unicode_gets_ascii(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing is set the terminal's encoding decides; what is set comes first."""
    for encoding, wanted in (("utf-8", False), ("latin-1", True), ("ascii", True)):
        monkeypatch.setattr(sys, "__stderr__", io.TextIOWrapper(io.BytesIO(), encoding))
        assert wants_ascii({}) is wanted
        assert wants_ascii({"characters": "all"}) is False
        assert wants_ascii({"characters": "ascii"}) is True
        assert wants_ascii({"characters": 3}) is wanted
