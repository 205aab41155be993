"""A rig from nothing on the screen: five steps, each left and taken up again."""

from __future__ import annotations

import re
from typing import Any

import pytest
from screens import DEMOS, SMALL, app_on, lines, on_screen, shown, typed

from rigtui.checks import check
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.tui.app import RigApp
from rigtui.tui.widgets.dialogs import Form
from rigtui.tui.widgets.entries import Entries

PEDALS = (
    "Strobe tuner", "Wah", "Red one: comp", "Green drive", "Hot distortion", "Lift boost",
    "Hush gate", "Wide chorus", "Tape echo", "Big hall",
)  # fmt: skip
SOUNDS = (
    "Clean",
    "Chorus clean: wide",
    "Crunch: green, DRIVE",
    "Heavy: hot, hush",
    "Lead: hot, tape",
)


def rig_of(app: RigApp) -> Rig:
    """The rig as it is now."""
    assert app.document is not None
    return app.document.rig


async def settled(pilot: Any) -> None:
    """Let one question go and the next one come."""
    for _ in range(4):
        await pilot.pause()


async def listed(pilot: Any, *names: str) -> None:
    """Type a list line by line and go on."""
    for name in names:
        await pilot.press(*keys(name), "enter")
    await pilot.press("enter")
    await settled(pilot)


def keys(text: str) -> list[str]:
    """The keys that type a text with a colon."""
    return [key for char in text for key in (["colon"] if char == ":" else typed(char))]


async def begun(app: RigApp, pilot: Any) -> None:
    """Choose a new rig on the start screen."""
    await pilot.press("n")
    await settled(pilot)
    assert app.view_id == "board"
    assert "Step 1 of 5: the amp" in shown(app)


@pytest.mark.parametrize("size", [SMALL, pytest.param((120, 40), marks=pytest.mark.long)])
async def test_ten_pedals_and_six_loops_from_nothing(size: tuple[int, int]) -> None:
    """It ends on the Board with a rig that has no error finding, made by keys alone."""
    app = RigApp(None)
    async with on_screen(app, size) as pilot:
        await begun(app, pilot)
        await pilot.press(*typed("Old combo"), "down", "down", *typed("clean, drive"), "enter")
        await settled(pilot)
        await pilot.press(*typed("Stompbox"), "enter")
        await settled(pilot)
        await listed(pilot, *PEDALS)
        assert "Step 4 of 5" in shown(app)
        await pilot.press("enter")
        await settled(pilot)
        await listed(pilot, *SOUNDS)
        rig = rig_of(app)
        assert [pedal.kind for pedal in rig.pedals] == [
            "tuner", "wah", "compressor", "overdrive", "distortion", "boost", "gate", "modulation",
            "delay", "reverb",
        ]  # fmt: skip
        assert rig.chain.front == (
            "strobe-tuner", "wah", "red-one", 1, 2, 3, 4, "lift-boost",
        )  # fmt: skip
        assert [loop.pedals for loop in rig.loops] == [
            ("green-drive",), ("hot-distortion",), ("hush-gate",), ("wide-chorus",),
            ("tape-echo",), ("big-hall",),
        ]  # fmt: skip
        assert [(row.role, row.loops, row.memory) for row in rig.presets] == [
            ("clean", (), 1), ("clean", (4,), 2), ("rhythm", (1,), 3), ("high-gain", (2, 3), 4),
            ("lead", (2, 5), 5),
        ]  # fmt: skip
        assert [row.channel for row in rig.presets] == ["clean", "clean", "drive", "clean", "clean"]
        assert [finding for finding in check(rig) if finding.severity == "error"] == []
        assert app.view_id == "board"
        assert not isinstance(app.screen, (Form, Entries))


async def put_elsewhere(pilot: Any, outside: bool) -> None:
    """Put the second pedal outside the loops or into one, and go on."""
    entries = pilot.app.screen
    assert isinstance(entries, Entries)
    await pilot.press("down")
    while entries.entries[1].choice.isdecimal() == outside:
        await pilot.press("left")
    await pilot.press("enter")
    await settled(pilot)


async def test_back_a_step_keeps_what_was_typed() -> None:
    """A pedal that stands outside can't be part of a sound: back in the step before it gets a loop,
    and the line that was refused is there again. Each line shows what it was taken for."""
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        await begun(app, pilot)
        await pilot.press(*typed("Old combo"), "down", "down", *typed("clean, drive"), "enter")
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        await listed(pilot, "Low drive", "Lift boost")
        await put_elsewhere(pilot, outside=True)
        await pilot.press(*keys("Crunch: low"), "enter")
        assert re.search("Crunch: Low drive; amp clean +‹ role: rhythm ›", shown(app))
        await pilot.press(*keys("Lead: low, boost, drive"), "enter")
        assert "Shift+Tab" in " ".join(shown(app).split())
        await pilot.press("shift+tab")
        await settled(pilot)
        assert "Step 4 of 5" in shown(app)
        await put_elsewhere(pilot, outside=False)
        assert "Step 5 of 5" in shown(app)
        await pilot.press("enter")
        assert "Lead: Low drive and Lift boost; amp drive" in shown(app)
        await pilot.press("enter")
        await settled(pilot)
        assert [len(row.loops) for row in rig_of(app).presets] == [1, 2]


async def test_left_at_a_step_and_taken_up_again() -> None:
    """Esc keeps what is done; w goes through the steps again with what the rig holds."""
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        await begun(app, pilot)
        await pilot.press(*typed("Old combo"), "enter")
        await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert rig_of(app).amp.name == "Old combo"
        assert rig_of(app).switcher is None
        await pilot.press("w")
        await settled(pilot)
        assert "Old combo" in shown(app)
        await pilot.press("enter")
        await settled(pilot)
        assert "Step 2 of 5" in shown(app)
        await pilot.press("enter")
        await settled(pilot)
        await listed(pilot, "Green drive", "Tape echo")
        await pilot.press("escape")
        await settled(pilot)
        await pilot.press("w", "enter")
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        assert "Green drive" in shown(app)
        await pilot.press("ctrl+x", "right", "escape")
        await settled(pilot)
        assert not isinstance(app.screen, (Form, Entries))
        assert [(pedal.label, pedal.kind) for pedal in rig_of(app).pedals] == [
            ("Tape echo", "reverb")
        ]


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("Lead: fuzz", "there is no pedal fuzz"), ("Lead: drive", "drive fits"),
        (": green", "needs a name"), ("Lead: wah", "Wah stands outside"),
    ],
)  # fmt: skip
async def test_a_sound_that_cannot_be(line: str, fault: str) -> None:
    """The line stays to be put right, with the reason under it."""
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        await begun(app, pilot)
        for _ in range(2):
            await pilot.press("enter")
            await settled(pilot)
        await listed(pilot, "Green drive", "Red drive", "Wah")
        await pilot.press("enter")
        await settled(pilot)
        await pilot.press(*keys(line), "enter")
        await settled(pilot)
        assert fault in shown(app)
        assert rig_of(app).presets == ()


async def test_what_a_sound_is_made_of_is_said_and_names_keep_clear_of_choices() -> None:
    """The amp's channel may stand among the pedals; the beginning of a word goes before its end."""
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        await begun(app, pilot)
        await pilot.press("down", "down", *typed("clean, dirty"), "enter")
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        await listed(pilot, "A pedal with quite a long name indeed: fuzz", "Low drive", "Slow echo")
        assert re.search("A pedal with quite a long name .*… +‹ ", shown(app))
        await pilot.press("enter")
        await settled(pilot)
        said = str(app.screen.query_one(".dialog--note").render())
        assert "You can name the amp's channel too: clean or dirty." in said
        assert "like Lead: drive, echo, dirty" in shown(app)
        await listed(pilot, "Lead: low, slow, dirty")
        made = rig_of(app).presets[0]
        assert (made.channel, len(made.loops)) == ("dirty", 2)


@pytest.mark.parametrize("opens", [("a",), ("w",), ("x",), ("ctrl+p",)])
async def test_no_key_is_offered_that_does_nothing(opens: tuple[str, ...]) -> None:
    """While a question is asked the last line is empty; F1 tells of the question's own keys."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("1", "down", "down", "down")
        await pilot.pause()
        assert "? Help" in lines(app)[-1]
        await pilot.press(*opens)
        await settled(pilot)
        assert lines(app)[-1].strip() == ""
        await pilot.press("f1")
        await settled(pilot)
        told = shown(app)
        assert not [
            word for word in ("cursor", "Focus", "Select all", "suggestion") if word in told
        ]
        assert ("write over all" in told) == (opens != ("x",))
        await pilot.press("escape", "escape")
        await settled(pilot)
        assert "? Help" in lines(app)[-1]


async def test_steps_are_undone_one_by_one() -> None:
    """Each is one step of undo; what each of them made is gone with it."""
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        await begun(app, pilot)
        await pilot.press(*typed("Old combo"), "enter")
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        await listed(pilot, "Green drive")
        await pilot.press("enter")
        await settled(pilot)
        await listed(pilot, "Crunch: green")
        assert lookup(rig_of(app)).loop_of == {"green-drive": 1}
        for left in (1, 1, 0):
            await pilot.press("u")
            await pilot.pause()
            assert len(rig_of(app).pedals) == left
        await pilot.press("u")
        await pilot.pause()
        assert rig_of(app).switcher is None
