"""Wishes that cannot be had: the reason is true, and so is every way out that is offered."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from itertools import combinations

import pytest
from plan import wish_oracle
from plan.loop_oracle import read
from plan.test_loops import drawn

from rigtui.model import Rig
from rigtui.model.lookup import lookup
from rigtui.plan.loops import plan_loops
from rigtui.plan.request import Request, loop_wishes
from rigtui.plan.result import Plan, Status
from rigtui.plan.wishes import LoopWishes


def wanted(seed: int) -> tuple[Rig, LoopWishes]:
    """A small rig, and wishes that ask for a lot of it."""
    rig, wishes = drawn(seed, toggling=seed % 5 == 4)
    draw = random.Random(-seed)
    found = lookup(rig)
    between = {one.id for one in found.outside() if found.use_of(one) == "between"}
    names = [one.id for one in rig.pedals if one.id not in between]
    share = draw.choice((0.0, 0.3, 0.6))
    pin_in = [one for one in names if draw.random() < share]
    pin_out = [one for one in names if one not in pin_in and draw.random() < 0.1]
    sides = {side: draw.randint(0, 3) for side in ("front", "fx")}
    loops, total = draw.choice(((None, None), (sides, None), (sides, None), (None, 2)))
    kept = [one.id for one in rig.presets if draw.random() < 0.15]
    alike: dict[tuple[object, ...], str] = {}
    for one in kept:
        preset = found.presets[one]
        alike.setdefault((found.preset_pedals(preset), preset.channel), one)
    return rig, replace(
        wishes,
        pin_in=pin_in,
        pin_out=pin_out,
        keep_presets=list(alike.values()),
        loops=loops,
        total_loops=total,
        memories=draw.randint(1, min(3, rig.switcher.memories)),
    )


def relaxed(wishes: LoopWishes, changes: dict[str, object]) -> LoopWishes:
    """Wishes with the changes that a relaxation says in the words of a request."""
    asked = Request(
        "loops",
        pins={**dict.fromkeys(wishes.pin_in, "in"), **dict.fromkeys(wishes.pin_out, "out")},
        keep=tuple(wishes.keep_presets),
        apart=tuple(wishes.keep_apart),
        sharing=wishes.share,
        keep_order=wishes.keep_order,
        loops=wishes.loops,
        total_loops=wishes.total_loops,
        memories=wishes.memories,
    )
    pairs = {"apart": tuple(map(tuple, changes["apart"]))} if "apart" in changes else {}
    return loop_wishes(replace(asked, **(changes | pairs)))


def check_relaxations(rig: Rig, wishes: LoopWishes, plan: Plan) -> list[LoopWishes]:
    """Each one makes a plan possible, and with anything of it taken back there is none."""
    assert plan.conflict is not None
    assert not plan.conflict.untried
    assert plan.conflict.relaxations
    offered = []
    for one in plan.conflict.relaxations:
        new = relaxed(wishes, dict(one.changes))
        assert wish_oracle.possible(rig, new), one
        for less in wish_oracle.taken_back(rig, wishes, new):
            assert not wish_oracle.possible(rig, less), (one, less)
        offered.append(new)
    return offered


def check_nothing_is_missed(rig: Rig, wishes: LoopWishes, offered: list[LoopWishes]) -> None:
    """Every single wish whose giving up is enough is among them, and so are the memories."""
    if len(offered) == 8:
        return  # no more are told
    texts = [repr(one) for one in offered]
    for name in ("pin_in", "pin_out", "keep_presets", "keep_apart"):
        for one in getattr(wishes, name):
            rest = type(getattr(wishes, name))(o for o in getattr(wishes, name) if o != one)
            new = replace(wishes, **{name: rest})
            if wish_oracle.possible(rig, new):
                assert any(_same(new, other) for other in offered), (name, one, texts)
    for memories in range(wishes.memories + 1, 9):
        new = replace(wishes, memories=memories)
        if wish_oracle.possible(rig, new):
            assert any(_same(new, other) for other in offered), (memories, texts)
            break


def _same(one: LoopWishes, other: LoopWishes) -> bool:
    def plain(wishes: LoopWishes) -> tuple[object, ...]:
        return (
            set(wishes.pin_in), set(wishes.pin_out), set(wishes.keep_presets),
            {frozenset(pair) for pair in wishes.keep_apart}, wishes.share, wishes.keep_order,
            wishes.loops, wishes.total_loops, wishes.memories,
        )  # fmt: skip

    return plain(one) == plain(other)


def check_conflict(rig: Rig, wishes: LoopWishes, plan: Plan) -> int:
    """The sounds named clash pairwise in whatever must be in loops, and are too many."""
    sounds = plan.conflict.sounds
    if not sounds:
        return 0
    assert len(sounds) > wishes.memories
    assert f"these {len(sounds)} sounds conflict pairwise" in plan.conflict.reason
    in_loops = wish_oracle.forced(rig, wishes)
    toggling = rig.switcher.loop_switches
    songs, kept = read(rig, wishes)
    mapped = {song.id: [at for at, one in enumerate(song.sections) if one.preset in
                        lookup(rig).presets] for song in rig.songs}  # fmt: skip
    places: Counter[str] = Counter()

    def want(place: str):
        parts = place.split(".")
        if parts[0] == "presets":
            return kept[list(wishes.keep_presets).index(parts[1])], True
        row = next(at for at, song in enumerate(rig.songs) if song.id == parts[1])
        assert songs[row].times
        return songs[row].wants[mapped[parts[1]].index(int(parts[3]))], False

    for one, other in combinations(sounds, 2):
        for a in one.places:
            for b in other.places:
                (left, is_kept), (right, kept_too) = want(a), want(b)
                apart = left.channel != right.channel and not (
                    left.any_channel or right.any_channel
                )
                differ = (left.on & right.off | left.off & right.on) & in_loops
                both_kept = is_kept and kept_too
                assert apart or (differ and (both_kept or not toggling)), (a, b)
    for one in sounds:
        assert one.places
        places.update(one.places)
    assert max(places.values()) == 1
    return len(sounds)


def check(seed: int) -> str:
    """Check one drawn wish; say how it ended."""
    rig, wishes = wanted(seed)
    plan = plan_loops(rig, wishes=wishes)
    if wish_oracle.possible(rig, wishes):
        assert plan.rig is not None
        assert plan.conflict is None
        return "possible"
    assert plan.status is Status.INFEASIBLE
    offered = check_relaxations(rig, wishes, plan)
    check_nothing_is_missed(rig, wishes, offered)
    if check_conflict(rig, wishes, plan):
        return "clash"
    reason = plan.conflict.reason
    return "presets" if "presets" in reason and "at least" in reason else "loops"


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
