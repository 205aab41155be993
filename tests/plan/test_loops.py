"""Loops: as good as every layout there is, every option kept, and counted as the report counts."""

from __future__ import annotations

import random
from collections import Counter
from typing import Any

import pytest
from plan import loop_oracle
from plan.hands_oracle import hands
from plan.test_budgets import Clock
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.model import Rig
from rigtui.model.lookup import lookup
from rigtui.model.playable import unplayable_presets
from rigtui.moves import count_setlist, count_song
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.goal import FIRST
from rigtui.plan.ask.needs import needs_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, PlanError, Status
from rigtui.plan.loops import search
from rigtui.plan.loops.designs import SearchOutcome
from rigtui.plan.loops.limits import limits_of
from rigtui.plan.loops.search import LoopSearch
from rigtui.plan.whole.loops import plan_loops


def drawn(seed: int, *, toggling: bool = False) -> tuple[Rig, Question]:
    """A small rig with a few odd corners, and options that may be impossible."""
    draw = random.Random(seed)
    count = draw.randint(2, 5)
    kinds = ["overdrive", "delay", "wah", "boost", "tuner"]
    names = [f"p{at}" for at in range(count)]
    sides = sorted(draw.choice(("front", "front", "fx")) for _ in names)
    sides.sort(key=("front", "fx").index)
    pedals = []
    for name, side in zip(names, sides):
        more = {"use": "always"} if draw.random() < 0.15 else {}
        pedals.append(pedal(name, draw.choice(kinds), side, **more))
    loops, at = [], 0
    for number in range(1, draw.randint(1, 4) + 1):
        side = draw.choice(("front", "fx"))
        inside = []
        if at < count and draw.random() < 0.8:
            side = sides[at]
            inside.append(names[at])
            at += 1
            if at < count and draw.random() < 0.2 and sides[at] == side:
                inside.append(names[at])
                at += 1
        loops.append(loop(number, *inside, side=side))
    looped = {name for loop in loops for name in loop["pedals"]}
    rocked = random.Random(-seed)
    for row in pedals:
        if row["id"] not in looped and row["kind"] == "wah" and rocked.random() < 0.5:
            row["use"] = "treadle"
    chain: dict[str, list[Any]] = {"front": [], "fx": []}
    for row in loops:
        chain[row["side"]].append(row["number"])
    for name, side in zip(names, sides):
        if name not in looped:
            chain[side].insert(draw.choice((0, len(chain[side]))), name)
    memories = draw.randint(1, 5)
    numbers = [row["number"] for row in loops]
    channel = draw.choice(("none", "none", "all", "some"))
    presets = []
    for nth in range(draw.randint(1, 5)):
        more: dict[str, Any] = {}
        if channel == "all" or (channel == "some" and draw.random() < 0.5):
            more["channel"] = draw.choice(("clean", "drive"))
        if draw.random() < 0.3:
            more["guitar_volume"] = draw.choice((4, 10))
        if nth < memories and draw.random() < 0.8:
            more["memory"] = nth + 1
        on = [number for number in numbers if draw.random() < 0.5]
        presets.append(preset(f"s{nth}", *on, **more))
    free = draw.choice((0.0, 0.0, 0.25))
    weight = rocked.choice((3, 3, 3, 0, 1, 2.5, 10))
    ahead = rocked.choice((0.0, 0.0, 0.3))
    ids = [preset["id"] for preset in presets]

    def part() -> dict[str, Any]:
        if draw.random() < 0.06:
            return section()
        may = [name for name in names if draw.random() < free]
        plus = [name for name in names if draw.random() < 0.25 and name not in looped]
        early = [name for name in names if rocked.random() < ahead]
        return section(draw.choice(ids), may=may, plus=plus, early=early)

    songs = [
        song(f"song{nth}", *(part() for _ in range(draw.randint(1, 6))))
        for nth in range(draw.randint(1, 3))
    ]
    night = [draw.choice(songs)["id"] for _ in range(draw.randint(1, 3))]
    size = draw.choice((memories, memories, max(1, memories - 1)))
    rig = make_rig(
        amp={"channels": ["clean", "drive"], "channel_switch": draw.choice(("preset", "foot"))},
        switcher=switcher(
            memories, size, between_loops=draw.random() < 0.4, loop_switches=toggling
        ),
        pedals=pedals,
        loops=loops,
        chain=chain,
        presets=presets,
        songs=songs,
        setlists=[setlist("night", *night)],
        player={"extra_press_weight": weight},
    )

    def some(share: float) -> list[str]:
        return [name for name in names if draw.random() < share]

    known = lookup(rig)
    outside = {pedal.id for pedal in known.outside() if pedal.used in ("between", "treadle")}
    pin_in = [name for name in some(0.12) if name not in outside]
    asked = Question(
        pins=dict.fromkeys(pin_in, "in")
        | dict.fromkeys((name for name in some(0.1) if name not in pin_in), "out"),
        keep=tuple(preset for preset in ids if draw.random() < 0.12),
        apart=((names[0], names[1]),) if draw.random() < 0.2 else (),
        sharing=draw.random() < 0.8,
        keep_order=draw.random() < 0.5,
        total_loops=draw.choice((None, None, None, draw.randint(0, 4))),
        memories=draw.choice((None, draw.randint(1, memories))),
        first=FIRST[seed % 3],
    )
    return rig, asked


def weights_of(rig: Rig, asked: Question) -> loop_oracle.Weights:
    """What presses weigh in whole numbers, by what comes first and by the player.

    Extra presses that come before all else weigh more than all moves that such a small evening
    could have.
    """
    if asked.first == "moves":
        return loop_oracle.Weights()
    if asked.first == "extra":
        return loop_oracle.Weights(1, loop_oracle.FIRST_OF_ALL)
    move, extra = {2.5: (2, 5)}.get(rig.player.extra_press_weight, (1, None))
    return loop_oracle.Weights(move, int(rig.player.extra_press_weight) if extra is None else extra)


def check_figures(rig: Rig, plan: Plan) -> None:
    """What is promised is what is counted, and every section sounds as it did."""
    assert plan.rig is not None
    night = plan.rig.setlists[0]
    assert plan.moves_after == count_setlist(plan.rig, night).moves
    songs = {song.id: song for song in plan.rig.songs}
    played = set(night.song_ids)
    worst = [c.moves for song_id in played for c in count_song(plan.rig, songs[song_id]).changes]
    assert plan.worst_change == max(worst, default=0)
    old, new = lookup(rig), lookup(plan.rig)
    for a, b in zip(rig.songs, plan.rig.songs, strict=True):
        for was, now in zip(a.sections, b.sections, strict=True):
            if was.preset not in old.presets:
                assert was == now
                continue
            before, after = old.presets[was.preset], new.presets[now.preset]
            assert set(old.sound(was)) ^ set(new.sound(now)) <= set(was.may)
            if before.channel:
                assert after.channel == before.channel
            assert hands(was, before) == hands(now, after)
            if a.id in played:
                assert after.id not in unplayable_presets(plan.rig)
    assert len(new.order) == len(old.order)


def check_layout(rig: Rig, asked: Question, plan: Plan) -> None:
    """The board can be wired, and every option is kept."""
    assert plan.rig is not None
    known, old = lookup(plan.rig), lookup(rig)
    for side in ("front", "fx"):
        items = getattr(plan.rig.chain, side)
        assert sorted(map(str, items)) == sorted(set(map(str, items)))
        loops = [at for at, item in enumerate(items) if isinstance(item, int)]
        if loops and not plan.rig.switcher.between_loops:
            assert loops == list(range(loops[0], loops[-1] + 1))
        for item in items:
            if isinstance(item, int):
                assert known.loops[item].side == side
    chained = [item for side in ("front", "fx") for item in getattr(plan.rig.chain, side)]
    assert sorted(item for item in chained if isinstance(item, int)) == sorted(known.loops)
    for pedal_ in plan.rig.pedals:
        number = known.loop_of.get(pedal_.id)
        assert (number is None) == (pedal_.id in chained)
        assert number is None or known.loops[number].side == pedal_.side
    if asked.keep_order or plan.rig.switcher.between_loops:
        for side in ("front", "fx"):
            row = [p for p in old.order if old.pedals[p].side == side]
            assert [p for p in known.order if old.pedals[p].side == side] == row
    assert all(pedal_id in known.loop_of for pedal_id in asked.pin_in)
    assert not any(pedal_id in known.loop_of for pedal_id in asked.pin_out)
    for row in plan.rig.loops:
        assert len(row.pedals) < 2 or asked.sharing
        assert not any(set(pair) <= set(row.pedals) for pair in asked.apart)
    for preset_id in asked.keep:
        left_on = {p.id for p in old.outside() if p.used == "always"}
        now = set(known.preset_pedals(known.presets[preset_id]))
        assert now - left_on == set(old.preset_pedals(old.presets[preset_id])) - left_on
        for a, b in zip(rig.songs, plan.rig.songs):
            for was, now in zip(a.sections, b.sections):
                assert was.preset != preset_id or now.preset == preset_id
    limit = rig.switcher.memories if asked.memories is None else asked.memories
    assert plan.objective["presets_used"] <= limit


def check(seed: int) -> str:
    """Check one drawn rig against everything there is; say how it ended."""
    rig, asked = drawn(seed)
    weights = weights_of(rig, asked)
    best = loop_oracle.best(rig, asked, weights)
    plan = plan_loops(rig, asked)
    if best is None:
        assert plan.status is Status.INFEASIBLE
        assert plan.conflict is not None
        return "impossible"
    assert plan.rig is not None
    check_figures(rig, plan)
    check_layout(rig, asked, plan)
    assert plan.lower_bound <= plan.value
    if plan.rig == rig:
        return "as it is"
    loops = plan.parts[0]
    least, full = best
    without = plan.objective["moves_without_bank_steps"], plan.objective["extra_presses"]
    weight = weights.move * without[0] + weights.extra * without[1]
    assert least <= weight
    assert loops.bound <= weights.shown(least)
    assert loops.value == weights.shown(weight)
    if not loops.proved:
        return "open"
    assert loops.value == weights.shown(least)
    if full is None or weight != least:
        return "free"
    figures = ("worst_change", "loops_used", "presets_used")
    assert tuple(plan.objective[figure] for figure in figures) == tuple(full)[1:]
    return "settled"


def test_against_all_layouts() -> None:
    """On 400 small rigs the plan is the best of all layouts, or proof that there is none."""
    ends = [check(seed) for seed in range(400)]
    assert ends.count("open") <= 4
    for end in ("impossible", "free", "settled"):
        assert ends.count(end) > 40


@pytest.mark.long
def test_against_all_layouts_thoroughly() -> None:
    """The same on thousands of rigs."""
    ends = [check(seed) for seed in range(10_000, 14_000)]
    assert ends.count("open") <= 40


def test_the_layout_that_is_known_to_fit(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a search finds nothing, the layout that proves a plan possible is the plan, whole."""
    ends = []
    for seed in range(60):
        rig, asked = drawn(seed)
        searched = plan_loops(rig, asked)
        with monkeypatch.context() as patched:
            patched.setattr(LoopSearch, "run", lambda search: SearchOutcome())
            plan = plan_loops(rig, asked)
        ends.append(plan.status)
        assert (plan.rig is None) == (searched.rig is None)
        if plan.rig is not None:
            check_figures(rig, plan)
            check_layout(rig, asked, plan)
            assert plan.parts[0].value >= searched.parts[0].bound
    assert 20 < ends.count(Status.FEASIBLE) < 60


TOGGLED = [seed for seed in range(120) if len(drawn(seed)[0].pedals) < 4]
"""Rigs that are small enough for the oracle to be quick."""


def check_toggling(seed: int) -> str:
    """Check one drawn rig whose switcher toggles loops."""
    rig, asked = drawn(seed, toggling=True)
    asked = Question(
        keep_order=True, pins=asked.pins, sharing=asked.sharing, memories=asked.memories,
        first=asked.first,
    )  # fmt: skip
    weights = weights_of(rig, asked)
    least = loop_oracle.best_toggling(rig, asked, weights)
    plan = plan_loops(rig, asked)
    if least is None:
        assert plan.rig is None
        return "impossible"
    if plan.rig is None:
        assert plan.status is Status.TIMED_OUT
        return "lost"
    check_figures(rig, plan)
    check_layout(rig, asked, plan)
    without = plan.objective["moves_without_bank_steps"], plan.objective["extra_presses"]
    assert least <= weights.move * without[0] + weights.extra * without[1]
    assert plan.parts[0].bound <= weights.shown(least)
    return "proved" if plan.parts[0].proved else "open"


def test_toggling_against_all_layouts() -> None:
    """Where loops can be toggled, bounds hold, and most small rigs are proved."""
    ends = [check_toggling(seed) for seed in TOGGLED]
    assert ends.count("proved") > 25
    assert ends.count("lost") == 0


@pytest.mark.long
def test_toggling_against_all_layouts_thoroughly() -> None:
    """The same on hundreds of rigs."""
    ends = [check_toggling(seed) for seed in range(1000, 1300)]
    assert ends.count("proved") > 200
    assert ends.count("lost") == 0


def board(**more: Any) -> Rig:
    """Three pedals in a row, the middle one hardly used, and two loops."""
    parts: dict[str, Any] = {
        "switcher": switcher(4, 4),
        "pedals": [pedal(pedal_id, "overdrive") for pedal_id in ("comp", "drive", "boost")],
        "loops": [loop(1, "comp"), loop(2, "boost"), loop(3, side="fx")],
        "chain": {"front": [1, "drive", 2], "fx": [3]},
        "presets": [
            preset("clean", memory=1),
            preset("rich", 1, memory=2),
            preset("loud", 1, 2, memory=3),
        ],
        "songs": [
            song("a", *["clean", "loud"] * 2, section("clean", plus=["drive"])),
            song("b", "rich"),
        ],
    }
    return make_rig(**(parts | more))


@pytest.mark.parametrize(
    ("asked", "moves", "in_loops"),
    [
        (Question(keep_order=True), 8, ["comp", "drive"]),
        (Question(keep_order=False), 5, ["comp", "boost"]),
        (Question(keep_order=True, pins={"drive": "out"}), 9, []),
        (Question(keep_order=True, loops={"front": 3, "fx": 0}), 4, ["comp", "drive", "boost"]),
        (Question(keep_order=True, total_loops=3), 4, ["comp", "drive", "boost"]),
        (
            Question(keep_order=True, pins={"comp": "out", "boost": "out"}, loops={"front": 3}),
            9,
            [],
        ),
        (Question(keep_order=True, keep=("rich",)), 8, ["comp", "drive"]),
    ],
)
def test_options(asked: Question, moves: int, in_loops: list[str]) -> None:
    """The order kept, a pedal caught in between costs its loop; other options shift the choice."""
    plan = plan_loops(board(), asked)
    assert plan.proved
    assert plan.moves_after == moves
    assert [pedal for row in plan.rig.loops for pedal in row.pedals] == in_loops
    check_layout(board(), asked, plan)


def test_a_pedal_left_free_before_a_section_without_preset_is_switched_in_time() -> None:
    """After that section it would be on the beat; in the one before, it is no extra press.

    By hand: both pedals go on for the last section, 2 moves; one of them, free in the second, goes
    on there, so that no press is an extra one.
    """
    rig = make_rig(
        switcher=switcher(2, 2),
        pedals=[pedal("drive", "overdrive"), pedal("echo", "delay")],
        chain={"front": ["drive", "echo"], "fx": []},
        presets=[preset("a", memory=1)],
        songs=[
            song(
                "x",
                "a",
                section("a", may=["echo"]),
                section(),
                section("a", plus=["drive", "echo"]),
            )
        ],
    )
    made = plan_loops(rig, Question("loops", total_loops=0))
    assert made.rig is not None
    assert (made.value, made.lower_bound) == (2, 2)
    assert count_song(made.rig, made.rig.songs[0]).extra_presses == 0


def test_what_is_impossible_is_explained() -> None:
    """Too few memories for the sounds: which sections clash, and what would do."""
    plan = plan_loops(
        board(switcher=switcher(2, 2)),
        Question(keep_order=False, pins={"comp": "in", "boost": "in"}),
    )
    assert plan.status is Status.INFEASIBLE
    assert plan.conflict.reason == (
        "With comp and boost in loops, no two of these 3 sounds can share a preset, so at least 3 "
        "presets are needed, but there is room for 2"
    )
    assert {(sound.name, sound.wants, sound.places) for sound in plan.conflict.sounds} == {
        ("clean", "none of them on", ("songs.a.sections.0", "songs.a.sections.2")),
        ("loud", "comp and boost on", ("songs.a.sections.1", "songs.a.sections.3")),
        ("rich", "comp on", ("songs.b.sections.0",)),
    }
    assert [relaxation.text for relaxation in plan.conflict.relaxations] == [
        "let comp stay outside the loops",
        "let boost stay outside the loops",
        "3 memories instead of 2, which means another switcher",
    ]


def test_too_few_loops_are_explained() -> None:
    """Pedals that must be in loops, and not enough loops once those between are counted."""
    plan = plan_loops(board(), Question(pins={"comp": "in", "boost": "in"}, keep_order=True))
    assert plan.status is Status.INFEASIBLE
    assert plan.conflict.reason == (
        "comp and boost must be in loops in front of the amp, and with them drive, caught between "
        "them in the chain: that takes 3 front loops, because no two of them can share one, but "
        "there are 2"
    )
    offered = [relaxation.text for relaxation in plan.conflict.relaxations]
    assert "let pedals outside the loops change places in the chain" in offered


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        (Question(pins={"drvie": "in"}), 'there is no pedal "drvie": did you mean "drive"'),
        (Question(pins={"drive": "under"}), 'can be "in" a loop or "out", not "under"'),
        (Question(keep=("lowd",)), 'there is no preset "lowd": did you mean "loud"'),
        (Question(memories=0), "memories must be 1 to 128, not 0"),
        (Question(memories=129), "memories must be 1 to 128, not 129"),
        (Question(total_loops=-1), "loops in all must be 0 to 99, not -1"),
        (Question(loops={"back": 2}), 'a loop is on side "front" or "fx", not "back"'),
    ],
)
def test_silly_options(asked: Question, message: str) -> None:
    """An option that makes no sense is refused with the reason."""
    with pytest.raises(PlanError, match=message):
        plan_loops(board(), asked)


def test_no_switcher() -> None:
    """Without a switcher there is nothing to plan."""
    with pytest.raises(PlanError, match="the rig has no switcher"):
        plan_loops(make_rig(pedals=[pedal("wah")], presets=[preset("a")], songs=[song("x", "a")]))


def test_pedals_that_no_plan_touches() -> None:
    """A rocked wah stays outside and free of presses; a pedal at home stays in no chain."""
    rig = make_rig(
        switcher=switcher(4, 4),
        pedals=[
            pedal("wah", "wah", use="treadle"),
            pedal("drive", "overdrive"),
            pedal("spare", "fuzz", use="home"),
        ],
        loops=[loop(1), loop(2)],
        chain={"front": ["wah", "drive", 1, 2]},
        presets=[preset("clean", memory=1)],
        songs=[
            song("a", section("clean", plus=["wah"]), section("clean", plus=["drive"]), "clean")
        ],
        setlists=[setlist("night", "a")],
    )
    plan = plan_loops(rig, question=Question(keep_order=False))
    assert plan.rig is not None
    known = lookup(plan.rig)
    assert [p.used for p in plan.rig.pedals] == ["treadle", "foot", "home"]
    assert "wah" not in known.loop_of
    assert not {"spare"} & {*plan.rig.chain.front, *plan.rig.chain.fx, *known.loop_of}
    assert plan.rig.songs[0].sections[0].plus == ("wah",)
    assert plan.moves_after == count_song(plan.rig, plan.rig.songs[0]).moves == 2
    assert count_song(rig, rig.songs[0]).moves == 2


def test_a_plan_that_is_not_proved_says_whether_time_was_short() -> None:
    """Sounds in banks of one need bank steps, which loops are chosen without: open, or stopped."""
    rig = board(switcher=switcher(4, 1))
    ends = set()
    for looks in range(120):
        clock = Clock(looks)
        plan = plan_loops(rig, control=clock)
        assert not plan.proved
        late = clock.looks < 0
        assert plan.status is (Status.TIMED_OUT if late else Status.FEASIBLE)
        ends.add((late, plan.rig is not None))
    assert ends >= {(True, True), (False, True)}


def searched(rig: Rig, control: Control | None = None) -> SearchOutcome:
    """The outcome of a search over all sets of pedals, in whatever order they stand."""
    needs = needs_of(rig, evening_of(rig))
    limits = limits_of(rig, needs, Question(keep_order=False))
    return LoopSearch(needs, limits, 4, control=control).run()


def test_pedals_left_out_of_the_search_are_no_promise(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where only some sets are looked at, the bound allows that the others are better.

    Stopped soon, it knows little, and never that less than nothing is needed.
    """
    ends = []
    for seed in range(80):
        rig, _ = drawn(seed)
        whole = searched(rig)
        if not whole.designs or whole.bound < whole.designs[0].cost:
            continue
        with monkeypatch.context() as patched:
            patched.setattr(search, "MOST_FREE", 1)
            some = searched(rig)
            stopped = [searched(rig, Clock(looks)) for looks in range(11, 17)]
        least = whole.designs[0].cost
        if some.left_out and some.designs:
            assert some.bound <= least <= some.designs[0].cost
            ends.append((some.bound > 0, some.designs[0].cost > least))
        for outcome in stopped:
            assert 0 <= outcome.bound <= least
    often = Counter(ends)
    assert min(often[end] for end in ((False, False), (True, False), (True, True))) > 1
