"""What `move-outside` promises is what the counting says of the rig after its fix."""

from __future__ import annotations

import re

from checks.rigs_wild import doubled_rigs
from hypothesis import given, settings
from moves.rigs_drawn import Data
from rigs_made import loop, make_rig, pedal, preset, song, switcher

from rigtui.checks import Finding, check
from rigtui.model import Preset, Rig, rig_from_data
from rigtui.moves import count_setlist, count_song

CHANGED = r"(\d+) {} (more|fewer) \((\d+) instead of (\d+)\)"
SAME = r"no {} more or fewer \((\d+)\)"


def promise(message: str, noun: str) -> tuple[int, int]:
    """Moves before and after, as a message has them."""
    changed = re.search(CHANGED.format(f"{noun}s?"), message)
    if changed:
        by, way, after, before = int(changed[1]), changed[2], int(changed[3]), int(changed[4])
        assert after - before == (by if way == "more" else -by)
        return before, after
    same = re.search(SAME.format(noun), message)
    assert same, message
    return int(same[1]), int(same[1])


def moves(rig: Rig) -> int:
    if not rig.setlists:
        return sum(count_song(rig, song).moves for song in rig.songs)
    return sum(count_setlist(rig, setlist).moves for setlist in rig.setlists)


def set_up_moves(rig: Rig) -> int:
    return sum(count_setlist(rig, setlist).set_up_moves for setlist in rig.setlists)


def distinct(rig: Rig) -> int:
    """How many different things the songs' presets are to the switcher."""
    used = {section.preset for song in rig.songs for section in song.sections}

    def stores(preset: Preset) -> tuple[frozenset[int], str]:
        return frozenset(preset.loops), preset.channel or ""

    needed = [preset for preset in rig.presets if preset.id in used] or list(rig.presets)
    return len({stores(preset) for preset in needed})


def memories(rig: Rig) -> int:
    return len({preset.memory for preset in rig.presets} - {None})


def all_stored(rig: Rig) -> bool:
    """Whether each needed preset alone has a memory that the switcher has."""
    used = {section.preset for song in rig.songs for section in song.sections}
    needed = [preset for preset in rig.presets if preset.id in used] or list(rig.presets)
    holders: dict[int, list[str]] = {}
    for one in rig.presets:
        holders.setdefault(one.memory or 0, []).append(one.id)
    most = rig.switcher.memories if rig.switcher else 0
    real = {memory for memory in holders if 1 <= memory <= most}
    return all(one.memory in real and holders[one.memory] == [one.id] for one in needed)


def check_promises(rig: Rig) -> int:
    """Check all findings of the rule in a rig; return how many there are."""
    findings = [one for one in check(rig) if one.rule == "move-outside"]
    for finding in findings:
        check_promise(rig, finding)
    return len(findings)


def check_promise(rig: Rig, finding: Finding) -> None:
    assert finding.fix is not None
    after = finding.fix.edit(rig)
    assert promise(finding.message, "move") == (moves(rig), moves(after))
    if rig.setlists:
        assert promise(finding.message, "set-up move") == (set_up_moves(rig), set_up_moves(after))
    fewer = re.search(r"would leave (\d+) distinct presets? where (\d+) are", finding.message)
    assert fewer
    assert (int(fewer[1]), int(fewer[2])) == (distinct(after), distinct(rig))
    assert distinct(after) < distinct(rig)
    freed = re.search(r"(\d+) memor(?:y|ies) freed", finding.message)
    assert freed
    assert int(freed[1]) == memories(rig) - memories(after)
    dearer = moves(after) > moves(rig)
    assert ("every preset has a memory" in finding.message) == (dearer and all_stored(rig))
    pedal_id = finding.where.removeprefix("pedals.")
    assert all(pedal_id not in loop.pedals for loop in after.loops)


@settings(max_examples=60)
@given(doubled_rigs())
def test_promised_moves_and_memories_are_those_of_the_mended_rig(data: Data) -> None:
    """Moves, set-up moves, distinct presets and memories are as the finding says, counted anew."""
    check_promises(rig_from_data(data))
    check_promises(rig_from_data({key: data[key] for key in data if key != "setlists"}))


@settings(max_examples=60)
@given(doubled_rigs())
def test_it_is_silent_exactly_where_no_pedal_alone_would_leave_fewer(data: Data) -> None:
    """A pedal alone in a loop is named if, and only if, two used presets differ in it alone."""
    rig = rig_from_data(data)
    named = {one.where for one in check(rig) if one.rule == "move-outside"}
    used = {section.preset for song in rig.songs for section in song.sections}
    needed = [preset for preset in rig.presets if preset.id in used] or list(rig.presets)
    wanted = set()
    for home in rig.loops:
        pedals = [pedal for pedal in rig.pedals if pedal.id in home.pedals]
        if len(pedals) == 1 and pedals[0].kind != "tuner":
            for one in needed:
                for other in needed:
                    alike = (one.channel or "") == (other.channel or "")
                    if alike and set(one.loops) ^ set(other.loops) == {home.number}:
                        wanted.add(f"pedals.{pedals[0].id}")
    assert named == wanted


def test_what_wins_most_comes_first() -> None:
    """The pedal that frees a memory stands first, and of those that free none the dearer last.

    By hand: only the presets that Drive parts are both stored, so it alone frees a memory. The
    song takes 5 presses. With Boost outside, boosted to wah takes one more; with Wah outside,
    dirt to wah takes two (recall, wah on) and wah to boosted two.
    """
    names = ("clean", "boosted", "clean", "dirt", "wah", "boosted")
    rig = make_rig(
        switcher=switcher(),
        pedals=[pedal(one, name=one.title()) for one in ("wah", "boost", "drive")],
        loops=[loop(1, "boost"), loop(2, "wah"), loop(3, "drive")],
        chain={"front": [1, 2, 3]},
        presets=[
            preset("clean", memory=1),
            preset("boosted", 1),
            preset("wah", 2),
            preset("dirt", 3, memory=2),
        ],
        songs=[song("one", *names)],
    )
    found = [one for one in check(rig) if one.rule == "move-outside"]
    costs = [after - before for before, after in (promise(one.message, "move") for one in found)]
    assert [one.where for one in found] == ["pedals.drive", "pedals.boost", "pedals.wah"]
    assert costs == [1, 1, 2]


def test_a_pedal_that_earns_its_loop_is_not_talked_out_of_it() -> None:
    """Where it costs moves and no memory is wanting, the finding says that there is no need.

    By hand: clean and dirt are a recall apart; with Wah outside, each change to loud takes two.
    """
    parts = {
        "switcher": switcher(memories=4),
        "pedals": [pedal("wah", name="Wah"), pedal("drive", name="Drive")],
        "loops": [loop(1, "wah"), loop(2, "drive")],
        "chain": {"front": [1, 2]},
        "songs": [song("one", "clean", "loud", "clean", "dirt", "loud")],
    }
    presets = [preset("clean", memory=1), preset("dirt", 2, memory=2)]
    loud = [preset("loud", 1, 2, memory=3), preset("loud", 1, 2)]
    said = [
        next(one.message for one in check(make_rig(**parts, presets=[*presets, third]))
             if one.rule == "move-outside" and one.where == "pedals.wah")
        for third in loud
    ]  # fmt: skip
    assert "more (" in said[0]
    assert "; every preset has a memory, so this only helps if you want one for more" in said[0]
    assert "every preset has a memory" not in said[1]
