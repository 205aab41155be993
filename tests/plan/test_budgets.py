"""Time is kept inside one song too, and no table grows with all pairs of a long evening.

What a file may hold at most is far beyond any evening (`rigtui.model.validate`), so here small
evenings stand for it: clocks that run out after so many looks, and tables measured in bytes.
"""

from __future__ import annotations

import random
import tracemalloc
from collections.abc import Callable

import pytest
from rigs_made import loop, make_rig, pedal, preset, song, switcher

from rigtui.model import Rig
from rigtui.moves import changes_as_written, count_song
from rigtui.plan.answer import plan
from rigtui.plan.ask.channels import ANY_CHANNEL
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Status, Stopped
from rigtui.plan.presets import colours, cubes, toggled
from rigtui.plan.presets.colours import fewest_presets
from rigtui.plan.presets.cubes import Cube, SongCubes, coloured, greedy_clique
from rigtui.plan.presets.toggled import Toggled, with_toggles
from rigtui.plan.route.planner import least_held, plan_route
from rigtui.plan.words.notes import notes


class Clock(Control):
    """A control whose time is up after it was asked so often."""

    def __init__(self, looks: int) -> None:
        super().__init__()
        self.looks = looks

    @property
    def over(self) -> bool:
        """Whether the looks are used up."""
        self.looks -= 1
        return self.looks < 0

    def finishing(self, seconds: float) -> Control:
        """The same clock: nothing is left for rounding off."""
        return self


def long_song(sections: int = 80, *, toggling: bool = False) -> Rig:
    """One song of many sections over many banks, mapped wastefully: presets are stored twice."""
    draw = random.Random(7)
    names = [f"p{at}" for at in range(4)]
    masks = [draw.getrandbits(4) for _ in range(8)] * 2
    return make_rig(
        switcher=switcher(16, 4, loop_switches=toggling),
        pedals=[pedal(name) for name in names],
        loops=[loop(at + 1, name) for at, name in enumerate(names)],
        chain={"front": [1, 2, 3, 4], "fx": []},
        presets=[
            preset(f"s{nth}", *[at + 1 for at in range(4) if mask >> at & 1], memory=nth + 1)
            for nth, mask in enumerate(masks)
        ],
        songs=[song("long", *[f"s{draw.randrange(16)}" for _ in range(sections)])],
    )


def test_a_route_stops_inside_a_song() -> None:
    """The clock runs out within the only song: it stays as written, under a bound that holds."""
    rig = long_song()
    whole = plan_route(rig)
    made = plan_route(rig, control=Clock(40))
    assert whole.moves_after is not None
    assert whole.moves_after < whole.moves_before
    assert made.status is Status.TIMED_OUT
    assert made.rig == rig
    assert made.lower_bound == count_song(rig, rig.songs[0]).least_moves <= whole.moves_after
    (row,) = made.details["songs"]
    written = changes_as_written(rig, rig.songs[0])
    assert [step["presses"] for step in row["walk"]] == [
        list(map(str, change.presses)) for change in written
    ]
    assert all(len(step["words"]) <= len(step["presses"]) for step in row["walk"])
    assert row["least_held"] == made.lower_bound
    assert made.details["walks"] == []


def test_a_route_with_time_enough_is_walked() -> None:
    """Looks enough for the song alone: it is adopted, though the evening is not walked whole."""
    rig = long_song(30)
    asked = Question("route", first="moves")
    made = plan_route(rig, asked, Clock(70))
    assert made.lower_bound == least_held(rig, rig.songs[0])
    assert made.moves_after == plan_route(rig, asked).moves_after


def played(sections: int, loops: int, seed: int = 3, times: int = 1) -> list[SongCubes]:
    """One song whose sections each want another set of loops; every press weighs the same."""
    draw = random.Random(seed)
    full = (1 << loops) - 1
    masks = [draw.getrandbits(loops) for _ in range(sections)]
    cubes = tuple(Cube(mask, full ^ mask, ANY_CHANNEL) for mask in masks)
    return [SongCubes(times, cubes, prices=(1,) * sections)]


def peak_megabytes(work: Callable[[], object]) -> float:
    """The most memory that some work takes at once."""
    tracemalloc.start()
    try:
        work()
        return tracemalloc.get_traced_memory()[1] / 1e6
    finally:
        tracemalloc.stop()


def test_choosing_presets_to_toggle_from_keeps_one_layer() -> None:
    """120 sections, as many sounds: a table for each section would be 14 MB, one is 0.1 MB."""
    songs = played(120, 12)
    assert peak_megabytes(lambda: with_toggles(songs, [], 116, 12, Control())) < 4


@pytest.mark.parametrize("looks", [0, 10, 200])
def test_presets_to_toggle_from_when_the_time_is_up(looks: int) -> None:
    """There is a plan all the same, from the sounds heard most; with time it is no worse."""
    songs = [*played(40, 6), *played(4, 6, times=5)]
    soon, later = (with_toggles(songs, [], 4, 6, its) for its in (Clock(looks), Control()))
    assert isinstance(soon, Toggled)
    assert isinstance(later, Toggled)
    assert len(soon.presets) <= 4
    assert later.recalls <= soon.recalls
    if not looks:
        assert {preset.on for preset in soon.presets} <= {preset.on for preset in songs[1].cubes}


def test_the_player_stops_the_choice_at_once() -> None:
    """A cancel is no time limit: nothing more is worked out."""
    with pytest.raises(Stopped):
        with_toggles(played(40, 6), [], 4, 6, Control(cancelled=lambda: True))


def test_too_many_sounds_to_weigh_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where not every sound is weighed as a preset the plan says how many were left out."""
    monkeypatch.setattr(toggled, "_MOST_STEPS", 1.0)
    rig = long_song(40, toggling=True)
    question = Question("loops", memories=3, pins=dict.fromkeys(("p0", "p1", "p2", "p3"), "in"))
    made = plan(rig, question)
    left_out = made.details["sounds_left_out"]
    used = {part.preset for part in rig.songs[0].sections}
    sounds = {frozenset(row.loops) for row in rig.presets if row.id in used}
    assert 0 < left_out == len(sounds) - 3
    assert any(
        f"the {left_out} sounds heard least got none" in note for note in notes(rig, made, question)
    )


def test_a_song_played_very_often_can_be_planned() -> None:
    """Moves may be any number: a million of them are not taken for a song that cannot be played."""
    often = [song._replace(times=200_000) for song in played(12, 3)]
    packed = with_toggles(often, [], 4, 3, Control())
    assert isinstance(packed, Toggled)
    assert packed.recalls % 200_000 == 0


def many(count: int, loops: int = 14) -> list[Cube]:
    """Different cubes, some of their loops left free."""
    draw = random.Random(5)
    cubes: dict[Cube, None] = {}
    while len(cubes) < count:
        on, free = draw.getrandbits(loops), draw.getrandbits(loops) & draw.getrandbits(loops)
        cubes[Cube(on & ~free, ~on & ~free & ((1 << loops) - 1), ANY_CHANNEL)] = None
    return list(cubes)


def test_clashes_of_very_many_sounds_take_little_memory() -> None:
    """A clique among 6,000 cubes is looked for in a part of them: no table of 36 million pairs."""
    crowd = many(6000)
    clique: list[Cube] = []
    assert peak_megabytes(lambda: clique.extend(greedy_clique(crowd, 40))) < 120
    assert len(clique) > 40
    assert all(a is b or not a.meets(b) for a in clique for b in clique)


def test_gathering_stops_when_it_is_told_to() -> None:
    """Gathering thousands of sounds into presets asks whether to go on."""

    def stop() -> None:
        raise Stopped

    with pytest.raises(Stopped):
        coloured([], many(300), 300, stop)
    with pytest.raises(Stopped):
        greedy_clique(many(300), 300, stop)


@pytest.mark.parametrize("looks", [0, 3, 1 << 30])
def test_presets_for_very_many_sounds(looks: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """A quick look at too many sounds for a table of pairs: what it claims is still true."""
    crowd = many(60, 5)
    exact = fewest_presets([], crowd)
    monkeypatch.setattr(colours, "MOST_CLASHING", 20)
    monkeypatch.setattr(cubes, "MOST_CLASHING", 20)
    quick = fewest_presets([], crowd, Clock(looks))
    assert 1 <= quick.least <= exact.least <= len(exact.classes) <= len(quick.classes)
    assert all(any(cls.within(cube) for cls in quick.classes) for cube in crowd)
    assert all(a is b or not a.meets(b) for a in quick.clique for b in quick.clique)
