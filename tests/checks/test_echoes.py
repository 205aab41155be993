"""Delay times and tails on a rig: which pedal counts, which tempo, and the edges of both."""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher

from rigtui.checks import Finding, check
from rigtui.checks.tails import tail_seconds
from rigtui.model import Pedal, Player, Rig


def rig(*sections: Any, tempo: float = 120, role: str = "other", song_keys: Any = None,
        click: bool = False, **delay: Any) -> Rig:  # fmt: skip
    """One song with a delay in loop 1 and a reverb in loop 2."""
    return make_rig(
        switcher=switcher(),
        pedals=[
            pedal("delay", "delay", "fx", name="Delay", **delay),
            pedal("hall", "reverb", "fx", name="Hall", decay_seconds=3),
        ],
        loops=[loop(1, "delay", side="fx"), loop(2, "hall", side="fx")],
        presets=[
            preset("echo", 1, memory=1, role=role),
            preset("both", 1, 2, memory=2),
            preset("dry", memory=3),
        ],
        songs=[song("low-fen", *sections, tempo=tempo, **(song_keys or {}))],
        player={"click": click},
    )


def found(board: Rig, rule: str) -> list[Finding]:
    """What one rule finds."""
    return [finding for finding in check(board) if finding.rule == rule]


@pytest.mark.parametrize(
    ("delay_ms", "tempo", "severity"),
    [
        (512.5, 120, None),  # 2.5 % of a quarter of 500
        (512.6, 120, "advice"),
        (525, 120, "advice"),  # 5 %
        (525.1, 120, "warning"),
        (487.5, 120, None),
        (206, 150, None),  # an eighth of 200, below 240: 6 ms
        (206.1, 150, "advice"),
        (194, 150, None),
        (150, 100, "warning"),  # half of an eighth: nothing is near
        (149, 100, None),  # slapback
    ],
)
def test_how_far_beside_the_beat_is_heard(
    delay_ms: float, tempo: float, severity: str | None
) -> None:
    """2.5 % or, for a short time, 6 ms pass; above that it is advice, above 5 % a warning.

    Without a click only what is above 5 % is heard, and on a lead sound it is advice at the most.

    Source: Friberg and Sundberg, time discrimination in sequences; 5 % is a default.
    """
    for click, role, wanted in (
        (True, "other", severity),
        (False, "other", severity if severity == "warning" else None),
        (True, "lead", "advice" if severity else None),
        (False, "lead", "advice" if severity == "warning" else None),
    ):
        board = rig("echo", tempo=tempo, delay_ms=delay_ms, click=click, role=role)
        assert [finding.severity for finding in found(board, "off-grid")] == (
            [wanted] if wanted else []
        )


def test_a_song_may_have_a_click_of_its_own_or_none() -> None:
    """What the song says goes before what the player says."""
    for mine, its, hits in ((False, True, 1), (True, False, 0), (True, None, 1), (False, None, 0)):
        keys = {} if its is None else {"click": its}
        board = rig("echo", delay_ms=515, click=mine, song_keys=keys)
        assert len(found(board, "off-grid")) == hits


def test_a_song_is_judged_by_its_heaviest_section() -> None:
    """A lead sound farther off the beat does not hide a rhythm sound that is off it too."""
    board = rig("echo", section("both", tempo=104, bars=8), delay_ms=500, role="lead")
    (finding,) = found(board, "off-grid")
    assert (finding.severity, "at 104" in finding.message) == ("warning", True)
    board = rig(section("echo", tempo=104, bars=8), section("both", tempo=113, bars=8),
                delay_ms=500, role="lead")  # fmt: skip
    (finding,) = found(board, "off-grid")
    assert (finding.severity, "at 113" in finding.message) == ("warning", True)


def test_a_compound_beat_may_be_the_echo() -> None:
    """In 6/8 at 60 dotted beats a second between echoes is the beat itself; 750 ms are a triplet's.

    A dotted quarter at 60 is 1000 ms, a quarter 667, a dotted eighth 500.
    """
    jig = {"meter": "6/8"}
    for delay_ms, hits in ((1000, 0), (667, 0), (500, 0), (750, 1)):
        board = rig("echo", tempo=60, song_keys=jig, delay_ms=delay_ms)
        assert len(found(board, "off-grid")) == hits


def test_one_finding_a_song_for_the_tempo_that_fits_least() -> None:
    """Of three tempi in a song the worst is told, once."""
    slow, fast = section("echo", tempo=110, bars=8), section("echo", tempo=118, bars=8)
    (finding,) = found(rig(fast, slow, "echo", delay_ms=500), "off-grid")
    assert "at 110" in finding.message


def test_a_slowing_end_has_no_grid() -> None:
    """Four bars with a tempo of their own are left alone; five are not."""
    for bars, hits in ((4, 0), (5, 1)):
        board = rig("echo", section("echo", bars=bars, tempo=104), delay_ms=500)
        assert len(found(board, "off-grid")) == hits


def test_one_time_is_told_once_for_a_pedal() -> None:
    """A second song at the same tempo is no second time; one that is merely near is none either."""
    board = rig("echo", delay_ms=500)
    rows = [song(f"s{at}", "echo", tempo=tempo) for at, tempo in enumerate((120, 121, 122))]
    near = make_rig(
        pedals=[pedal("delay", "delay", "fx", delay_ms=500)],
        loops=[loop(1, "delay", side="fx")],
        presets=[preset("echo", 1)],
        songs=rows,
    )
    assert found(board, "one-time-many-songs") == []
    assert found(near, "one-time-many-songs") == []


@pytest.mark.parametrize(
    ("keys", "tapped", "seconds"),
    [
        ({"delay_ms": 500, "feedback": 0.3}, 700, 2.0),
        ({"delay_ms": 500, "feedback": 0}, 700, 0.5),
        ({"feedback": 0.3, "tap": True}, 700, 2.8),
        ({"delay_ms": 500, "feedback": 0.3, "tap": True, "max_delay_ms": 600}, 700, 2.4),
        ({"decay_seconds": 9}, 700, 6.0),
        ({"delay_ms": 500, "feedback": 0.3, "decay_seconds": 9}, 700, 6.0),
        ({"delay_ms": 500}, 700, None),
        ({"feedback": 0.9}, 700, None),
        ({}, 700, None),
    ],
)
def test_the_tail_of_a_pedal(keys: dict[str, Any], tapped: float, seconds: float | None) -> None:
    """Echoes to -40 dB, reverb to -40 dB, the longer of the two; unknown where a figure lacks."""
    pedal = Pedal(id="p", kind="delay", side="fx", **keys)
    tail = tail_seconds(pedal, Player(), tapped)
    assert tail == (None if seconds is None else pytest.approx(seconds))


def test_a_change_that_cuts_two_pedals_is_one_finding() -> None:
    """Both are named, each with its own tail: 4 echoes of 500 ms, two thirds of 3 s."""
    (finding,) = found(rig("both", "dry", delay_ms=500, feedback=0.3), "tail-cut")
    assert "Delay (sounds on for 2 s) and Hall (sounds on for 2 s)" in finding.message


@pytest.mark.parametrize(("beats", "hits"), [(3.7, 1), (3.8, 0), (4, 0), (5, 0)])
def test_a_rest_as_long_as_the_tail_is_enough(beats: float, hits: int) -> None:
    """Two seconds of echoes need four beats at 120; a tenth of a second less nobody misses."""
    board = rig("echo", section("dry", rest_beats=beats), delay_ms=500, feedback=0.3)
    assert len(found(board, "tail-cut")) == hits


def test_a_tapped_delay_repeats_its_own_note() -> None:
    """Dotted eighths at 120 are 375 ms: 4 echoes are 1.5 s, where 4 beats would be 2 s."""
    keys = {"feedback": 0.3, "tap": True}
    for more, seconds in (({}, "2 s"), ({"subdivision": "3/16"}, "1.5 s")):
        (finding,) = found(rig("echo", "dry", **keys, **more), "tail-cut")
        assert f"(sounds on for {seconds})" in finding.message


def test_what_is_unknown_is_not_guessed() -> None:
    """Without feedback there is no tail to cut."""
    assert found(rig("echo", "dry", delay_ms=500), "tail-cut") == []


def test_an_unmapped_section_leaves_the_echo_on() -> None:
    """A section without a preset changes nothing; the cut comes with the next that has one."""
    board = rig("echo", section(), "dry", delay_ms=500, feedback=0.3)
    assert [finding.where for finding in found(board, "tail-cut")] == ["songs.low-fen.sections.2"]


def test_old_echoes_die_while_the_loop_is_open() -> None:
    """3.5 s of echoes outlast one bar of 2 s, or a rest of 1 s and a bar, but not two bars."""
    keys = {"delay_ms": 500, "feedback": 0.5}
    for bars, rest, hits in ((1, 0, 1), (1, 2, 1), (1, 3, 0), (2, 0, 0)):
        board = rig("echo", section("dry", bars=bars, rest_beats=rest), "echo", **keys)
        assert len(found(board, "stale-echo")) == hits, (bars, rest)


def test_a_pedal_outside_the_loops_keeps_no_old_echoes() -> None:
    """Its own switch stops its input and its output alike, so it is not told."""
    board = make_rig(
        pedals=[pedal("delay", "delay", "fx", use="foot", delay_ms=500, feedback=0.5)],
        presets=[preset("dry")],
        songs=[
            song(
                "low-fen",
                section("dry", plus=["delay"]),
                section("dry", bars=1),
                section("dry", plus=["delay"]),
            )
        ],
    )
    assert found(board, "stale-echo") == []
    assert len(found(board, "tail-cut")) == 1


def test_a_tapped_delay_needs_its_taps_only_where_it_sounds() -> None:
    """A new tempo under a dry sound asks nobody to tap; once the delay is back, it does."""
    board = rig("echo", section("dry", tempo=80), section("echo", tempo=80), tap=True)
    assert [finding.where for finding in found(board, "tap-window")] == ["songs.low-fen.sections.2"]
