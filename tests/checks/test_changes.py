"""Changes inside a song: seconds of feet and hands, and what counts as too late."""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher

from rigtui.checks import Finding, check
from rigtui.checks.demand import demands, press_seconds
from rigtui.checks.finding import View
from rigtui.model import Player, Rig
from rigtui.moves import Press, Presses


def rig(*sections: Any, tempo: float = 100, player: Any = None, **more: Any) -> Rig:
    """One song on a board of two presets in one bank and one in the next, and a wah."""
    return make_rig(
        switcher=switcher(8, 4),
        pedals=[pedal("wah", "wah"), pedal("comp"), pedal("drive")],
        loops=[loop(1, "comp"), loop(2, "drive")],
        presets=[
            preset("clean", 1, memory=1, pickup="neck", guitar_volume=5),
            preset("lead", 2, memory=2, pickup="bridge", guitar_volume=10),
            preset("plain", 1, memory=3),
            preset("bare", 2, memory=4),
            preset("far", 2, memory=5),
        ],
        songs=[song("low-fen", *sections, tempo=tempo)],
        player=player or {},
        **more,
    )


BANK_UP, SWITCH, LOOP = Press("bank", "up", "ahead"), Press("switch", 1), Press("loop", 2)
WAH, DRIVE = Press("pedal", "wah"), Press("channel", "drive")


def found(board: Rig, rule: str) -> list[Finding]:
    """What one rule finds."""
    return [one for one in check(board) if one.rule == rule]


@pytest.mark.parametrize(
    ("presses", "seconds"),
    [
        ((), 0),
        ((SWITCH,), 0.4),
        ((WAH,), 0.4),
        ((SWITCH, LOOP), 0.7),
        ((SWITCH, WAH), 1.3),
        ((SWITCH, DRIVE), 1.3),
        ((BANK_UP, BANK_UP, SWITCH), 1.0),
        ((LOOP, LOOP, WAH), 1.6),
    ],
)
def test_presses_in_a_row(presses: Presses, seconds: float) -> None:
    """The first press costs its time, a further one its own, one off the switcher the far one's."""
    player = Player(press_seconds=0.4, extra_press_seconds=0.3, far_press_seconds=0.9)
    assert press_seconds(player, presses) == pytest.approx(seconds)


def test_more_presses_never_take_less_time() -> None:
    """A press added makes a change longer, whatever the player's figures.

    Source: Fitts' law and its kin disagree on seconds, not on this order.
    """
    row = (BANK_UP, BANK_UP, SWITCH, LOOP, WAH, DRIVE)
    times = [press_seconds(Player(), row[:size]) for size in range(len(row) + 1)]
    assert times == sorted(times)
    assert len(set(times)) == len(times)


@pytest.mark.parametrize(
    ("before", "after", "seconds"),
    [
        ("clean", "lead", 0.8),  # volume 0.5 and pickup 0.3
        ("lead", "lead", 0),
        ("plain", "lead", 0),  # where the guitar stands is not known
        ("clean", section("bare", guitar_volume=7), 0.5),
        ("clean", section("bare", pickup="middle"), 0.3),
        ("clean", section("lead", guitar_volume=5), 0.3),
        ("clean", section("bare", hands="pick near the neck"), 1.0),
        ("clean", section("lead", hands="all up"), 1.0),  # the note says what the figures say
        ("plain", section("plain", hands="palm mute"), 0),  # no foot moves: how to play, no move
    ],
)
def test_seconds_of_the_hands(before: Any, after: Any, seconds: float) -> None:
    """Volume, pickup and a new note take the player's time for each, where something changes."""
    board = rig(before, after, player={"hands_seconds": 1.0})
    (demand,) = demands(View.of(board), board.songs[0])
    assert demand.hands.seconds == pytest.approx(seconds)


def test_what_a_section_does_not_name_stays_as_it_was() -> None:
    """Volume 5 is in force until a section names another, however many name none."""
    board = rig("clean", "plain", "bare", section("plain", guitar_volume=8))
    assert [one.hands.words for one in demands(View.of(board), board.songs[0])] == [
        (), (), ("guitar volume to 8",),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("beats", "tempo", "late"), [(0, 60, True), (1, 60, True), (2, 60, False), (2, 120, True)]
)
def test_rest_and_lead_in_are_the_time_there_is(beats: float, tempo: float, late: bool) -> None:
    """1.5 s of presses: too much for 1 s, tight in 2 s only above 0.8, free in 3 s at 60."""
    player = {"far_press_seconds": 1.2}
    after = section("bare", plus=["wah"], rest_beats=beats)
    assert bool(found(rig("plain", after, tempo=tempo, player=player), "late-change")) is late


def test_one_press_may_fill_its_beat() -> None:
    """0.5 s of 0.5 s at 120 is one press as the beat comes; at 121 it is late."""
    assert found(rig("plain", "bare", tempo=120), "late-change") == []
    assert len(found(rig("plain", "bare", tempo=121), "late-change")) == 1


def test_no_lead_in_leaves_no_time() -> None:
    """A player who starts no sooner than the beat is late with every press."""
    (one,) = found(rig("plain", "bare", player={"lead_in_beats": 0}), "late-change")
    assert "there is only 0 s (0 beats at 100)" in one.message


def test_the_rest_is_counted_in_the_tempo_before_it() -> None:
    """Two beats of rest at 60 and a lead-in are 3 s, though the next section is fast."""
    after = section("bare", plus=["wah"], rest_beats=2, tempo=200)
    board = rig("plain", after, tempo=60)
    (demand,) = demands(View.of(board), board.songs[0])
    assert demand.window_seconds == pytest.approx(3)


def test_an_unmapped_section_asks_for_nothing() -> None:
    """No preset, no press: nothing is late into or out of what leaves all as it is."""
    board = rig("plain", section(), "plain", tempo=300)
    assert found(board, "late-change") == []
    assert found(board, "bank-hop") == []


def test_a_bank_is_crossed_calmly_or_in_a_hurry() -> None:
    """Four bars are time to step ahead, two are not, unless there is a rest."""
    calm = rig(section("plain", bars=4), section("far", bars=2), "plain")
    assert [one.severity for one in found(calm, "bank-hop")] == ["warning", "advice"]
    rests = rig(section("plain", bars=1), section("far", rest_beats=4))
    assert [one.severity for one in found(rests, "bank-hop")] == ["advice"]


def test_foot_and_hand_clash_only_where_nothing_is_late() -> None:
    """The same change is never told twice: as late at 100, as a clash at 30."""
    for tempo, rule, other in (
        (100, "late-change", "hand-foot-clash"),
        (30, "hand-foot-clash", "late-change"),
    ):
        board = rig("clean", "lead", tempo=tempo)
        assert len(found(board, rule)) == 1
        assert found(board, other) == []


def test_a_vamp_with_nothing_to_do_after_it_needs_no_cue() -> None:
    """The same sound goes on: nothing waits for the word."""
    assert found(rig(section("plain", until="now"), "plain"), "open-vamp") == []


def test_an_open_repeat_that_itself_counts_bars_offers_no_cue() -> None:
    """A bar count is no cue to copy."""
    (one,) = found(rig(section("plain", until="bar 12"), "bare"), "open-vamp")
    assert one.fix is None
