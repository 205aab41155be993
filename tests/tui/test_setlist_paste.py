"""An evening pasted into the setlist: told back, put in at the cursor, in one step of undo."""

from __future__ import annotations

import shutil
import tomllib

import pytest
from screens import lines
from tui.setlist_screen import DEMOS, SIZES, setlist_screen

from rigtui.model.edits import song_line
from rigtui.store.toml_write import dump
from rigtui.tui.widgets.dialogs import Form

TITLES = (
    "Sea Fret", "Tin Roof", "Harbour", "Slack Tide", "Grey Mare", "Long Field", "Coal Quay",
    "North Light", "Herring Gull", "Salt", "Folded Chart", "Last Bus",
)  # fmt: skip
LINE = "Intro 4 cr, Verse 16 cc, Chorus 8 cr, Verse, Chorus, Solo 16 lead +wah, Chorus x2"
EVENING = "".join(f"{at}. {title}, {89 + at}: {LINE}\n" for at, title in enumerate(TITLES, 1))


@pytest.fixture
def path(tmp_path):
    """The function band's rig, to be changed."""
    copy = tmp_path / "quay.toml"
    shutil.copy(DEMOS / "quay-street.toml", copy)
    return copy


@pytest.mark.parametrize("size", [(60, 20), *SIZES])
async def test_twelve_songs_with_their_lines_from_one_paste(path, size):
    """Paste, Enter: songs, form and mapping, played in the set at hand; u takes all of it back."""
    async with setlist_screen(path, size) as screen:
        before = screen.rig
        await screen.press(f"paste: {EVENING}")
        assert isinstance(screen.app.screen, Form)
        shown = "\n".join(lines(screen.app))
        assert "12 songs. Sea Fret 90 (8 sections)" in shown
        assert "Enter accept" in shown
        await screen.press("enter")
        new = screen.rig.songs[len(before.songs) :]
        assert [song.label for song in new] == list(TITLES)
        assert {song_line(song) for song in new} == {
            "Intro 4 crunch, Verse 16 clean-chop, Chorus 8 crunch, Verse, Chorus, "
            "Solo 16 ballad-lead +wah, Chorus x2"
        }
        played = screen.rig.setlists[0].song_ids
        assert len(played) == len(before.setlists[0].song_ids) + 12
        assert screen.view.songs.song.label == "Sea Fret"
        await screen.press("u")
        assert screen.rig == before


async def test_capo_and_tuning_are_told_back_where_they_end_too(path):
    """The song after one with a capo has none: the player sees that before it goes in."""
    async with setlist_screen(path, (120, 40)) as screen:
        await screen.press("paste: Sea Fret, 90, capo 2, drop D\nTin Roof, 99\nHarbour, 80")
        said = " ".join(" ".join(lines(screen.app)).replace("│", " ").split())
        assert "Sea Fret 90 (capo 2, drop D), Tin Roof 99 (no capo, standard), Harbour" in said
        await screen.press("enter")
        assert [(song.capo, song.tuning) for song in screen.rig.songs[-3:]] == [
            (2, "drop D"), (0, "standard"), (None, None),
        ]  # fmt: skip


async def test_a_mistake_is_told_while_it_can_be_mended(path):
    """The line and column of the list; Enter keeps the dialog open until it is right."""
    async with setlist_screen(path, (120, 40)) as screen:
        before = screen.rig
        await screen.press("paste: Sea Fret, 90: Intro 4 zzz, Verse 8 cc\n")
        assert 'line 1, column 23 (Sea Fret): "zzz" fits no preset' in "\n".join(lines(screen.app))
        await screen.press("enter")
        assert isinstance(screen.app.screen, Form)
        assert screen.rig == before
        await screen.press("escape")
        assert screen.rig == before


async def test_what_is_wrong_stands_once_and_the_cursor_on_it(path):
    """Below the list after Enter, no longer in the help; typing takes it away."""
    async with setlist_screen(path) as screen:
        await screen.press("paste: Tin Roof, 99\nSea Fret, 90: Intro 4 zzz, Verse 8 cc", "enter")
        assert "\n".join(lines(screen.app)).count('"zzz" fits no preset') == 1
        field = screen.app.focused
        assert field.cursor_location == (1, len("Sea Fret, 90: Intro 4 "))
        await screen.press("delete", "delete", "delete", "type: cr")
        assert "zzz" not in "\n".join(lines(screen.app))
        assert "2 songs" in "\n".join(lines(screen.app))


async def test_a_long_line_is_seen_whole_and_walked_through(path):
    """It is wrapped; up and down go through its lines, then out of it."""
    long = "Sea Fret, 90: " + ", ".join(f"Part{chr(65 + at)} 16 clean-chop" for at in range(12))
    async with setlist_screen(path) as screen:
        await screen.press(f"paste: {long}")
        seen = "".join("".join(lines(screen.app)).split())
        assert "PartA" in seen
        assert "PartL16clean-chop" in seen
        field = screen.app.focused
        await screen.press("up")
        assert screen.app.focused is field
        ups = 1
        while screen.app.focused is field:
            await screen.press("up")
            ups += 1
        assert 4 <= ups <= 8  # lines of the screen that it takes at 80 columns


async def test_strokes_between_sections_and_a_length_beside_theirs(path):
    """Upright strokes part sections as commas do; the length given stands beside the sections'."""
    async with setlist_screen(path, (120, 40)) as screen:
        await screen.press("paste: Sea Fret, 120, 3:30: Intro 4 cr | Verse 16 cc|Chorus 8 cr")
        assert "(3 sections, given 3:30, the sections last 0:56)" in "\n".join(lines(screen.app))
        await screen.press("enter")
        assert [row.bars for row in screen.rig.songs[-1].sections] == [4, 16, 8]
        assert song_line(screen.rig.songs[-1]) == (
            "Intro 4 crunch, Verse 16 clean-chop, Chorus 8 crunch"
        )
        said = [notice.message for notice in screen.app._notifications]
        assert "given 3:30, the sections last 0:56" in said[-1]


async def test_a_tempo_for_the_rest_or_one_for_each(path):
    """What is left open is asked in one form."""
    async with setlist_screen(path, (120, 40)) as screen:
        await screen.press("paste: Sea Fret\r")
        await screen.press("paste: Tin Roof, 99\r\nHarbour")
        said = "\n".join(lines(screen.app))
        assert "3 songs, 2 without a tempo: Sea Fret, Harbour. Sea" in said
        await screen.press("tab", "type: 120", "enter")
        assert [song.tempo for song in screen.rig.songs[-3:]] == [120, 99, 120]
        await screen.press("v")
        await screen.press("paste: Grey Mare\nSalt")
        await screen.press("enter", "type: 101", "down", "type: 102", "enter")
        assert [song.tempo for song in screen.rig.songs[-2:]] == [101, 102]


async def test_without_a_setlist_the_songs_are_the_first_evening(path):
    """Who pastes an evening wants to play it: a setlist is made, and `u` takes all of it back."""
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    path.write_text(dump({**data, "setlists": [], "songs": []}), encoding="utf-8")
    async with setlist_screen(path, (120, 40)) as screen:
        before = screen.rig
        await screen.press("paste: Sea Fret, 90: Intro 4 cr\nTin Roof, 91: Verse 8 cc\n")
        assert "Paste songs as the first evening" in "\n".join(lines(screen.app))
        await screen.press("enter")
        (evening,) = screen.rig.setlists
        assert (evening.name, len(evening.sets), evening.song_ids) == (
            "Evening", 1, ("sea-fret", "tin-roof"),
        )  # fmt: skip
        assert screen.view.setlist_id == evening.id
        assert screen.view.songs.song.label == "Sea Fret"
        await screen.press("u")
        assert screen.rig == before


async def test_from_the_questions_esc_goes_back_to_the_list(path):
    """All that was typed is still there; nothing was put in."""
    text = "Sea Fret, 140, 7/8\nTin Roof, 90"
    async with setlist_screen(path) as screen:
        before = screen.rig
        await screen.press(f"paste: {text}", "tab", "type: 100", "enter")
        assert "Sea Fret, which note gets the beat at" in "\n".join(lines(screen.app))
        assert "140 in 7/8?" in "\n".join(lines(screen.app))
        await screen.press("type: dotted qarter", "enter")
        assert "say 1/4 (quarter), 1/8 (eighth)" in "\n".join(lines(screen.app))
        await screen.press("escape")
        form = screen.app.screen
        assert isinstance(form, Form)
        assert [line.value for line in form._inputs()] == [text, "100"]
        assert screen.rig == before
        await screen.press("enter", "type: dotted quarter", "enter")
        assert [(song.label, song.beat) for song in screen.rig.songs[-2:]] == [
            ("Sea Fret", "3/8"), ("Tin Roof", None),
        ]  # fmt: skip


async def test_a_preview_that_is_longer_than_its_room_is_paged_through(path):
    """On a screen of 80 by 24: Page Down reads on, down to the last song."""
    text = "\n".join(f"The long way to harbour number {at} x, 1{at:02}" for at in range(40))
    async with setlist_screen(path) as screen:
        await screen.press(f"paste: {text}")
        seen = [" ".join("\n".join(lines(screen.app)).replace("│", " ").split())]
        assert "40 songs. The long way to harbour number 0 x 100" in seen[0]
        for _ in range(6):
            await screen.press("pagedown")
            seen.append(" ".join("\n".join(lines(screen.app)).replace("│", " ").split()))
        assert not any("number 39 x 139" in shown for shown in seen[:1])
        assert "number 39 x 139" in seen[-1]
