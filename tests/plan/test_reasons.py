"""Where no plan is possible: the reason is true, and so is every way out that is offered."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest
from plan import possible_oracle
from plan.loop_oracle import read
from plan.test_loops import drawn
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher

from rigtui.model import Rig
from rigtui.model.lookup import lookup
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Status
from rigtui.plan.whole.everything import plan_all
from rigtui.plan.whole.loops import plan_loops


def wanted(seed: int) -> tuple[Rig, Question]:
    """A small rig, and options that ask for a lot of it."""
    rig, asked = drawn(seed, toggling=seed % 5 == 4)
    draw = random.Random(-seed)
    known = lookup(rig)
    outside = {pedal.id for pedal in known.outside() if pedal.used in ("between", "treadle")}
    names = [pedal.id for pedal in rig.pedals if pedal.id not in outside]
    share = draw.choice((0.0, 0.3, 0.6))
    pin_in = [name for name in names if draw.random() < share]
    pin_out = [name for name in names if name not in pin_in and draw.random() < 0.1]
    sides = {side: draw.randint(0, 3) for side in ("front", "fx")}
    loops, total = draw.choice(((None, None), (sides, None), (sides, None), (None, 2)))
    kept = [preset.id for preset in rig.presets if draw.random() < 0.15]
    return rig, replace(
        asked,
        pins=dict.fromkeys(pin_in, "in") | dict.fromkeys(pin_out, "out"),
        keep=tuple(kept),
        loops=loops,
        total_loops=total,
        memories=draw.randint(1, min(3, rig.switcher.memories)),
    )


def check_relaxations(rig: Rig, asked: Question, plan: Plan) -> list[Question]:
    """Each one makes a plan possible, and with anything of it taken back there is none."""
    assert plan.conflict is not None
    assert not plan.conflict.untried
    assert plan.conflict.relaxations
    offered = []
    for relaxation in plan.conflict.relaxations:
        new = asked.changed(relaxation.changes)
        assert possible_oracle.possible(rig, new), relaxation
        for less in possible_oracle.taken_back(rig, asked, new):
            assert not possible_oracle.possible(rig, less), (relaxation, less)
        offered.append(new)
    return offered


def check_nothing_is_missed(rig: Rig, asked: Question, offered: list[Question]) -> None:
    """Every single option whose giving up is enough is among them, and so are the memories."""
    if len(offered) == 8:
        return  # no more are told
    texts = [repr(option) for option in offered]
    less = [asked.pinned(pedal, None) for pedal in asked.pins]
    for name in ("keep", "apart"):
        for pinned in getattr(asked, name):
            rest = tuple(other for other in getattr(asked, name) if other != pinned)
            less.append(replace(asked, **{name: rest}))
    for new in less:
        if possible_oracle.possible(rig, new):
            assert any(_same(new, other) for other in offered), (new, texts)
    for memories in range(asked.memories + 1, 9):
        new = replace(asked, memories=memories)
        if possible_oracle.possible(rig, new):
            assert any(_same(new, other) for other in offered), (memories, texts)
            break


def _same(first: Question, second: Question) -> bool:
    def plain(asked: Question) -> tuple[object, ...]:
        return (
            set(asked.pins.items()), set(asked.keep),
            {frozenset(pair) for pair in asked.apart}, asked.sharing, asked.keep_order,
            asked.loops, asked.total_loops, asked.memories,
        )  # fmt: skip

    return plain(first) == plain(second)


def check_conflict(rig: Rig, asked: Question, plan: Plan) -> int:
    """The sounds named clash pairwise in whatever must be in loops, and are too many."""
    sounds = plan.conflict.sounds
    if not sounds:
        return 0
    assert len(sounds) > asked.memories
    assert f"no two of these {len(sounds)} sounds can share a preset" in plan.conflict.reason
    in_loops = possible_oracle.forced(rig, asked)
    toggling = rig.switcher.loop_switches
    songs, kept = read(rig, asked)
    its_preset = {sound.own: sound for sound in kept}
    mapped = {song.id: [at for at, section in enumerate(song.sections) if section.preset in
                        lookup(rig).presets] for song in rig.songs}  # fmt: skip
    places: Counter[str] = Counter()

    def want(place: str):
        parts = place.split(".")
        if parts[0] == "presets":
            return kept[list(asked.keep).index(parts[1])], True
        row = next(at for at, song in enumerate(rig.songs) if song.id == parts[1])
        assert songs[row].times
        return songs[row].wants[mapped[parts[1]].index(int(parts[3]))], False

    for first, second in combinations(sounds, 2):
        for a in first.places:
            for b in second.places:
                (left, is_kept), (right, kept_too) = want(a), want(b)
                apart = left.channel != right.channel and not (
                    left.any_channel or right.any_channel
                )
                apart |= None not in (left.own, right.own) and left.own != right.own
                if not toggling:  # what a section on a kept preset has in loops is that preset's
                    left, right = (its_preset.get(sound.own, sound) for sound in (left, right))
                differ = (left.on & right.off | left.off & right.on) & in_loops
                both_kept = is_kept and kept_too
                assert apart or (differ and (both_kept or not toggling)), (a, b)
    for sound in sounds:
        assert sound.places
        places.update(sound.places)
    assert max(places.values()) == 1
    return len(sounds)


def check(seed: int) -> str:
    """Check one drawn question; say how it ended."""
    rig, asked = wanted(seed)
    plan = plan_loops(rig, asked)
    if possible_oracle.possible(rig, asked):
        assert plan.rig is not None
        assert plan.conflict is None
        return "possible"
    assert plan.status is Status.INFEASIBLE
    offered = check_relaxations(rig, asked, plan)
    check_nothing_is_missed(rig, asked, offered)
    if check_conflict(rig, asked, plan):
        return "clash"
    reason = plan.conflict.reason
    return "presets" if "presets" in reason and "at least" in reason else "loops"


def test_planning_all_refuses_the_same() -> None:
    """Loops, switches and route together are refused where loops are, for the same reason."""
    refused = 0
    for seed in range(500, 620):
        rig, asked = wanted(seed)
        alone, together = plan_loops(rig, asked), plan_all(rig, asked)
        assert (alone.rig is None) == (together.rig is None)
        assert alone.conflict == together.conflict
        refused += alone.rig is None
    assert refused > 30


def test_against_trying_everything() -> None:
    """On 500 small rigs a plan is refused exactly where there is none, with true ways out."""
    ends = Counter(check(seed) for seed in range(500))
    assert ends["possible"] > 100
    assert ends["clash"] > 60
    assert ends["loops"] > 60


@pytest.mark.long
def test_against_trying_everything_thoroughly() -> None:
    """The same on thousands of rigs."""
    ends = Counter(check(seed) for seed in range(20_000, 24_000))
    assert ends["clash"] > 500


def row(*names: str, fx: tuple[str, ...] = (), memories: int = 8, **more: Any) -> Rig:
    """A loop for each pedal; a song for each pedal alone, and one with none of them."""
    every = [*names, *fx]
    loops = [loop(at + 1, name, side="fx" if name in fx else "front") for at, name in
             enumerate(every)]  # fmt: skip
    presets = [preset("bare", name="Bare")]
    presets += [preset(f"with-{name}", at + 1, name=f"With {name}") for at, name in
                enumerate(every)]  # fmt: skip
    parts: dict[str, Any] = {
        "switcher": switcher(memories, memories),
        "pedals": [pedal(name, "overdrive", "fx" if name in fx else "front") for name in every],
        "loops": loops,
        "chain": {
            "front": [loop["number"] for loop in loops if loop["side"] == "front"],
            "fx": [loop["number"] for loop in loops if loop["side"] == "fx"],
        },
        "presets": presets,
        "songs": [song("one", *[preset["id"] for preset in presets]), song("two", "bare", "bare")],
    }
    return make_rig(**(parts | more))


def told(rig: Rig, **options: Any) -> tuple[str, list[str]]:
    """The reason and the ways out."""
    conflict = plan_loops(rig, Question(keep_order=True, **options)).conflict
    assert conflict is not None
    return conflict.reason, [relaxation.text for relaxation in conflict.relaxations]


def test_bound_holds_with_every_pedal_outside() -> None:
    """Two channels need two presets whatever is in loops; that is said, not what one try needed."""
    rig = row("a", "b", amp={"channels": ["clean", "drive"]}, presets=[
        preset("bare", channel="clean"), preset("with-a", 1, channel="drive"),
        preset("with-b", 2, channel="drive"),
    ])  # fmt: skip
    reason, ways = told(rig, memories=1)
    assert reason == (
        "Even with every pedal outside the loops, no two of these 2 sounds can share a preset, so "
        "at least 2 presets are needed, but there is room for 1"
    )
    assert ways == ["2 memories instead of 1"]


def test_sounds_are_named_with_all_their_places() -> None:
    """A sound is named by its preset, with what tells it from the others, its sections once."""
    conflict = plan_loops(row("a", "b"), Question(pins={"a": "in"}, memories=1)).conflict
    assert conflict is not None
    assert [(sound.name, sound.wants, sound.places) for sound in conflict.sounds] == [
        ("Bare", "none of them on",
         ("songs.one.sections.0", "songs.two.sections.0", "songs.two.sections.1")),
        ("With a", "a on", ("songs.one.sections.1",)),
    ]  # fmt: skip


def test_side_that_is_short_is_named() -> None:
    """Loops of the effects loop are no help in front: each side is counted for itself."""
    reason, ways = told(
        row("a", "b", fx=("c", "d")), pins={"c": "in", "d": "in"}, loops={"front": 2, "fx": 1}
    )
    assert reason == (
        "c and d must be in loops in the amp's effects loop: that takes 2 fx loops, because the "
        "two can't share one, but there is 1"
    )
    assert ways == [
        "2 fx loops instead of 1",
        "let c stay outside the loops",
        "let d stay outside the loops",
    ]


def test_both_sides_short() -> None:
    """Where both sides are short both are told, and raised together."""
    reason, ways = told(
        row("a", "b", fx=("c", "d")),
        pins={"a": "in", "b": "in", "c": "in", "d": "in"},
        loops={"front": 1, "fx": 1},
        memories=5,
    )
    assert "that takes 2 front loops" in reason
    assert "that takes 2 fx loops" in reason
    assert ways == ["2 front loops instead of 1 and 2 fx loops instead of 1"]


def test_one_pedal_a_loop() -> None:
    """Without sharing, pins that are too many are told with the loops that they take.

    Giving up the one in the middle is no way out: the order stays, so it burns its loop.
    """
    rig = row("a", "b", "c", songs=[song("x", "bare", "with-c")], loops=[
        loop(1, "a"), loop(2, "b"), loop(3, "c"),
    ])  # fmt: skip
    reason, ways = told(
        rig, pins={"a": "in", "b": "in", "c": "in"}, sharing=False, loops={"front": 2, "fx": 0}
    )
    assert reason == (
        "a, b and c must be in loops in front of the amp: that takes 3 front loops, one pedal "
        "each, but there are 2"
    )
    assert ways == [
        "3 front loops instead of 2",
        "let a stay outside the loops",
        "let c stay outside the loops",
        "let neighbours share a loop",
    ]


def test_pedals_to_keep_apart() -> None:
    """Two that would share the only loop, and may not: letting them is one way out."""
    rig = row("a", "b", songs=[song("x", section("bare", may=["a", "b"]))])
    reason, ways = told(
        rig, pins={"a": "in", "b": "in"}, apart=[("a", "b")], loops={"front": 1, "fx": 0}
    )
    assert "that takes 2 front loops, because the two can't share one, but there is 1" in reason
    assert "let a and b share a loop" in ways


def test_pedal_in_the_way() -> None:
    """A pedal that must be outside, between two that must be in loops, is what is wrong."""
    reason, ways = told(row("a", "b", "c"), pins={"a": "in", "c": "in", "b": "out"})
    assert reason == (
        "b must stay outside, but it stands in the chain between a and c, which must be in loops: "
        "the signal order must stay, and the switcher has no jack between two of its loops"
    )
    assert ways == [
        "let a stay outside the loops",
        "let c stay outside the loops",
        "let b go in a loop",
        "let pedals outside the loops change places in the chain",
    ]


def test_a_rocked_pedal_in_the_way() -> None:
    """Outside for its use, it is said with that; taken out of its loop by a pin, with the pin."""
    parts: dict[str, Any] = {
        "loops": [loop(1, "c")],
        "chain": {"front": ["a", "b", 1], "fx": []},
        "presets": [preset("bare"), preset("with-c", 1)],
        "songs": [song("x", "bare", "with-c")],
        "pedals": [pedal("a"), pedal("b", "wah", use="treadle"), pedal("c")],
    }
    between = "stands in the chain between a and c"
    reason, _ = told(row("a", "b", "c", **parts), pins={"a": "in", "c": "in"}, loops={"front": 3})
    assert reason.startswith(f"b goes on when your foot rocks it, but it {between}")
    last = pedal("d", "wah", use="treadle")
    chain = {"front": [1, 2, 3, "d"], "fx": []}
    looped = row("a", "b", "c", pedals=[*parts["pedals"], last], chain=chain)
    reason, _ = told(looped, pins={"a": "in", "c": "in", "b": "out"})
    assert reason.startswith(f"b must stay outside, but it {between}")


def test_preset_that_stays_against_a_pin() -> None:
    """A preset that stays as it sounds has its pedals in loops: no pin may take one out."""
    reason, ways = told(row("a", "b"), keep=("with-a",), pins={"a": "out"})
    assert reason == ("a must stay outside, but With a, which must sound as now, has it in a loop")
    assert ways == ["let a go in a loop", "let With a change"]


def test_two_changes_where_one_is_not_enough() -> None:
    """Too few loops and too few memories: both together, each the fewest that do."""
    reason, ways = told(
        row("a", "b"), pins={"a": "in", "b": "in"}, loops={"front": 1, "fx": 0}, memories=1
    )
    assert "that takes 2 front loops" in reason
    assert ways[0] == "2 front loops instead of 1 and 3 memories instead of 1"
    assert "let a and b stay outside the loops" in ways


def test_time_that_is_up_is_said() -> None:
    """With no time to try changes, that is said; the reason stands all the same."""
    plan = plan_loops(
        row("a", "b"),
        Question(pins={"a": "in", "b": "in"}, memories=1),
        control=Control(seconds=0.0),
    )
    assert plan.status is Status.INFEASIBLE
    assert plan.conflict is not None
    assert plan.conflict.untried


def ring() -> Rig:
    """Five sections, each of which clashes with the next alone: three presets, no three clash.

    Source: the cycle of five has no triangle and needs three colours (any text on graphs).
    """
    names = [f"p{at}" for at in range(5)]
    parts = []
    for at in range(5):
        off = names[(at + 1) % 5]
        free = [name for name in names if name not in (names[at], off)]
        parts.append(section(f"with-{names[at]}", may=free))
    return row(*names, songs=[song("round", *parts)])


def test_more_presets_than_clash_pairwise() -> None:
    """Where it takes more than a clique to see it, no sounds are said to clash pairwise."""
    rig = ring()
    asked = Question(pins={pedal.id: "in" for pedal in rig.pedals}, memories=2)
    assert not possible_oracle.possible(rig, asked)
    conflict = plan_loops(rig, asked).conflict
    assert conflict is not None
    assert conflict.reason == (
        "With p0, p1, p2, p3 and p4 in loops, at least 3 presets are needed (all ways to share "
        "presets between sounds were checked), but there is room for 2"
    )
    assert conflict.sounds == ()
    assert conflict.relaxations[0].text == "3 memories instead of 2"
    assert possible_oracle.possible(rig, replace(asked, memories=3))


def test_what_is_not_proved_is_not_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the search for presets has to give up, no proof is claimed."""
    monkeypatch.setattr("rigtui.plan.presets.colours._COLOUR_NODES", 0)
    rig = ring()
    plan = plan_loops(rig, Question(pins={pedal.id: "in" for pedal in rig.pedals}, memories=2))
    assert plan.status is Status.TIMED_OUT
    assert not plan.proved
    assert plan.conflict is not None
    assert plan.conflict.reason.endswith(
        "no way was found to manage with 2 presets, and no proof that there is none: at least 2 "
        "are needed"
    )
    assert plan.conflict.relaxations[0].text == (
        "3 memories instead of 2 (it is not known whether 2 would be enough)"
    )


def test_loop_that_must_be_shared_costs_a_preset() -> None:
    """One section wants a pedal on, one its neighbour off: in one loop that is two presets."""
    rig = row("a", "b", songs=[
        song("x", section("with-a", may=["b"]), section("with-a", may=["a"])),
    ])  # fmt: skip
    asked = Question(pins={"a": "in", "b": "in"}, loops={"front": 1, "fx": 0}, memories=1)
    reason, ways = told(rig, pins={"a": "in", "b": "in"}, loops={"front": 1, "fx": 0}, memories=1)
    assert reason == (
        "With a and b in loops, at least 2 presets are needed, whichever pedals share a loop (all "
        "ways to share presets between sounds were checked), but there is room for 1"
    )
    assert ways == [
        "2 memories instead of 1",
        "2 front loops instead of 1",
        "let a stay outside the loops",
        "let b stay outside the loops",
    ]
    assert not possible_oracle.possible(rig, asked)
    assert possible_oracle.possible(rig, replace(asked, loops={"front": 2, "fx": 0}))
