"""What `move-outside` promises is what the counting says of the rig after its fix."""

from __future__ import annotations

import re

from checks.rigs_wild import doubled_rigs
from examples import examples
from hypothesis import given
from moves.rigs_drawn import Data
from rigs_made import loop, make_rig, pedal, preset, song, switcher

from rigtui.checks import Finding, check
from rigtui.model import Preset, Rig, rig_from_data
from rigtui.model.edits.outside import take_outside
from rigtui.model.midi import MidiSend
from rigtui.moves import count_setlist, count_song

CHANGED = r"(\d+) {} (more|fewer) \((\d+) instead of (\d+)\)"
SAME = r"(\d+) {} as today"


def promise(message: str, noun: str) -> tuple[int, int]:
    """Moves before and after, as a message has them."""
    nouns = "extra press(?:es)?" if noun == "extra press" else f"{noun}s?"
    changed = re.search(CHANGED.format(nouns), message)
    if changed:
        by, way, after, before = int(changed[1]), changed[2], int(changed[3]), int(changed[4])
        assert after - before == (by if way == "more" else -by)
        return before, after
    same = re.search(SAME.format(nouns), message)
    assert same, message
    return int(same[1]), int(same[1])


def moves(rig: Rig) -> int:
    if not rig.setlists:
        return sum(count_song(rig, song).moves for song in rig.songs)
    return sum(count_setlist(rig, setlist).moves for setlist in rig.setlists)


def extra_presses(rig: Rig) -> int:
    if not rig.setlists:
        return sum(count_song(rig, song).extra_presses for song in rig.songs)
    return sum(count_setlist(rig, setlist).extra_presses for setlist in rig.setlists)


def set_up_moves(rig: Rig) -> int:
    return sum(count_setlist(rig, setlist).set_up_moves for setlist in rig.setlists)


def distinct(rig: Rig) -> int:
    """How many different things the songs' presets are to the switcher."""
    used = {section.preset for song in rig.songs for section in song.sections}

    def stores(preset: Preset) -> tuple[frozenset[int], str, tuple[MidiSend, ...]]:
        return frozenset(preset.loops), preset.channel or "", preset.midi

    needed = [preset for preset in rig.presets if preset.id in used] or list(rig.presets)
    return len({stores(preset) for preset in needed})


def memories(rig: Rig) -> int:
    return len({memory for preset in rig.presets for memory in preset.memories})


def freed(rig: Rig, after: Rig) -> int:
    """Memories that hold nothing any more; while none holds anything, presets fewer to store."""
    if not memories(rig):
        return distinct(rig) - distinct(after)
    return memories(rig) - memories(after)


def short(rig: Rig) -> bool:
    """Whether the songs use more distinct presets than there are memories."""
    return rig.switcher is not None and distinct(rig) > rig.switcher.memories


def check_promises(rig: Rig) -> int:
    """Check all findings of the rule in a rig; return how many there are."""
    findings = [finding for finding in check(rig) if finding.rule == "move-outside"]
    for finding in findings:
        check_promise(rig, finding)
    return len(findings)


def check_promise(rig: Rig, finding: Finding) -> None:
    assert finding.fix is not None
    after = finding.fix.edit(rig)
    assert promise(finding.message, "move") == (moves(rig), moves(after))
    assert promise(finding.message, "extra press") == (extra_presses(rig), extra_presses(after))
    if rig.setlists:
        assert promise(finding.message, "set-up move") == (set_up_moves(rig), set_up_moves(after))
    fewer = re.search(r"cuts (\d+) distinct presets to (\d+)", finding.message)
    assert fewer
    assert (int(fewer[1]), int(fewer[2])) == (distinct(rig), distinct(after))
    assert distinct(after) < distinct(rig)
    said = re.search(r"frees (\d+) memor(?:y|ies)", finding.message)
    assert said
    assert int(said[1]) == freed(rig, after) > 0
    assert finding.severity == ("warning" if short(rig) else "advice")
    dearer = moves(after) > moves(rig)
    assert ("memories enough" in finding.message) == (dearer and not short(rig))
    pedal_id = finding.where.removeprefix("pedals.")
    assert all(pedal_id not in loop.pedals for loop in after.loops)


@examples(30)
@given(doubled_rigs())
def test_promised_moves_and_memories_are_those_of_the_mended_rig(data: Data) -> None:
    """Moves, set-up moves, distinct presets and memories are as the finding says, counted anew."""
    check_promises(rig_from_data(data))
    check_promises(rig_from_data({key: data[key] for key in data if key != "setlists"}))


@examples(30)
@given(doubled_rigs())
def test_it_is_silent_exactly_where_no_pedal_alone_would_free_a_memory(data: Data) -> None:
    """A pedal alone in a loop is named if, and only if, fewer presets and memories would do."""
    rig = rig_from_data(data)
    named = {finding.where for finding in check(rig) if finding.rule == "move-outside"}
    wanted = set()
    for home in rig.loops:
        pedals = [pedal for pedal in rig.pedals if pedal.id in home.pedals]
        if len(pedals) == 1 and pedals[0].kind != "tuner":
            after = take_outside(rig, pedals[0].id)
            if distinct(after) < distinct(rig) and freed(rig, after) > 0:
                wanted.add(f"pedals.{pedals[0].id}")
    assert named == wanted


def boosted_rig(**memory: int) -> Rig:
    """Three loops, of which two double presets; the memories given hold the presets so named."""
    loops = {"clean": (), "boosted": (1,), "wah": (2,), "dirt": (3,)}
    return make_rig(
        switcher=switcher(memories=max(memory.values(), default=1)),
        pedals=[pedal(pedal_id, name=pedal_id.title()) for pedal_id in ("wah", "boost", "drive")],
        loops=[loop(1, "boost"), loop(2, "wah"), loop(3, "drive")],
        chain={"front": [1, 2, 3]},
        presets=[
            preset(name, *numbers, **({"memory": memory[name]} if name in memory else {}))
            for name, numbers in loops.items()
        ],
        songs=[song("one", "clean", "boosted", "clean", "dirt", "wah", "boosted")],
    )


def test_what_wins_most_comes_first() -> None:
    """Of pedals that free as many memories, the one that costs the least moves stands first.

    By hand: the song takes 5 presses. With Boost or Drive outside, one change takes two; with Wah
    outside, dirt to wah takes two (recall, wah on) and wah to boosted two.
    """
    rig = boosted_rig(clean=1, boosted=2, wah=3, dirt=4)
    findings = [finding for finding in check(rig) if finding.rule == "move-outside"]
    costs = [
        after - before
        for before, after in (promise(finding.message, "move") for finding in findings)
    ]
    assert [finding.where for finding in findings] == ["pedals.boost", "pedals.drive", "pedals.wah"]
    assert costs == [1, 1, 2]


def test_memories_that_are_short_make_it_a_warning() -> None:
    """Four presets want a memory each: three are too few, four are enough, none stored is none.

    By hand: clean and dirt are stored, so only Drive parts two that both have a memory.
    """
    wanting = [
        finding for finding in check(boosted_rig(clean=1, dirt=2)) if finding.rule == "move-outside"
    ]
    assert [(finding.where, finding.severity) for finding in wanting] == [
        ("pedals.drive", "warning")
    ]
    assert "memories enough" not in wanting[0].message
    stored = check(boosted_rig(clean=1, boosted=2, wah=3, dirt=4))
    enough = [finding for finding in stored if finding.rule == "move-outside"]
    assert [finding.severity for finding in enough] == ["advice"] * 3
    assert "; you have memories enough, so it helps only if you want one" in enough[0].message
    planned = [finding for finding in check(boosted_rig()) if finding.rule == "move-outside"]
    assert {finding.where for finding in planned} == {"pedals.boost", "pedals.wah", "pedals.drive"}
    assert {finding.severity for finding in planned} == {"warning"}
