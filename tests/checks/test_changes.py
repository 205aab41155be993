"""Changes inside a song: seconds of feet and hands, and what counts as too late."""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher

from rigtui.checks import Finding, check
from rigtui.checks.demand import ahead_seconds, demands, feet_seconds
from rigtui.checks.finding import RigView
from rigtui.model import Pedal, Player, Rig
from rigtui.model.edits import waive
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
    return [finding for finding in check(board) if finding.rule == rule]


@pytest.mark.parametrize(
    ("presses", "treadles", "seconds"),
    [
        ((), (0, 0), 0),
        ((SWITCH,), (0, 0), 0),  # the foot hovers
        ((WAH,), (0, 0), 0),
        ((SWITCH, LOOP), (0, 0), 0.3),
        ((SWITCH, WAH), (0, 0), 0.9),
        ((WAH, SWITCH), (0, 0), 0.9),  # back to the switcher is as far
        ((SWITCH, DRIVE), (0, 0), 0.9),
        ((SWITCH, LOOP, LOOP), (0, 0), 0.6),
        ((LOOP, LOOP, WAH), (0, 0), 1.2),
        ((WAH, DRIVE), (0, 0), 0.9),
        ((SWITCH,), (0, 1), 0.9),
        ((SWITCH,), (1, 0), 0.9),
        ((SWITCH,), (1, 1), 1.8),
        ((), (0, 1), 0),
    ],
)
def test_presses_in_a_row(presses: Presses, treadles: tuple[int, int], seconds: float) -> None:
    """The first press is free, a further one costs its time, one to or from the switcher more."""
    player = Player(press_seconds=0.4, extra_press_seconds=0.3, far_press_seconds=0.9)
    assert feet_seconds(player, presses, *treadles) == pytest.approx(seconds)


def test_what_is_pressed_ahead_costs_each_its_time() -> None:
    """Two bank steps and a pedal switched early are three presses; the switch is none of them."""
    player = Player(press_seconds=0.4, extra_press_seconds=0.3, far_press_seconds=0.9)
    early = WAH._replace(when="ahead")
    assert ahead_seconds(player, (BANK_UP, BANK_UP, SWITCH, early)) == pytest.approx(1.2)


def test_more_presses_never_take_less_time() -> None:
    """From the second on, a press added makes a change longer, whatever the player's figures.

    Source: Fitts' law and its kin disagree on seconds, not on this order.
    """
    row = (SWITCH, LOOP, LOOP, WAH, DRIVE)
    times = [feet_seconds(Player(), row[:size]) for size in range(1, len(row) + 1)]
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
        ("plain", section("plain", hands="palm mute"), 1.0),
        ("plain", section("plain", hands="capo off", hands_seconds=7), 7),
        ("clean", section("lead", hands="all up", hands_seconds=0), 0.8),
    ],
)
def test_seconds_of_the_hands(before: Any, after: Any, seconds: float) -> None:
    """Volume and pickup take the player's time for each, a new note its own or the player's.

    Source: the rig file format, time for a change.
    """
    board = rig(before, after, player={"hands_seconds": 1.0})
    (demand,) = demands(RigView.of(board), board.songs[0])
    assert demand.hands.seconds == pytest.approx(seconds)


def test_what_a_section_does_not_name_stays_as_it_was() -> None:
    """Volume 5 is in force until a section names another, however many name none."""
    board = rig("clean", "plain", "bare", section("plain", guitar_volume=8))
    assert [demand.hands.words for demand in demands(RigView.of(board), board.songs[0])] == [
        (), (), ("guitar volume to 8",),
    ]  # fmt: skip


def test_a_note_takes_no_time_by_itself() -> None:
    """ "Pick" and "palm mute" say how to play; only what the player gives seconds for takes any."""
    board = rig("clean", section("bare", hands="pick near the neck"))
    (demand,) = demands(RigView.of(board), board.songs[0])
    assert demand.hands.seconds == 0
    assert demand.hands.words == ('"pick near the neck"',)


@pytest.mark.parametrize(
    ("beats", "tempo", "late"), [(0, 60, True), (1, 60, False), (1, 120, True), (2, 120, False)]
)
def test_rest_and_lead_in_are_the_time_there_is(beats: float, tempo: float, late: bool) -> None:
    """1.2 s from the switch to the pedal: too much for 1 s, no more than 2 s or 1.5 s leave."""
    player = {"far_press_seconds": 1.2, "moves_allowed": 2}
    after = section("bare", plus=["wah"], rest_beats=beats)
    assert bool(found(rig("plain", after, tempo=tempo, player=player), "late-change")) is late


def test_a_need_as_long_as_the_time_is_in_time() -> None:
    """Half a second of volume in a beat at 120 fits; at 121 it does not."""
    player = {"volume_seconds": 0.5}
    for tempo, hits in ((120, 0), (121, 1)):
        board = rig("clean", section("bare", guitar_volume=7), tempo=tempo, player=player)
        assert len(found(board, "late-change")) == hits


@pytest.mark.parametrize("tempo", [60, 121, 300])
def test_a_lone_press_is_never_late(tempo: float) -> None:
    """The foot hovers before it, however fast the song and however slow the foot."""
    player = {"press_seconds": 5, "lead_in_beats": 0}
    assert found(rig("plain", "bare", tempo=tempo, player=player), "late-change") == []
    assert found(rig("plain", "plain", tempo=tempo, player=player), "late-change") == []


def test_no_lead_in_leaves_no_time() -> None:
    """A player who starts no sooner than the beat has time for one press, and no more."""
    player = {"lead_in_beats": 0, "moves_allowed": 2}
    (finding,) = found(rig("plain", section("bare", plus=["wah"]), player=player), "late-change")
    assert "there is only 0 s (0 beats at 100)" in finding.message


def treadle_rig(*sections: Any, **keys: Any) -> Rig:
    """The same board with a wah that goes on when the foot rocks it."""
    board = rig(*sections, **keys)
    wah = pedal("wah", "wah", use="treadle")
    return board.model_copy(
        update={
            "pedals": tuple(Pedal(**wah) if pedal.id == "wah" else pedal for pedal in board.pedals)
        }
    )


@pytest.mark.parametrize(
    ("before", "after", "seconds"),
    [
        ("plain", section("bare", plus=["wah"]), 1.0),  # switch, then on to the treadle
        (section("plain", plus=["wah"]), "bare", 1.0),  # off the treadle, then the switch
        ("plain", section("plain", plus=["wah"]), 0),  # nothing to press: the foot goes there early
        (section("plain", plus=["wah"]), section("bare", plus=["wah"]), 0),
        ("plain", section("bare", plus=["wah"], may=["wah"]), 0),
        ("plain", section("bare", plus=["wah"], early=["wah"]), 0),
    ],
)
def test_a_treadle_is_no_press_but_the_foot_must_get_there(
    before: Any, after: Any, seconds: float
) -> None:
    """Its way counts into the time, not into the moves, unless it can wait or be made early."""
    board = treadle_rig(before, after)
    (demand,) = demands(RigView.of(board), board.songs[0])
    assert demand.feet_seconds == pytest.approx(seconds)
    assert demand.on_the_beat <= 1


def test_a_crowded_change_that_is_late_too_is_one_finding() -> None:
    """It says both; with either waived there, the other half stands by itself."""
    crowded = rig("plain", section("bare", plus=["wah"]))
    (finding,) = found(crowded, "crowded-change")
    assert finding.message.endswith("; that needs 1 s, but there is only 0.6 s (1 beat at 100)")
    assert found(crowded, "late-change") == []
    late_waived = waive(crowded, "late-change", finding.where, "rehearsed")
    (finding,) = found(late_waived, "crowded-change")
    assert finding.message.endswith("you allow 1")
    assert [late.waived for late in found(late_waived, "late-change")] == ["rehearsed"]
    crowded_waived = waive(crowded, "crowded-change", finding.where, "two feet")
    (finding,) = found(crowded_waived, "crowded-change")
    assert (finding.waived, finding.message[-11:]) == ("two feet", "you allow 1")
    assert [late.waived for late in found(crowded_waived, "late-change")] == [None]


def test_the_rest_is_counted_in_the_tempo_before_it() -> None:
    """Two beats of rest at 60 and a lead-in are 3 s, though the next section is fast."""
    after = section("bare", plus=["wah"], rest_beats=2, tempo=200)
    board = rig("plain", after, tempo=60)
    (demand,) = demands(RigView.of(board), board.songs[0])
    assert demand.window_seconds == pytest.approx(3)


def test_an_unmapped_section_asks_for_nothing() -> None:
    """No preset, no press: nothing is late into or out of what leaves all as it is."""
    board = rig("plain", section(), "plain", tempo=300)
    assert found(board, "late-change") == []
    assert found(board, "bank-hop") == []


def test_a_bank_is_crossed_calmly_or_in_a_hurry() -> None:
    """Four bars are time to step ahead, two are not, unless there is a rest."""
    calm = rig(section("plain", bars=4), section("far", bars=2), "plain")
    assert [(finding.severity, finding.where) for finding in found(calm, "bank-hop")] == [
        ("warning", "songs.low-fen.sections.2"),
        ("advice", "presets.far"),
    ]
    rests = rig(section("plain", bars=1), section("far", rest_beats=4))
    assert [finding.severity for finding in found(rests, "bank-hop")] == ["advice"]


def test_calm_hops_to_one_preset_are_one_finding() -> None:
    """Three changes to the preset in the other bank and two back to one are two patterns."""
    long = [section(name, bars=8) for name in ("plain", "far", "plain", "far", "plain", "far")]
    hops = found(rig(*long), "bank-hop")
    assert [(hop.where, hop.times) for hop in hops] == [("presets.far", 3), ("presets.plain", 2)]
    assert hops[0].message == (
        "3 changes come to far from another bank, by bank up and switch 1: in low-fen"
    )


def test_foot_and_volume_clash_only_where_nothing_is_late() -> None:
    """The same change is never told twice: as late at 100, as a clash at 30."""
    for tempo, rule, other in (
        (100, "late-change", "hand-foot-clash"),
        (30, "hand-foot-clash", "late-change"),
    ):
        board = rig("clean", "lead", tempo=tempo)
        assert len(found(board, rule)) == 1
        assert found(board, other) == []


def test_a_pickup_or_a_note_alone_is_no_clash() -> None:
    """A flick of the pickup goes with a press, and a note says how to play."""
    for after in (section("bare", pickup="middle"), section("bare", hands="dig in")):
        assert found(rig("clean", after, tempo=30), "hand-foot-clash") == []


def test_a_vamp_with_nothing_to_do_after_it_needs_no_cue() -> None:
    """The same sound goes on: nothing waits for the word."""
    assert found(rig(section("plain", until="now"), "plain"), "open-vamp") == []


def test_an_open_repeat_that_itself_counts_bars_offers_no_cue() -> None:
    """A bar count is no cue to copy."""
    (finding,) = found(rig(section("plain", until="bar 12"), "bare"), "open-vamp")
    assert finding.fix is None
