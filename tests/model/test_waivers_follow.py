"""A waiver stays with what it is about, wherever edits put that."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from rigs_made import make_rig, section, song

from rigtui.model import Rig, edits

SONGS = [
    song("one", section("a"), section("a"), section("a")),
    song("two", section("a")),
    song("six", section("a")),
]


def rig_with(*places: str) -> Rig:
    evening = {"id": "gig", "sets": [{"songs": ["one", "two", "one"]}, {"songs": ["six"]}]}
    rig = make_rig(songs=SONGS, setlists=[evening])
    for place in places:
        rig = edits.waive(rig, "late-change", place, "it is fine")
    return rig


SECTION, SONG = "songs.one.sections.{}", "setlists.gig.sets.{}.songs.{}"
CASES: list[tuple[str, Callable[[Rig], Rig], str | None]] = [
    (SECTION.format(1), lambda r: edits.add_section(r, "one", "New", 4, at=1), SECTION.format(2)),
    (SECTION.format(1), lambda r: edits.add_section(r, "one", "New", 4), SECTION.format(1)),
    (SECTION.format(1), lambda r: edits.duplicate_section(r, "one", 0), SECTION.format(2)),
    (SECTION.format(1), lambda r: edits.delete_section(r, "one", 0), SECTION.format(0)),
    (SECTION.format(1), lambda r: edits.delete_section(r, "one", 1), None),
    (SECTION.format(1), lambda r: edits.move_section(r, "one", 1, 1), SECTION.format(2)),
    (SECTION.format(1), lambda r: edits.move_section(r, "one", 2, -2), SECTION.format(2)),
    (SECTION.format(1), lambda r: edits.move_section(r, "one", 2, -2), SECTION.format(2)),
    ("songs.one", lambda r: edits.set_song_id(r, "one", "uno"), "songs.uno"),
    (SECTION.format(1), lambda r: edits.set_song_id(r, "one", "uno"), "songs.uno.sections.1"),
    (SONG.format(0, 1), lambda r: edits.move_in_set(r, "gig", 0, 1, -1), SONG.format(0, 0)),
    (SONG.format(0, 2), lambda r: edits.move_in_set(r, "gig", 0, 2, 1), SONG.format(1, 0)),
    (SONG.format(1, 0), lambda r: edits.move_in_set(r, "gig", 0, 2, 1), SONG.format(1, 1)),
    (SONG.format(1, 0), lambda r: edits.move_in_set(r, "gig", 1, 0, -1), SONG.format(0, 3)),
    (SONG.format(0, 1), lambda r: edits.remove_from_set(r, "gig", 0, 0), SONG.format(0, 0)),
    (SONG.format(0, 1), lambda r: edits.remove_from_set(r, "gig", 0, 1), None),
    (SONG.format(0, 1), lambda r: edits.add_to_set(r, "gig", 0, "six", 0), SONG.format(0, 2)),
    (SONG.format(0, 1), lambda r: edits.delete_song(r, "one"), SONG.format(0, 0)),
    (SONG.format(0, 2), lambda r: edits.delete_song(r, "one"), None),
    (SONG.format(1, 0), lambda r: edits.move_set(r, "gig", 1, -1), SONG.format(0, 0)),
    (SONG.format(1, 0), lambda r: edits.delete_set(r, "gig", 0), SONG.format(0, 0)),
    (SONG.format(1, 0), lambda r: edits.duplicate_set(r, "gig", 0), SONG.format(2, 0)),
    (SONG.format(1, 0), lambda r: edits.add_set(r, "gig", "Encore", 0), SONG.format(2, 0)),
    (SECTION.format(1), lambda r: edits.move_sections(r, "one", {1}, -1), SECTION.format(0)),
    (SECTION.format(1), lambda r: edits.move_sections(r, "one", {0, 1}, 1), SECTION.format(2)),
    (
        SONG.format(0, 1),
        lambda r: edits.move_several_in_sets(r, "gig", {(0, 1), (0, 2)}, 1),
        SONG.format(1, 0),
    ),
    (
        SONG.format(0, 0),
        lambda r: edits.move_several_in_sets(r, "gig", {(0, 1), (1, 0)}, -1),
        SONG.format(0, 1),
    ),
    (SONG.format(0, 2), lambda r: edits.split_set(r, "gig", 0, 1, "Late"), SONG.format(1, 1)),
    (SONG.format(1, 0), lambda r: edits.split_set(r, "gig", 0, 1, "Late"), SONG.format(2, 0)),
    (SONG.format(1, 0), lambda r: edits.join_set(r, "gig", 0), SONG.format(0, 3)),
    ("setlists.gig", lambda r: edits.set_setlist_id(r, "gig", "fair"), "setlists.fair"),
]


@pytest.mark.parametrize(("place", "edit", "then"), CASES)
def test_a_waiver_goes_where_its_row_goes(
    place: str, edit: Callable[[Rig], Rig], then: str | None
) -> None:
    """After any edit that moves rows, the waiver's path leads to the same row; gone, it is too."""
    others = ["presets.lead", "songs.two.sections.0"]
    rig = edit(rig_with(place, *others))
    places = [waiver.where for waiver in rig.waivers]
    assert places == ([then] if then else []) + others


def test_a_song_played_instead_keeps_its_place() -> None:
    """Renaming a song's id leaves the setlist's order as it is."""
    rig: Any = edits.set_song_id(rig_with(), "one", "uno")
    assert [part.songs for part in rig.setlists[0].sets] == [("uno", "two", "uno"), ("six",)]
