"""What to give up: the frontier is the one that trying everything gives, its rigs as told."""

from __future__ import annotations

import itertools
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace

import pytest
from advice.compromise_oracle import drawn_rig, frontier
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.advice.giving_up.answer import JointFrontier, what_to_give_up
from rigtui.advice.giving_up.point import compromises
from rigtui.advice.giving_up.words import sentences
from rigtui.model import Rig, rig_from_data
from rigtui.model.edits import take_outside
from rigtui.model.edits.wanted import give_back
from rigtui.model.lookup import lookup
from rigtui.model.rig import Section
from rigtui.moves import count_setlist
from rigtui.plan.answer import plan
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError
from rigtui.store.load import load

RIGS = Path(__file__).parents[2] / "rigs"


def _steps(answer: JointFrontier) -> list[tuple[float, int, int]]:
    return [(round(step.price, 6), *step.level) for _, step in answer.steps]


def _figures(rig: Rig) -> tuple[int, int]:
    counts = [count_setlist(rig, row) for row in rig.setlists]
    return sum(c.unplayable for c in counts), sum(c.extra_presses for c in counts)


@pytest.mark.parametrize("first", range(0, 200, 50))
def test_the_frontier_is_that_of_trying_everything(first: int) -> None:
    """On 200 small rigs, with every choice of sounds and every way to play each section tried."""
    steps = 0
    for seed in range(first, first + 50):
        data = drawn_rig(seed)
        rig = rig_from_data(data)
        keep = rig.presets[0].id if seed % 4 == 3 else None
        answer = what_to_give_up(rig, keep=[keep] if keep else [])
        assert answer.proved
        assert _steps(answer) == frontier(data, keep), seed
        for at, (_, step) in enumerate(answer.steps):
            point = answer.point(at)
            assert _figures(point.rig) == step.level, (seed, at)
            if keep is not None:
                rows = zip(_sections(rig), _sections(point.rig))
                assert all(new == old for old, new in rows if old.preset == keep)
                assert _memory(rig, keep) in (None, _memory(point.rig, keep))
        steps += len(answer.steps)
    assert steps > 100  # most of these rigs have something to give up


def _memory(rig: Rig, preset: str) -> int | None:
    return next(row.memory for row in rig.presets if row.id == preset)


def _sections(rig: Rig) -> list[Section]:
    return [section for song in rig.songs for section in song.sections]


@pytest.mark.parametrize("demo", ["quay-street", "three-piece", "first-rig"])
def test_the_frontier_of_a_demo(demo: str) -> None:
    """It begins with today's sounds, ends where nothing is crowded, and is better all the way."""
    rig = load(RIGS / f"{demo}.toml")[1]
    answer = what_to_give_up(rig)
    assert answer.proved
    first, last = answer.steps[0][1], answer.steps[-1][1]
    assert (first.price, first.level) == (0, _figures(rig))
    assert last.level == (0, 0)
    for (_, cheaper), (_, dearer) in pairwise(answer.steps):
        assert cheaper.price < dearer.price
        assert dearer.level < cheaper.level
    for at in answer.shown():
        point = answer.point(at)
        figures = point.counted
        assert (figures.unplayable, figures.extra_presses) == answer.steps[at][1].level
        assert _figures(point.rig) == answer.steps[at][1].level
        assert point.sections == len(list(compromises(point.rig, evening_of(rig).times)))


def test_with_pedals_moved_the_frontier_begins_with_the_plan() -> None:
    """Where pedals may move, every sound kept is the plan of everything."""
    rig = load(RIGS / "three-piece.toml")[1]
    answer = what_to_give_up(rig, boards=True)
    planned = plan(rig, Question("all")).rig
    assert planned is not None
    assert answer.steps[0][1].level <= min(_figures(planned), _figures(rig))
    alone = what_to_give_up(rig)
    for _, step in alone.steps:
        assert any(
            other.price <= step.price and other.level <= step.level for _, other in answer.steps
        )


def test_another_board_says_what_to_re_plug() -> None:
    """A board that is not the one as it is comes with the work that it takes."""
    rig = load(RIGS / "first-rig.toml")[1]
    point = what_to_give_up(rig).point(0)
    moved = replace(point, rig=take_outside(point.rig, "delay"))
    said = list(sentences(rig, moved, "Delay outside"))
    assert said[0] == "The board: Delay outside"
    assert said[1].startswith("Re-plug: take Delay out of loop ")
    assert not [text for text in sentences(rig, point) if text.startswith("Re-plug")]


def test_what_was_given_up_can_be_taken_back() -> None:
    """After the sounds are given back, every section is heard and handled as before."""
    rig = load(RIGS / "quay-street.toml")[1]
    answer = what_to_give_up(rig)
    last = answer.point(len(answer.steps) - 1)
    changed = [
        (song.id, at)
        for song in last.rig.songs
        for at, row in enumerate(song.sections)
        if row.wanted is not None
    ]
    assert len(changed) == last.sections > 10
    back = give_back(last.rig)
    assert back.songs == rig.songs
    assert lookup(back).sound(back.songs[0].sections[0]) == lookup(rig).sound(
        rig.songs[0].sections[0]
    )


def test_only_some_songs_can_be_given_back() -> None:
    """A song that is not named keeps its compromise."""
    rig = load(RIGS / "quay-street.toml")[1]
    answer = what_to_give_up(rig)
    last = answer.point(len(answer.steps) - 1)
    songs = list(dict.fromkeys(each.song for each in last.compromises))
    back = give_back(last.rig, songs[:1])
    assert {each.song for each in compromises(back, set(songs))} == set(songs[1:])


def _chorus_rig(**more: object) -> Rig:
    """Three sounds, two memories; the third is the first with a chorus."""
    return make_rig(
        switcher=switcher(2, 2),
        pedals=[pedal("drive", "overdrive"), pedal("chorus", "modulation", **more)],
        loops=[loop(1, "drive"), loop(2, "chorus")],
        chain={"front": [1, 2]},
        presets=[
            preset("dry", memory=1),
            preset("crunch", 1, memory=2),
            preset("wide", 1, 2, guitar_volume=7),
        ],
        songs=[
            song("a", section("dry"), section("wide"), section("dry", bars=8)),
            song("b", "crunch", "dry", "crunch", "crunch"),
        ],
        setlists=[setlist("night", "a", "b", "a")],
    )


def test_prices() -> None:
    """A chorus costs half a drive for each bar, or what the player says, each time it is played."""
    for price, expected in ((None, 0.5 * 4 * 2), (1, 1 * 4 * 2)):
        rig = _chorus_rig(**({} if price is None else {"price": price}))
        answer = what_to_give_up(rig)
        first, last = answer.steps[0][1], answer.steps[-1][1]
        assert (first.price, first.level) == (0, (2, 0))  # the song is played twice
        assert (last.price, last.level) == (expected, (0, 0))
        played = answer.point(len(answer.steps) - 1).rig.songs[0].sections[1]
        assert played.preset == "crunch"
        assert played.guitar_volume == 7  # what the hands did, they do
        assert played.wanted is not None
        assert played.wanted.pedals == ("drive", "chorus")
        assert answer.within(0) == 0
        assert answer.within(1) == len(answer.steps) - 1
    free = what_to_give_up(_chorus_rig(price=0))
    assert [(step.price, step.level) for _, step in free.steps] == [(0, (0, 0))]
    dear = what_to_give_up(_chorus_rig(price=3))  # then the drive of three sections goes
    assert (dear.steps[-1][1].price, dear.point(len(dear.steps) - 1).sections) == (1 * 4 * 3, 3)


def test_a_kept_preset_stays() -> None:
    """Told to keep the sound that has no memory, another gives way to it."""
    rig = _chorus_rig()
    answer = what_to_give_up(rig, keep=["wide"])
    for at in range(len(answer.steps)):
        then = answer.point(at).rig
        assert then.songs[0].sections[1] == rig.songs[0].sections[1]
        assert next(row for row in then.presets if row.id == "wide").memory is not None
    with pytest.raises(PlanError, match='no preset "wid" to keep'):
        what_to_give_up(rig, keep=["wid"])


def test_more_choices_than_can_be_tried_have_a_bound() -> None:
    """With 24 sounds and 12 memories it is searched by exchange: not proved, with a bound."""
    numbers = range(1, 6)
    masks = list(range(1, 25))
    presets = [
        preset(f"s{mask}", *[n for n in numbers if mask >> (n - 1) & 1], memory=at + 1)
        if at < 12
        else preset(f"s{mask}", *[n for n in numbers if mask >> (n - 1) & 1])
        for at, mask in enumerate(masks)
    ]
    songs = [
        song(f"song{nth}", *[f"s{masks[(nth * 5 + k * k) % 24]}" for k in range(5)])
        for nth in range(12)
    ]
    rig = make_rig(
        switcher=switcher(12, 4),
        pedals=[pedal(f"p{n}") for n in numbers],
        loops=[loop(n, f"p{n}") for n in numbers],
        chain={"front": list(numbers)},
        presets=presets,
        songs=songs,
        setlists=[setlist("night", *[row["id"] for row in songs])],
    )
    answer = what_to_give_up(rig)
    assert not answer.proved
    for at, (_, step) in enumerate(answer.steps):
        assert answer.least(at) <= step.level
    last = answer.point(len(answer.steps) - 1)
    assert last.counted.unplayable == 0
    assert _figures(last.rig) == (0, 0)


def test_where_the_time_ends_what_was_tried_by_then_is_given(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """However short the time there is a true answer, not proved, or a clear refusal."""
    monkeypatch.setattr("rigtui.advice.giving_up.frontier.MOST_CHOICES", 3)
    clock = itertools.count()  # a second passes from look to look
    monkeypatch.setattr(
        "rigtui.plan.ask.control.time", SimpleNamespace(monotonic=lambda: next(clock))
    )
    rig = load(RIGS / "quay-street.toml")[1]
    whole = what_to_give_up(rig, control=Control(seconds=1e9))
    needed, answers = next(clock), 0
    for share in (0.1, 0.9, 1.2):
        try:
            answer = what_to_give_up(rig, control=Control(seconds=needed * share))
        except PlanError:
            assert share < 1
            continue
        answers += 1
        assert not answer.proved
        for at, (_, step) in enumerate(answer.steps):
            assert _figures(answer.point(at).rig) == step.level
            assert step.level >= whole.boards[0].frontier.steps[-1].level
    assert answers


def test_songs_that_take_too_much_memory_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Rather than filling the machine: as one song, all together, and by its ways."""
    rig = load(RIGS / "quay-street.toml")[1]
    for limit in ("one_song._BYTES", "frontier._MOST_BYTES", "ways.MOST_PRICES"):
        with monkeypatch.context() as patch:
            patch.setattr(f"rigtui.advice.giving_up.{limit}", 100)
            with pytest.raises(PlanError, match="name a setlist"):
                what_to_give_up(rig)
