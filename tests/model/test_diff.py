"""What differs between two rigs, in words: nothing exactly where they are equal."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest
from edits_drawn import draw_edit
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import make_rig, pedal, preset, section, setlist, song, switcher
from store.spelling import draw_rig

from rigtui.model import Rig, edits, rig_from_data
from rigtui.model.diff import differences, summary


def base() -> Rig:
    """Two songs of three sections, three presets, an evening of two sets."""
    parts = ("Intro", "Verse", "Solo")
    evening = {"id": "fri", "sets": [{"songs": ["a", "b"]}, {"songs": ["a"]}]}
    return make_rig(
        switcher=switcher(),
        pedals=[pedal("wah", name="Rocker wah")],
        presets=[preset("clean", name="Clean"), preset("lead", 1, 2, name="Lead")],
        songs=[song(id, *(section(name=name) for name in parts), title=id.upper()) for id in "ab"],
        setlists=[evening, setlist("sat", "b")],
    )


CASES: dict[str, tuple[Any, list[str]]] = {
    "a value": (
        lambda rig: edits.set_song(rig, "a", tempo=92.5),
        ["song A: tempo 120 -> 92.5"],
    ),
    "a value that was not there": (
        lambda rig: edits.set_preset(rig, "lead", guitar_volume=6),
        ["preset Lead: guitar volume none -> 6"],
    ),
    "yes and no": (
        lambda rig: edits.set_pedal(rig, "wah", buffered=True),
        ["pedal Rocker wah: buffered no -> yes"],
    ),
    "loops": (
        lambda rig: edits.set_preset(rig, "lead", loops=(2, 3)),
        ["preset Lead: loop 3 in, loop 1 out"],
    ),
    "a section changed": (
        lambda rig: edits.set_section(rig, "a", 1, bars=8, preset="lead"),
        ["song A, section 2 Verse: bars 4 -> 8", "song A, section 2 Verse: preset none -> Lead"],
    ),
    "a section's pedals": (
        lambda rig: edits.set_section(rig, "a", 1, plus=("wah", "gone")),
        ["song A, section 2 Verse: plus none -> Rocker wah, gone"],
    ),
    "what a section should sound like": (
        lambda rig: edits.set_section(
            rig, "a", 1, early=("wah",), wanted={"pedals": ["wah"], "channel": "clean"}
        ),
        [
            "song A, section 2 Verse: early none -> Rocker wah",
            "song A, section 2 Verse: wanted none -> Rocker wah on channel clean",
        ],
    ),
    "copies": (
        lambda rig: edits.set_preset(rig, "lead", memory=3, copies=(5, 9)),
        ["preset Lead: memory none -> 3", "preset Lead: copies none -> 5, 9"],
    ),
    "a section added": (
        lambda rig: edits.add_section(rig, "b", "Out", 2),
        ["song B: section 4 Out added"],
    ),
    "sections deleted": (
        lambda rig: edits.delete_section(edits.delete_section(rig, "b", 0), "b", 0),
        ["song B: sections 1 Intro, 2 Verse deleted"],
    ),
    "a song deleted": (
        lambda rig: edits.delete_song(rig, "a"),
        ["song A deleted", "setlist fri: A removed"],
    ),
    "another order": (lambda rig: edits.move_preset(rig, "lead", -1), ["presets in another order"]),
    "songs of a set": (
        lambda rig: edits.add_to_set(rig, "fri", 1, "b"),
        ["setlist fri: B added"],
    ),
    "a song moved to the other set": (
        lambda rig: edits.set_setlist(rig, "fri", sets=({"songs": ["a"]}, {"songs": ["b", "a"]})),
        ["setlist fri: songs moved between sets"],
    ),
    "the amp": (lambda rig: edits.set_amp(rig, name="Combo"), ["the amp: name none -> Combo"]),
    "a waiver": (
        lambda rig: edits.waive(rig, "tail-cut", "songs.a", "fine"),
        ["1 waiver added"],
    ),
    "text that would act on a terminal": (
        lambda rig: edits.set_song(rig, "a", title="\x1b[2J"),
        ["song ␛[2J: title A -> ␛[2J"],
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_change_in_words(name: str) -> None:
    """Each edit is told by table, name and key, as a player calls them."""
    edit, words = CASES[name]
    lines = differences(base(), edit(base()))
    assert lines[: len(words)] == words
    assert len(lines) <= len(words) + 1


def test_a_summary_names_the_first_and_counts_the_rest() -> None:
    """One line, however much changed."""
    rig = base()
    for name in ("a", "b"):
        rig = edits.set_song(rig, name, tempo=90, capo=2)
    assert summary(base(), rig).endswith("and 1 more")
    assert summary(base(), base()) == "nothing changed"


@given(st.integers(0, 2**40))
@examples(50)
def test_no_words_exactly_where_nothing_differs(seed: int) -> None:
    """Any edit that changes the rig is told, forth and back, in lines fit to show."""
    rng = Random(seed)
    old = rig_from_data(draw_rig(rng))
    _, new = draw_edit(rng, old)
    for before, after in ((old, new), (new, old)):
        lines = differences(before, after)
        assert bool(lines) == (before != after)
        assert all(line.isprintable() for line in lines)
    assert differences(new, rig_from_data(draw_rig(Random(seed)))) == differences(new, old)
