"""Whatever a valid rig holds, the check of it ends, and says the same thing twice."""

from __future__ import annotations

from typing import Any

from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from moves.rigs_drawn import Data, rigs

from rigtui.checks import check
from rigtui.model import rig_from_data
from rigtui.model.text import visible

KINDS = ("gate", "delay", "reverb", "distortion", "modulation", "tuner", "wah", "other")
ROLES = ("clean", "rhythm", "high-gain", "lead", "ambient", "other")


def _some(**keys: st.SearchStrategy[Any]) -> st.SearchStrategy[Data]:
    return st.fixed_dictionaries({}, optional=keys)


_PEDAL = _some(
    kind=st.sampled_from(KINDS),
    name=st.sampled_from(("", "Noise gate", "[red]\x1b[2J")),
    delay_ms=st.floats(0.001, 60_000),
    feedback=st.floats(0, 1, exclude_max=True),
    max_delay_ms=st.floats(0.001, 2000),
    tap=st.booleans(),
    decay_seconds=st.floats(0.001, 60),
    trails=st.booleans(),
)
_PRESET = _some(
    role=st.sampled_from(ROLES),
    pickup=st.sampled_from(("", "neck", "bridge")),
    channel=st.sampled_from(("", "clean", "drive", "lead")),
    guitar_volume=st.floats(0, 10),
)
_SECTION = _some(
    tempo=st.floats(20, 300),
    bars=st.floats(0.01, 100),
    meter=st.sampled_from(("4/4", "6/8", "7/8", "2/2")),
    name=st.sampled_from(("Part", "\x1b[31mVerse\u202e", "")),
    rest_beats=st.floats(0, 16),
    pickup=st.sampled_from(("", "neck")),
    cue=st.sampled_from(("", "bar 4", "the nod")),
    until=st.sampled_from(("", "bar 8", "\x07the nod")),
    hands=st.sampled_from(("", "two\nlines")),
    guitar_volume=st.floats(0, 10),
)
_SONG = _some(
    tempo=st.floats(20, 300),
    meter=st.sampled_from(("4/4", "6/8", "5/4")),
    beat=st.sampled_from(("1/4", "3/8", "1/2")),
    capo=st.integers(0, 5),
    gap_seconds=st.floats(0, 60),
    tuning=st.sampled_from(("", "E A D G B E", "D A D G B E", "open G")),
    guitar=st.sampled_from(("", "main", "\x9bspare")),
    title=st.sampled_from(("", "Low\x00 Fen")),
)
_PLAYER = _some(
    press_seconds=st.floats(0, 5),
    hands_seconds=st.floats(0, 5),
    gap_seconds=st.floats(0, 60),
    lead_in_beats=st.floats(0, 4),
    moves_allowed=st.integers(0, 3),
    tail_floor_db=st.floats(0.1, 120),
)


@st.composite
def full_rigs(draw: st.DrawFn) -> Data:
    """A drawn rig with every kind of figure that rules look at."""
    data = draw(rigs())
    for table, keys in (("pedals", _PEDAL), ("presets", _PRESET), ("songs", _SONG)):
        for row in data[table]:
            row |= draw(keys)
    for song in data["songs"]:
        for section in song["sections"]:
            section |= draw(_SECTION)
    for setlist in data["setlists"]:
        for part in setlist["sets"]:
            part |= draw(_some(slot_minutes=st.floats(0.1, 100)))
    data["amp"]["drive_channels"] = draw(st.sampled_from(([], ["drive"], ["clean", "nowhere"])))
    return data | {"player": draw(_PLAYER)}


@examples(50)
@given(full_rigs())
def test_a_check_never_raises_and_never_changes_its_mind(data: Data) -> None:
    """Two rigs of the same data, sharing nothing, have the same findings in the same order."""
    assert check(rig_from_data(data)) == check(rig_from_data(data))


@examples(40)
@given(full_rigs())
def test_nothing_of_a_file_reaches_the_screen_unseen(data: Data) -> None:
    """Messages and labels of fixes hold no control character, whatever the names hold."""
    for finding in check(rig_from_data(data)):
        for words in (finding.message, finding.fix.label if finding.fix else ""):
            assert words == visible(words)


@examples(40)
@given(full_rigs())
def test_every_fix_leads_to_a_rig_that_can_be_checked(data: Data) -> None:
    """An offered fix is an edit that works, and what comes of it holds together."""
    rig = rig_from_data(data)
    for finding in check(rig):
        if finding.fix is not None:
            mended = finding.fix.edit(rig)
            assert mended != rig, finding
            check(mended)
