"""Switches: as good as every assignment of memories there is, and counted as the report counts."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
import pytest
from examples import examples
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from moves.rigs_drawn import Data, rigs
from rigs_made import loop, make_rig, pedal, preset, setlist, song, switcher

from rigtui.model import Rig, rig_from_data
from rigtui.model.rig import Switcher
from rigtui.moves import count_setlist, count_song
from rigtui.plan.answer import plan
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError, Status
from rigtui.plan.memories.banks import Ints
from rigtui.plan.memories.placing import place
from rigtui.plan.memories.switches import changes_between, presets_of, stored
from rigtui.plan.whole.switches import plan_switches
from rigtui.plan.words.steps import steps

small = rigs(
    most_loops=2, most_presets=4, most_sections=5, most_songs=2, most_outside=1, copies=False
)
some = examples(80)


def drawn(data: Data) -> Rig:
    """A drawn rig whose evening plays something."""
    rig = rig_from_data(data)
    played = set(rig.setlists[0].song_ids) & {song.id for song in rig.songs}
    assume(played)
    return rig


def least(rig: Rig, pins: dict[str, int]) -> tuple[int, int, int] | None:
    """Bank steps inside songs, between songs, and travel of the best of all assignments.

    None if there is no assignment at all.
    """
    evening = evening_of(rig)
    ids = presets_of(rig, evening)
    ids += [pinned for pinned in pins if pinned not in ids]
    flow = changes_between(rig, evening, ids)
    known = {preset.id for preset in rig.presets}
    rows = []
    for played in rig.songs:
        if played.id in evening.times:
            row = [part.preset for part in played.sections if part.preset in known]
            cold = bool(played.sections) and played.sections[0].preset not in known
            rows.append((evening.times[played.id], cold, row))
    board = rig.switcher
    figures = []
    for chosen in itertools.permutations(range(1, board.memories + 1), len(ids)):
        memory = dict(zip(ids, chosen))
        if any(memory[pinned] != wanted for pinned, wanted in pins.items()):
            continue
        total = 0
        for times, cold, row in rows:
            banks = [0] * cold + [(memory[preset_id] - 1) // board.bank_size for preset_id in row]
            for here, there in itertools.pairwise(banks):
                total += times * bank_steps(board, here, there)
        gaps = between(
            rig, {preset_id: (memory[preset_id] - 1) // board.bank_size for preset_id in ids}
        )
        figures.append((total, gaps, travel(board, flow, chosen)))
    return min(figures, default=None)


def travel(board: Switcher, flow: Ints, memories: Sequence[int]) -> int:
    """Switches that the foot passes within banks."""
    spots = [divmod(memory - 1, board.bank_size) for memory in memories]
    return sum(
        int(flow[a, b]) * abs(here[1] - there[1])
        for a, here in enumerate(spots)
        for b, there in enumerate(spots)
        if here[0] == there[0]
    )


def bank_steps(board: Switcher, here: int, there: int) -> int:
    """Bank steps from one bank to another, by the counting rules."""
    if not board.bank_wrap:
        return abs(there - here)
    up, down = (there - here) % board.banks, (here - there) % board.banks
    return up if board.bank_buttons == "up" else min(up, down)


def between(rig: Rig, bank: dict[str, int]) -> int:
    """Bank steps between the songs of all setlists, each set up from the end of the last."""
    songs = {song.id: song for song in rig.songs}
    total = 0
    for _, walk in evening_of(rig).walks:
        here: int | None = None
        for played in walk:
            row = [part.preset for part in songs[played].sections]
            if here is not None and row and row[0] in bank:
                total += bank_steps(rig.switcher, here, bank[row[0]])
            here = next((bank[preset_id] for preset_id in reversed(row) if preset_id in bank), here)
    return total


def check(rig: Rig, pins: dict[str, int]) -> None:
    plan = plan_switches(rig, Question(pin_switch=pins, copies=0))
    best = least(rig, pins)
    if best is None:
        ids = {*presets_of(rig, evening_of(rig)), *pins}
        sounds = {(row.loops, row.channel, row.midi) for row in rig.presets if row.id in ids}
        if len(sounds) < len(ids):
            return  # presets in no memory may share another's that makes the same sound
        assert plan.status is Status.INFEASIBLE
        assert plan.conflict is not None
        assert plan.conflict.relaxations
        return
    assert plan.rig is not None
    if plan.rig == rig and any(len(row.memories) != 1 for row in rig.presets):
        return  # what is in several memories, or in none of its own, needs fewer steps as it stands
    assert plan.status is Status.OPTIMAL
    assert plan.moves_after == count_setlist(plan.rig, plan.rig.setlists[0]).moves
    songs = {song.id: song for song in plan.rig.songs}
    bank_steps_ = sum(
        change.bank_steps
        for song_id in plan.rig.setlists[0].song_ids
        if song_id in songs
        for change in count_song(plan.rig, songs[song_id]).changes
    )
    bank = {
        preset.id: (preset.memory - 1) // plan.rig.switcher.bank_size
        for preset in plan.rig.presets
        if preset.memory is not None and preset.memory <= plan.rig.switcher.memories
    }
    assert (bank_steps_, between(plan.rig, bank), plan.objective["travel"]) == best
    assert plan.lower_bound == plan.value
    memories = [preset.memory for preset in plan.rig.presets if preset.memory is not None]
    in_range = [memory for memory in memories if memory <= plan.rig.switcher.memories]
    assert len(set(in_range)) == len(in_range)
    for preset_id, memory in pins.items():
        assert {p.id: p.memory for p in plan.rig.presets}[preset_id] == memory
    stays = [p.id for p, q in zip(rig.presets, plan.rig.presets) if p.memory == q.memory]
    assert len(steps(rig, plan.rig, evening_of(rig))) == len(rig.presets) - len(stays)


@some
@given(small, st.integers(0, 3), st.integers(1, 6))
def test_against_all_assignments(data: Data, which: int, memory: int) -> None:
    """Moves as the report counts them, steps between songs, then travel: least of all."""
    data["switcher"]["memories"] = min(data["switcher"]["memories"], 6)
    rig = drawn(data)
    pins = {}
    if which < len(rig.presets) and memory <= rig.switcher.memories:
        pins = {rig.presets[which].id: memory}
    check(rig, pins)


@pytest.mark.long
@settings(max_examples=3000, suppress_health_check=list(HealthCheck))
@given(
    rigs(most_loops=2, most_presets=5, most_sections=6, most_songs=2, most_outside=1, copies=False)
)
def test_against_all_assignments_thoroughly(data: Data) -> None:
    """The same on thousands of rigs, of up to five presets."""
    data["switcher"]["memories"] = min(data["switcher"]["memories"], 7)
    check(drawn(data), {})


@examples(40)
@given(small)
def test_copies_are_counted(data: Data) -> None:
    """With copies the plan is never worse, and promises what is counted."""
    rig = drawn(data)
    alone, copied = plan_switches(rig), plan_switches(rig, Question(copies=3))
    if alone.rig is None:
        assert copied.rig is None
        return
    assert copied.moves_after == count_setlist(copied.rig, copied.rig.setlists[0]).moves
    assert copied.lower_bound <= copied.value <= alone.value


def two_banks() -> Rig:
    """Two pairs of presets that belong together, each pair torn apart."""
    return make_rig(
        switcher=switcher(4, 2),
        presets=[preset(letter, memory=at + 1) for at, letter in enumerate("abcd")],
        songs=[song("x", "a", "c", "a", "c"), song("y", "b", "d", "b")],
        setlists=[setlist("night", "x", "y", "y")],
    )


def test_pairs_are_put_together() -> None:
    """Presets that follow one another come into one bank, and the steps say so."""
    rig = two_banks()
    plan = plan_switches(rig)
    assert (plan.moves_before, plan.moves_after, plan.lower_bound) == (14, 7, 7)
    assert steps(rig, plan.rig, evening_of(rig)) == (
        "store c in bank 1, switch 2: no loop",
        "store b in bank 2, switch 1: no loop",
    )


def test_a_copy_saves_bank_steps() -> None:
    """A preset that two banks need is copied into the spare memory.

    By hand: five recalls a song, and each song needs a bank step wherever d or e is not beside a:
    3 with a in bank 1 alone. With a in bank 2 too, one, as the song starts in bank 1.
    """
    rig = make_rig(
        switcher=switcher(6, 3),
        presets=[preset(letter, memory=at + 1) for at, letter in enumerate("abcde")],
        songs=[song("x", "a", "b", "c", "a", "b", "c"), song("y", "a", "d", "e", "a", "d", "e")],
    )
    alone, copied = (plan_switches(rig, Question(copies=most)) for most in (0, 1))
    assert (alone.moves_after, copied.moves_after) == (13, 11)
    assert copied.rig is not None
    assert copied.rig.presets[0].memories == (1, 6)
    assert steps(rig, copied.rig, evening_of(rig)) == (
        "store a in bank 2, switch 3 as well: no loop",
    )


@pytest.mark.parametrize(
    ("pins", "message"),
    [
        ({"leed": 1}, 'there is no preset "leed"'),
        ({"a": 9}, "a can't be in memory 9: the switcher has memories 1 to 4"),
        ({"a": 0}, "can't be in memory 0"),
    ],
)
def test_silly_pins(pins: dict[str, int], message: str) -> None:
    """A pin that names nothing is refused with what there is."""
    with pytest.raises(PlanError, match=message):
        plan_switches(two_banks(), Question(pin_switch=pins))


def test_two_pins_on_one_memory() -> None:
    """Two presets in one memory make no sense."""
    with pytest.raises(PlanError, match="a and b can't both be in memory 2"):
        plan_switches(two_banks(), Question(pin_switch={"a": 2, "b": 2}))


def test_too_few_memories() -> None:
    """More presets than memories is said with both numbers."""
    rig = two_banks()
    rig = rig.model_copy(update={"switcher": rig.switcher.model_copy(update={"memories": 3})})
    plan = plan_switches(rig)
    assert plan.conflict.reason == (
        "these songs use 4 presets (1 distinct: a, b, c and d switch the same), and the switcher "
        "stores 3: each takes a memory as long as it is a preset of its own"
    )
    assert [way.text for way in plan.conflict.relaxations] == [
        "merge presets that switch the same, as the report offers",
        "4 memories instead of 3, which means another switcher",
    ]


def test_what_to_do_is_read_off_the_two_rigs() -> None:
    """New presets, changed ones, ones that go, memories and copies are told, each once."""
    presets = [preset("a", 1, memory=1), preset("b", memory=2), preset("c", 2, memory=3)]
    now = make_rig(
        switcher=switcher(6, 3), pedals=[pedal("od"), pedal("echo", "delay")],
        loops=[loop(1, "od"), loop(2, "echo")], presets=presets,
        songs=[song("x", "a", "b", "c")],
    )  # fmt: skip
    new = [preset("a", 1, 2, memory=1), preset("a-2", 1, 2, memory=5, name="A copy"),
           preset("d", 2, memory=2, name="Dee")]  # fmt: skip
    then = make_rig(
        switcher=switcher(6, 3), pedals=[pedal("od"), pedal("echo", "delay")],
        loops=[loop(1, "od"), loop(2, "echo")], presets=new, songs=[song("x", "a", "d", "a-2")],
    )  # fmt: skip
    assert steps(now, then, evening_of(now)) == (
        "reprogram a in bank 1, switch 1: loops 1, 2; it was loop 1",
        "store Dee in bank 1, switch 2: loop 2; a new preset",
        "store A copy in bank 2, switch 2: loops 1, 2; a new preset",
        "relearn 2 sections of 1 song: x",
        "b is no longer needed: its sections share other presets",
        "c is no longer needed: its sections share other presets",
    )


def test_every_memory_of_a_preset_is_to_be_stored() -> None:
    """A preset in several memories is stored in each that does not hold it yet."""
    now = make_rig(
        switcher=switcher(6, 3), loops=[loop(1, "od")], pedals=[pedal("od")],
        presets=[preset("a", 1, memory=1, copies=[2])], songs=[song("x", "a")],
    )  # fmt: skip
    then = make_rig(
        switcher=switcher(6, 3), loops=[loop(1, "od")], pedals=[pedal("od")],
        presets=[preset("a", 1, memory=1, copies=[4, 6])], songs=[song("x", "a")],
    )  # fmt: skip
    assert steps(now, then, evening_of(now)) == (
        "store a in bank 2, switch 1 as well: loop 1",
        "store a in bank 2, switch 3 as well: loop 1",
    )


def test_copies_that_the_file_has_spare_steps_that_a_placement_needs() -> None:
    """A copy stays in the memory that is left: what is promised is what is counted with it."""
    rig = make_rig(
        switcher=switcher(3, 1, bank_buttons="up"),
        presets=[preset("a"), preset("b", memory=2, copies=[3])],
        songs=[song("x", "b", "a", "b", "b")],
    )
    made = plan(rig, Question("switches"))
    assert made.rig is not None
    assert made.moves_after == count_song(made.rig, made.rig.songs[0]).moves
    assert made.lower_bound <= made.moves_after


def test_presets_that_share_a_sound_and_have_no_memory_are_walked_in_the_bank_shown() -> None:
    """Two stored presets, and two of one's sound in none: what is promised is what is counted."""
    rig = make_rig(
        switcher=switcher(2, 1),
        presets=[preset("a"), preset("b", memory=2), preset("c"), preset("d", memory=1)],
        songs=[song("x", "d", "a", "b"), song("y", "a", "b", "c", "d", "b")],
        setlists=[setlist("night", "x", "y")],
    )
    made = plan(rig, Question("switches"))
    assert made.rig is not None
    assert made.moves_after == count_setlist(made.rig, made.rig.setlists[0]).moves
    assert made.lower_bound <= made.moves_after


def test_of_equal_placements_the_one_that_moves_least_is_taken() -> None:
    """Turned round the ring and the row, what stands in the other order is as good: it stays."""
    board = Switcher(memories=4, bank_size=2)
    flow = np.zeros((4, 4), dtype=np.int64)
    flow[0, 1] = flow[2, 3] = 3
    for old in ((1, 2, 3, 4), (4, 3, 2, 1), (3, 4, 1, 2)):
        assert place(board, flow, old=old).memories == old


def test_a_preset_without_a_place_goes_where_no_copy_is_if_it_can() -> None:
    """Copies of presets that are placed anew are gone; those of others are the last to give way."""
    rig = make_rig(
        switcher=switcher(4, 2),
        presets=[preset("a", memory=1, copies=[3]), preset("b", memory=2),
                 preset("c", memory=4)],
    )  # fmt: skip
    assert rig.switcher is not None
    new = stored(rig, rig.switcher, {"c": 2})
    rows = {row.id: (row.memory, row.copies) for row in new.presets}
    assert rows == {"a": (1, (3,)), "b": (4, ()), "c": (2, ())}
