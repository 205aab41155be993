"""Two sides' edits of one rig: both are in the result, or the player is told where they clash."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

import pytest
from edits_drawn import draw_edit, draw_edits
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import loop, make_data, make_rig, pedal, preset, section, setlist, song, switcher
from store.spelling import draw_rig

from rigtui.model import Rig, edits, rig_from_data, rig_to_data
from rigtui.model.merge import merge
from rigtui.model.merge_lists import merged_list

SEEDS = st.integers(0, 2**40)


def base() -> Rig:
    """Three songs, two presets, a setlist of one set."""
    names = ("Intro", "Verse", "Chorus", "Solo")
    return make_rig(
        switcher=switcher(),
        pedals=[pedal("wah"), pedal("drive"), pedal("echo")],
        loops=[loop(1, "drive"), loop(2, "echo")],
        chain={"front": ["wah", 1, 2]},
        presets=[preset("clean", memory=1), preset("lead", 1, 2, memory=2)],
        songs=[song(id, *(section("clean", name=name) for name in names)) for id in "abc"],
        setlists=[setlist("friday", "a", "b", "c")],
    )


def both(mine: Rig, theirs: Rig) -> Rig:
    """The merge of two rigs that were made of `base`."""
    merged = merge(base(), mine, theirs)
    assert merged.rig is not None, merged.clashes
    return merged.rig


def test_a_side_that_did_nothing_changes_nothing() -> None:
    """The other side's rig is the result, and the same edit on both sides is one edit."""
    old, new = base(), edits.set_song(base(), "a", tempo=90)
    assert merge(old, new, old).rig == merge(old, old, new).rig == merge(old, new, new).rig == new


APART: dict[str, tuple[Any, Any]] = {
    "two songs": (
        lambda rig: edits.set_song(rig, "a", tempo=90),
        lambda rig: edits.set_song(rig, "b", tempo=91),
    ),
    "two keys of a song": (
        lambda rig: edits.set_song(rig, "a", tempo=90),
        lambda rig: edits.set_song(rig, "a", title="Low Fen"),
    ),
    "two sections of a song": (
        lambda rig: edits.set_section(rig, "a", 0, bars=8),
        lambda rig: edits.set_section(rig, "a", 1, bars=12),
    ),
    "two keys of a section": (
        lambda rig: edits.set_section(rig, "a", 1, bars=8),
        lambda rig: edits.map_section(rig, "a", 1, "lead"),
    ),
    "a table and a song": (
        lambda rig: edits.set_amp(rig, name="Combo"),
        lambda rig: edits.delete_song(rig, "b"),
    ),
    "waivers of two findings": (
        lambda rig: edits.waive(rig, "tail-cut", "songs.a", ""),
        lambda rig: edits.waive(rig, "tail-cut", "songs.b", ""),
    ),
    "an order and a row": (
        lambda rig: edits.move_song(rig, "a", 2),
        lambda rig: edits.set_song(rig, "a", tempo=90),
    ),
    "both ends of a chain": (
        lambda rig: edits.set_chain(rig, "front", (1, "wah", *rig.chain.front[2:])),
        lambda rig: edits.set_chain(rig, "front", (*rig.chain.front, "drive")),
    ),
}
FOLLOWS = {
    "a section that moves along": (
        lambda rig: edits.delete_section(rig, "a", 0),
        lambda rig: edits.set_section(rig, "a", 2, bars=12),
        "Chorus",
    ),
    "as many sections, but other ones": (
        lambda rig: edits.add_section(edits.delete_section(rig, "a", 0), "a", "End", 2),
        lambda rig: edits.set_section(rig, "a", 1, bars=12),
        "Verse",
    ),
}


@pytest.mark.parametrize("name", APART)
def test_edits_of_different_places_are_both_there(name: str) -> None:
    """One after the other or merged, it comes to the same, whichever side is which."""
    first, other = APART[name]
    mine, theirs, wanted = first(base()), other(base()), other(first(base()))
    for merged in (both(mine, theirs), both(theirs, mine)):
        assert sorted(merged.waivers, key=repr) == list(wanted.waivers)
        assert merged.model_copy(update={"waivers": wanted.waivers}) == wanted


@pytest.mark.parametrize("name", FOLLOWS)
def test_an_edit_follows_its_section(name: str) -> None:
    """What they did to a section is done to that section, wherever my edits have put it."""
    first, other, edited = FOLLOWS[name]
    for merged in (both(first(base()), other(base())), both(other(base()), first(base()))):
        rows = [(row.name, row.bars) for row in merged.songs[0].sections]
        assert (edited, 12) in rows
        assert [bars for _, bars in rows].count(12) == 1


def test_new_rows_of_both_sides_are_there() -> None:
    """At their places, and the row that one side took out stays out."""
    mine = edits.delete_song(edits.add_song(base(), "Mine", 90, at=1), "c")
    theirs = edits.add_song(base(), "Theirs", 91)
    assert [song.id for song in both(mine, theirs).songs] == ["a", "mine", "b", "theirs"]


CLASHES: dict[str, tuple[Any, Any, str]] = {
    "one value": (
        lambda rig: edits.set_song(rig, "a", tempo=90),
        lambda rig: edits.set_song(rig, "a", tempo=91),
        "songs.a.tempo",
    ),
    "a row gone and changed": (
        lambda rig: edits.delete_song(rig, "a"),
        lambda rig: edits.set_song(rig, "a", tempo=91),
        "songs.a",
    ),
    "one section": (
        lambda rig: edits.set_section(rig, "a", 1, bars=8),
        lambda rig: edits.set_section(rig, "a", 1, bars=9),
        "songs.a.sections.1.bars",
    ),
    "a section gone and changed": (
        lambda rig: edits.delete_section(rig, "a", 1),
        lambda rig: edits.set_section(rig, "a", 1, bars=9),
        "songs.a.sections",
    ),
    "a section moved by both": (
        lambda rig: edits.move_section(rig, "a", 1, -1),
        lambda rig: edits.move_section(rig, "a", 1, 2),
        "songs.a.sections",
    ),
    "two orders": (
        lambda rig: edits.move_song(rig, "a", 1),
        lambda rig: edits.move_song(rig, "a", 2),
        "the order of songs",
    ),
    "two rows of one new id": (
        lambda rig: edits.add_song(rig, "New", 90),
        lambda rig: edits.add_song(rig, "New", 91),
        "songs.new.tempo",
    ),
    "a number put in twice": (
        lambda rig: edits.set_preset(rig, "lead", loops=(3, 2)),
        lambda rig: edits.set_preset(rig, "lead", loops=(1, 3)),
        "presets.lead.loops",
    ),
}


@pytest.mark.parametrize("name", CLASHES)
def test_edits_of_one_place_clash(name: str) -> None:
    """Nothing is merged, and the place is named, whichever side is which."""
    first, other, where = CLASHES[name]
    for mine, theirs in ((first, other), (other, first)):
        merged = merge(base(), mine(base()), theirs(base()))
        assert merged.rig is None
        assert where in merged.clashes


def test_what_two_good_sides_would_spoil_together_is_told() -> None:
    """Each side's switcher is good; both together would have memories that no switch reaches."""
    old = make_rig(switcher=switcher(4, 8, bank_buttons="up"))
    mine = edits.set_switcher(old, bank_buttons="none")
    theirs = edits.set_switcher(old, memories=16)
    merged = merge(old, mine, theirs)
    assert merged.rig is None
    assert '"none" leaves 8 memories out of reach' in merged.clashes[0]


def _check(seed: int) -> str:
    rng = Random(seed)
    old = rig_from_data(draw_rig(rng))
    mine, theirs = draw_edits(rng, old), draw_edits(rng, old)
    merged, turned = merge(old, mine, theirs), merge(old, theirs, mine)
    assert (merged.rig is None) == (turned.rig is None), "it must not matter who is who"
    assert (merged.rig is None) == bool(merged.clashes)
    if merged.rig is None:
        return "clash"
    assert rig_from_data(rig_to_data(merged.rig)) == merged.rig
    data, other = rig_to_data(merged.rig), rig_to_data(turned.rig)  # type: ignore[arg-type]
    _check_rows(rig_to_data(old), rig_to_data(mine), rig_to_data(theirs), data)
    for table in ("presets", "songs", "setlists"):
        key = lambda row: row["id"]  # noqa: E731
        assert sorted(data.get(table, []), key=key) == sorted(other.get(table, []), key=key)
    return "same" if merged.rig in (mine, theirs) else "merged"


def _check_rows(old: Any, mine: Any, theirs: Any, new: Any) -> None:
    """Each row that only one side touched is as that side has it; so is each key of a row."""
    for table in ("pedals", "loops", "presets", "songs", "setlists"):
        key = "number" if table == "loops" else "id"
        sides = [
            {row[key]: _filled(row) for row in rig.get(table, [])}
            for rig in (old, mine, theirs, new)
        ]
        for name in set().union(*sides):
            before, here, there, after = (side.get(name) for side in sides)
            assert after == _expected(before, here, there, after), (table, name)


def _filled(value: Any) -> Any:
    """What is said at all: an empty note or list is as good as none."""
    if isinstance(value, dict):
        return {key: _filled(inner) for key, inner in value.items() if inner not in ("", [])}
    return [_filled(inner) for inner in value] if isinstance(value, list) else value


def _expected(before: Any, here: Any, there: Any, after: Any) -> Any:
    if here == there or before == there:
        return here
    if before == here:
        return there
    rows = (before or {}, here, there, after)
    assert all(isinstance(row, dict) for row in rows), "a clash that was not told"
    keys = set().union(*rows)
    wanted = {}
    for key in keys:
        was, mine, theirs = (row.get(key) for row in rows[:3])
        if mine in (was, theirs) or theirs == was:
            wanted[key] = theirs if mine == was else mine
        else:
            assert isinstance(mine, list), "two values for one key"
            wanted[key] = after.get(key)  # lists have a test of their own
    return {key: value for key, value in wanted.items() if value is not None}


@given(SEEDS)
@examples(50)
def test_nothing_is_dropped(seed: int) -> None:
    """Whatever both sides did: all of it is in the result, or a clash is told."""
    _check(seed)


@given(SEEDS)
@examples(30)
def test_a_merge_with_what_one_side_started_from(seed: int) -> None:
    """Gives back the other side, also where both did the very same."""
    rng = Random(seed)
    old = rig_from_data(draw_rig(rng))
    new = draw_edits(rng, old)
    for mine, theirs in ((new, old), (old, new), (new, new)):
        assert merge(old, mine, theirs).rig == new


@given(SEEDS)
@examples(30)
def test_edits_of_different_tables_are_always_merged(seed: int) -> None:
    """An edit of songs and an edit of the amp or a pedal have nothing to do with each other."""
    rng = Random(seed)
    old = rig_from_data(draw_rig(rng))
    mine, theirs = old, edits.set_amp(old, name="Other")
    for _ in range(3):
        _, after = draw_edit(rng, mine)
        mine = after if after.amp == old.amp else mine
    assert merge(old, mine, theirs).rig == edits.set_amp(mine, name="Other")


ITEMS = st.lists(st.integers(0, 6), max_size=7)


@given(ITEMS, ITEMS, ITEMS)
@examples(80)
def test_a_merged_list_has_what_both_sides_did(
    old: list[int], mine: list[int], theirs: list[int]
) -> None:
    """What a side added is there, what it took out is not, counted item by item."""
    merged = merged_list(old, mine, theirs, lambda *_: None)
    turned = merged_list(old, theirs, mine, lambda *_: None)
    assert (merged is None) == (turned is None)
    if merged is None or mine == theirs or None in merged:
        return
    assert turned == merged
    for item in {*old, *mine, *theirs}:
        was, here, there = old.count(item), mine.count(item), theirs.count(item)
        most = max(was, here, there, here + there - was)
        least = min(was, here, there, here + there - was)
        assert max(0, least) <= merged.count(item) <= most
        if was == there:
            assert merged.count(item) == here or item in _moved(old, theirs)


def _moved(old: list[int], new: list[int]) -> set[int]:
    return {item for item in old if [i for i, entry in enumerate(old) if entry == item]
            != [i for i, entry in enumerate(new) if entry == item]}  # fmt: skip


@pytest.mark.long
def test_nothing_is_dropped_in_many_merges(
    record_property: Callable[[str, object], None],
) -> None:
    """The same for many thousand pairs of sides, and a fair share of each outcome."""
    outcomes = [_check(seed) for seed in range(20_000)]
    counts = {name: outcomes.count(name) for name in ("merged", "same", "clash")}
    record_property("counts", counts)
    assert min(counts["merged"], counts["clash"]) > 2_000


def test_long_lists_are_not_compared_for_ever() -> None:
    """Lists of ten thousand that share nothing clash at once instead of being matched."""
    old = list(range(10_000))
    mine, theirs = [n + 20_000 for n in old], [n + 40_000 for n in old]
    assert merged_list(old, mine, theirs, lambda *_: None) is None
    data = make_data(songs=[song("a")], setlists=[setlist("x", *(["a"] * 5_000))])
    rig = rig_from_data(data)
    assert merge(rig, edits.set_amp(rig, name="A"), edits.set_song(rig, "a", tempo=9)).rig
