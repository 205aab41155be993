"""Where a tempo is tapped in: once, while it can still be heard that it is another one."""

from __future__ import annotations

from datetime import date
from typing import Any

from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.model import Rig
from rigtui.moves.taps import Taps
from rigtui.paper import setlist_for, sheet_of
from rigtui.sheets.plain import text


def rig_of(*songs: Any, **more: Any) -> Rig:
    """A rig with one echo that is tapped, in a loop, and one that is not, outside."""
    return make_rig(
        switcher=switcher(4, 2),
        pedals=[
            pedal("echo", "delay", tap=True), pedal("slap", "delay"),
            *more.get("pedals", []),
        ],
        loops=[loop(1, "echo")],
        chain={"front": [1, "slap"]},
        presets=[preset("dry", memory=1), preset("wet", 1, memory=2)],
        songs=songs,
        setlists=[setlist("night", *(row["id"] for row in songs))],
    )  # fmt: skip


def due(rig: Rig) -> list[list[int]]:
    """The sections that are tapped in, song by song."""
    taps = Taps(rig)
    return [taps.due(row) for row in rig.songs]


def test_a_song_that_is_wet_somewhere_is_tapped_before_it() -> None:
    """Before the song, though the echo comes later; the next, nearly as fast, needs none."""
    rig = rig_of(
        song("dry", "dry", section("dry", plus=["slap"]), tempo=90),
        song("wet", "dry", "wet", tempo=120),
        song("near", "wet", tempo=122),
        song("far", "wet", tempo=126),
    )
    assert due(rig) == [[], [0], [], [0]]


def test_a_tempo_of_its_own_is_tapped_where_it_comes() -> None:
    """And again where the song's tempo comes back; not while the echo is off."""
    rig = rig_of(
        song("fen", "wet", section("wet", tempo=90), section("dry", tempo=60), "wet", tempo=120)
    )
    assert due(rig) == [[0, 1, 3]]


def test_a_section_without_a_preset_leaves_the_echo_on() -> None:
    """So its own tempo is tapped in as well."""
    rig = rig_of(song("fen", "wet", section(tempo=80), tempo=120))
    assert due(rig) == [[0, 1]]


def test_the_beat_counts_and_not_the_number() -> None:
    """80 dotted quarters are 120 quarters: the echo hears no difference."""
    rig = rig_of(
        song("straight", "wet", tempo=120), song("jig", "wet", tempo=80, meter="6/8"),
        song("even", "wet", tempo=80),
    )  # fmt: skip
    assert due(rig) == [[0], [], [0]]


def test_every_sheet_of_the_stage_says_it() -> None:
    """Set sheet, song sheets and deputy pack: before the song, and at the section."""
    rig = rig_of(song("fen", "wet", section("wet", name="Slow", tempo=90), tempo=120))
    for kind in ("set", "floor", "deputy"):
        made = sheet_of(rig, kind, setlist_for(rig, kind, None), (), date(2027, 3, 1))
        shown = " ".join(text(made, 200).split())
        assert "tap 120" in shown, kind
        assert "tap 90" in shown, kind
