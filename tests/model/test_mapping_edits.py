"""Mappings of many sections at once: all of a name, like another song, filled down."""

from __future__ import annotations

import pytest
from rigs_made import make_rig, pedal, preset, section, song

from rigtui.model import EditError, Rig
from rigtui.model.edits import waive
from rigtui.model.edits.mapping import (
    delete_sections,
    fill_down,
    map_all_of_name,
    map_like_song,
    others_of_name,
    put_sections,
)

RIG = make_rig(
    pedals=[pedal("wah", use="foot")],
    presets=[preset("clean"), preset("rock"), preset("lead")],
    songs=[
        song("low-fen", section("clean", name="Verse 1"),
             section("rock", name="Chorus 1", plus=["wah"], cue="drums stop"),
             section("clean", name="Verse 2"), section("clean", name="chorus 2", bars=12)),
        song("tin-roof", section(None, name="Chorus"), section("lead", name="Solo")),
        song("harbour", section("lead", name="Verse"), section("lead", name="Chorus")),
    ],
)  # fmt: skip


def mapped(rig: Rig, song_id: str) -> list[tuple[str, str | None, tuple[str, ...]]]:
    """Name, preset and pedals of a song's sections."""
    (row,) = [row for row in rig.songs if row.id == song_id]
    return [(part.name, part.preset, part.plus) for part in row.sections]


def test_all_of_a_name_in_some_songs() -> None:
    """Numbers and capitals make no other name; bars and cues stay; other songs stay."""
    chorus = RIG.songs[0].sections[1]
    assert others_of_name(RIG, chorus, ["low-fen"]) == 1
    assert others_of_name(RIG, chorus, ["low-fen", "tin-roof", "harbour"]) == 3
    new = map_all_of_name(RIG, "low-fen", 1, ["low-fen", "tin-roof"])
    assert mapped(new, "low-fen")[3] == ("chorus 2", "rock", ("wah",))
    assert new.songs[0].sections[3].bars == 12
    assert mapped(new, "tin-roof") == [("Chorus", "rock", ("wah",)), ("Solo", "lead", ())]
    assert new.songs[2] is RIG.songs[2]
    assert others_of_name(new, chorus, ["low-fen", "tin-roof"]) == 0


def test_like_another_song() -> None:
    """Each namesake by its turn; the other's last stands for those it has not."""
    new = map_like_song(RIG, "low-fen", "harbour")
    assert [preset for _, preset, _ in mapped(new, "low-fen")] == ["lead"] * 4
    assert [plus for *_, plus in mapped(new, "low-fen")] == [()] * 4
    assert new.songs[0].sections[1].cue == "drums stop"
    back = map_like_song(new, "harbour", "low-fen")
    assert mapped(back, "harbour") == mapped(RIG, "harbour")
    songs = [song("one", section(None, name="A")), song("two", section(None, name="B"))]
    with pytest.raises(EditError, match="no section of one has the same name as one of two"):
        map_like_song(make_rig(songs=songs), "one", "two")


def test_filled_down_from_the_first() -> None:
    """Only the sections named."""
    new = fill_down(RIG, "low-fen", [1, 3])
    assert [row[1:] for row in mapped(new, "low-fen")] == [
        ("clean", ()), ("rock", ("wah",)), ("clean", ()), ("rock", ("wah",)),
    ]  # fmt: skip
    with pytest.raises(EditError, match="there is no section 9"):
        fill_down(RIG, "low-fen", [0, 8])


def test_sections_put_in_and_taken_out_take_waivers_along() -> None:
    """What was accepted of a section stays with it."""
    rig = waive(RIG, "crowded-change", "songs.low-fen.sections.2", "fine")
    new = put_sections(rig, "low-fen", RIG.songs[1].sections, 1)
    assert [name for name, *_ in mapped(new, "low-fen")] == [
        "Verse 1", "Chorus", "Solo", "Chorus 1", "Verse 2", "chorus 2",
    ]  # fmt: skip
    assert new.waivers[0].where == "songs.low-fen.sections.4"
    less = delete_sections(new, "low-fen", [0, 1, 3])
    assert less.waivers[0].where == "songs.low-fen.sections.1"
    assert delete_sections(new, "low-fen", [4]).waivers == ()
