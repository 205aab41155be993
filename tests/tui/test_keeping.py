"""What the screens keep, offer and ask: crashes, other programs, two windows, leaving."""

from __future__ import annotations

import asyncio
import errno
import os
from pathlib import Path
from typing import Any

import pytest
from rigs_made import make_data, make_rig, preset, section, song
from screens import LARGE, app_on, on_screen, shown

from rigtui.model import Rig, edits
from rigtui.store.load import load
from rigtui.store.recovery import Journal, others_open, recovered
from rigtui.store.save import rig_text, save
from rigtui.store.splice import dump
from rigtui.store.versions import keep, versions
from rigtui.tui.app import RigApp
from rigtui.tui.files import save_to
from rigtui.tui.widgets.dialogs import Confirm
from rigtui.tui.widgets.pick import Pick


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig of two songs, with a comment."""
    path = tmp_path / "rig.toml"
    data = make_data(
        presets=[preset("clean", name="Clean")],
        songs=[song(id, section("clean", name="Verse"), title=id.title()) for id in ("low", "tin")],
    )
    path.write_text("# mine\n" + dump(data), encoding="utf-8")
    return path


def crash(file: Path | None, rig: Rig, base: Any = None) -> None:
    """Leave unsaved edits as a program does that was killed."""
    journal = Journal(file)
    journal.write(rig, base)
    journal._lock.release()


def left(file: Path, **fields: Any) -> Rig:
    """Edits of the first song, left unsaved by a crash."""
    source, rig = load(file)
    rig = edits.set_song(rig, "low", **fields)
    crash(file, rig, source)
    return rig


def outside(file: Path, song_id: str = "tin", **fields: Any) -> Rig:
    """Another program edits a song in the file, and keeps comments as we do."""
    source, rig = load(file)
    rig = edits.set_song(rig, song_id, **fields)
    file.write_text(rig_text(rig, source).text, encoding="utf-8")
    return rig


def edit(app: RigApp, song_id: str = "low", **fields: Any) -> None:
    """The player edits a song."""
    app.apply("edit", lambda rig: edits.set_song(rig, song_id, **fields))


def tempos(app: RigApp) -> list[float]:
    """The tempos of the songs at hand."""
    assert app.document is not None
    return [song.tempo for song in app.document.rig.songs]


def told(app: RigApp) -> str:
    """All that was said below the views."""
    return "\n".join(notification.message for notification in app._notifications)


def asked(app: RigApp) -> str:
    """The question that is on the screen; empty if there is none."""
    return app.screen._question if isinstance(app.screen, Confirm) else ""


# What a crash left


async def test_edits_left_by_a_crash_are_offered_in_words(file: Path) -> None:
    """With the time and what they change; taken they are one step of undo, kept safe anew."""
    rig = left(file, tempo=99, title="[b]Low[/b]")
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        assert isinstance(app.screen, Confirm)
        assert "Edits were left unsaved today" in asked(app)
        assert "tempo 120 -> 99" in shown(app)
        assert "asked again at the next start" in shown(app)
        assert "[b]Low[/b]" in shown(app)
        await pilot.press("t")
        assert app.document.rig == rig
        assert app.document.dirty
        await pilot.press("u")
        assert tempos(app) == [120, 120]
        await pilot.press("r", "s")
        assert load(file)[1] == rig
        assert file.read_text().startswith("# mine\n")
    assert recovered(file) == []


async def test_edits_thrown_away_are_gone(file: Path) -> None:
    """Only after the answer; escape leaves them for the next start."""
    left(file, tempo=99)
    for key, kept in (("escape", 1), ("d", 0)):
        app = app_on(file)
        async with on_screen(app, LARGE) as pilot:
            await pilot.press(key)
            assert tempos(app) == [120, 120]
            assert not app.document.dirty
        assert len(recovered(file)) == kept


async def test_edits_of_a_file_that_changed_since_can_be_merged(file: Path) -> None:
    """The file's other edits stay, and those of the crash are put to them."""
    left(file, tempo=99)
    outside(file, tempo=88)
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        assert "the file has changed since" in asked(app)
        await pilot.press("m")
        assert tempos(app) == [99, 88]
        await pilot.press("u")
        assert tempos(app) == [120, 88]


async def test_edits_that_clash_with_the_file_are_kept_for_later(file: Path) -> None:
    """The places are named, nothing is changed, and the edits are offered again."""
    left(file, tempo=99)
    outside(file, "low", tempo=88)
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("m")
        assert "Both sides changed the same places" in asked(app)
        assert "Low, tempo" in shown(app)
        await pilot.press("escape")
        assert tempos(app) == [88, 120]
    assert len(recovered(file)) == 1


async def test_two_crashes_are_offered_one_after_the_other(file: Path) -> None:
    """What was taken of the first is merged with the second, not replaced by it."""
    source, rig = load(file)
    crash(file, edits.set_song(rig, "tin", tempo=77), source)
    left(file, tempo=99)
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("t")
        assert "you have restored other edits already" in asked(app)
        await pilot.press("m")
        assert tempos(app) == [99, 77]
        await pilot.press("s")
    assert [song.tempo for song in load(file)[1].songs] == [99, 77]
    assert recovered(file) == []


async def test_edits_that_were_saved_after_all_are_not_asked_about(file: Path) -> None:
    """A crash just after a save leaves nothing to decide."""
    rig = left(file, tempo=99)
    source, _ = load(file)
    save(rig, file, source)
    app = app_on(file)
    async with on_screen(app, LARGE):
        assert not isinstance(app.screen, Confirm)
    assert recovered(file) == []


async def test_a_new_rig_that_was_never_saved_is_told_of(file: Path) -> None:
    """It has no file that it could be offered with, so any start says how to get it back."""
    crash(None, make_rig(name="New one"))
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        assert "There is a backup of a new rig that you never saved" in told(app)
        await pilot.press("O", "n")
        await pilot.pause()
        assert "Edits were left unsaved" in asked(app)
        await pilot.press("t")
        assert app.document.rig.name == "New one"


async def test_edits_taken_stay_kept_where_the_disk_is_full(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without room for a new journal the old one is not thrown away, and the player is told."""
    left(file, tempo=99)
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", _full)
            await pilot.press("t")
        assert tempos(app) == [99, 120]
        assert "Unsaved edits can't be backed up" in told(app)
        assert "the disk is full" in told(app)
    assert len(recovered(file)) == 1


def _full(*_: object) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


# The journal


async def journaled(pilot: Any, app: RigApp) -> None:
    """Wait until what was edited is in the journal."""
    while app.keeper._writer.busy:
        await asyncio.sleep(0.01)
    await pilot.pause()


async def test_an_edit_reaches_the_journal_and_a_save_clears_it(file: Path) -> None:
    """So does leaving in good order."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        journal = app.keeper._journal._file
        edit(app, tempo=99)
        assert app.keeper._writer.busy
        await journaled(pilot, app)
        assert '"tempo": 99' in journal.read_text()
        await pilot.press("u")
        await journaled(pilot, app)
        assert not journal.exists(), "nothing is unsaved"
        edit(app, tempo=98)
        await journaled(pilot, app)
        await pilot.press("s")
        assert not journal.exists()
        edit(app, tempo=97)
        await journaled(pilot, app)
        await pilot.press("q", "d")
    assert recovered(file) == []
    assert not journal.exists()


async def test_a_journal_that_cannot_be_written_is_told_once(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The work goes on, and the next edit that can be kept is."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", _full)
            for tempo in (99, 98):
                edit(app, tempo=tempo)
                await journaled(pilot, app)
        assert told(app).count("Unsaved edits can't be backed up") == 1
        assert tempos(app) == [98, 120]
        edit(app, tempo=97)
        await journaled(pilot, app)
        assert '"tempo": 97' in app.keeper._journal._file.read_text()


async def test_a_state_folder_that_cannot_be_made_stops_nothing(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Edits and saves work; the player is told that a crash would lose edits."""
    monkeypatch.setenv("XDG_STATE_HOME", str(file))
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        assert "Unsaved edits can't be backed up" in told(app)
        edit(app, tempo=99)
        await pilot.press("s")
        assert "the earlier version of rig.toml could not be kept" in told(app)
        await pilot.press("V")
        await pilot.press("q")
    assert load(file)[1].songs[0].tempo == 99


# Other programs


async def looked(pilot: Any, app: RigApp) -> None:
    """Let the file be looked at now instead of in two seconds."""
    app.keeper.look()
    await pilot.pause()


async def test_a_change_by_another_program_is_noticed_and_loaded(file: Path) -> None:
    """It is shown in words; loading it is a step that undo takes back."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        theirs = outside(file, tempo=88)
        await looked(pilot, app)
        assert "discard what is unsaved here" in shown(app)
        assert "Another program has changed rig.toml" in asked(app)
        assert "song Tin: tempo 120 -> 88" in shown(app)
        await pilot.press("l")
        assert app.document.rig == theirs
        assert not app.document.dirty
        await pilot.press("u")
        assert tempos(app) == [99, 120]
        await looked(pilot, app)
        assert not isinstance(app.screen, Confirm)


async def test_a_change_with_nothing_unsaved_is_no_loss(file: Path) -> None:
    """Where nothing is unsaved, no answer speaks of dropping it or of merging."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        outside(file, tempo=88)
        await looked(pilot, app)
        assert [key for key, _ in app.screen._answers] == ["l", "k"]
        assert "unsaved" not in shown(app).lower()
        await pilot.press("l")
        assert tempos(app) == [120, 88]


async def test_a_change_by_another_program_can_be_merged(file: Path) -> None:
    """Both edits are at hand, and both in the file after a save, with its comments."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        outside(file, tempo=88)
        file.write_text(file.read_text() + "# theirs\n")
        await looked(pilot, app)
        await pilot.press("m")
        assert tempos(app) == [99, 88]
        await pilot.press("s")
        assert not isinstance(app.screen, Confirm)
    assert [song.tempo for song in load(file)[1].songs] == [99, 88]
    assert file.read_text().startswith("# mine\n")
    assert file.read_text().endswith("# theirs\n")


async def test_a_change_that_is_declined_is_asked_about_before_saving(file: Path) -> None:
    """Once when it is noticed, again before it would be written over; then it is kept first."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        outside(file, tempo=88)
        theirs = file.read_text()
        await looked(pilot, app)
        await pilot.press("k")
        await looked(pilot, app)
        assert not isinstance(app.screen, Confirm)
        await pilot.press("s")
        assert "meanwhile" in asked(app)
        await pilot.press("escape")
        assert file.read_text() == theirs, "nothing is written without a yes"
        assert app.document.dirty
        await pilot.press("s", "k")
        assert [song.tempo for song in load(file)[1].songs] == [99, 120]
        assert theirs in [version.text for version in versions(file)]


async def test_edits_of_the_same_place_are_not_merged(file: Path) -> None:
    """The place is named; both the file and the edit stay as they are."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        outside(file, "low", tempo=88)
        theirs = file.read_text()
        await pilot.press("s", "m")
        assert "Both sides changed the same places" in asked(app)
        assert "Low, tempo" in shown(app)
        await pilot.press("escape")
        assert tempos(app) == [99, 120]
        assert app.document.dirty
        assert file.read_text() == theirs


async def test_a_merge_before_a_save_saves_both(file: Path) -> None:
    """The question that a save asks is answered with a merge, and the save goes on."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        outside(file, tempo=88)
        await pilot.press("s", "m")
        assert [song.tempo for song in load(file)[1].songs] == [99, 88]
        assert not app.document.dirty


async def test_comments_that_another_program_changed_need_no_question(file: Path) -> None:
    """The next save builds on them, whether they were noticed before or by the save itself."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        for look, words in ((True, "# one\n"), (False, "# two\n")):
            file.write_text(file.read_text() + words)
            if look:
                await looked(pilot, app)
            edit(app, tempo=90 + look)
            await pilot.press("s")
            assert not isinstance(app.screen, Confirm)
            assert file.read_text().endswith(words)
            assert not app.document.dirty


@pytest.mark.parametrize("answer", ["m", "l", "k"])
async def test_a_second_change_while_the_question_stands(file: Path, answer: str) -> None:
    """It is noticed when the answer is acted on: asked again, and nothing of it is lost."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        outside(file, tempo=88)
        await pilot.press("s")
        assert "tempo 120 -> 88" in shown(app)
        outside(file, tempo=77)
        theirs = file.read_text()
        await pilot.press(answer)
        assert "again meanwhile" in asked(app)
        assert "tempo 120 -> 77" in shown(app)
        assert file.read_text() == theirs, "nothing is written that was not asked about"
        assert tempos(app) == [99, 120]
        assert app.document.dirty
        await pilot.press("m")
        assert not isinstance(app.screen, Confirm)
    assert [song.tempo for song in load(file)[1].songs] == [99, 77]


async def test_a_second_change_of_a_spoiled_file(file: Path) -> None:
    """A yes to writing over a spoiled file is no yes to writing over a good one."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        good = file.read_text()
        file.write_text("spoiled = [")
        await pilot.press("s")
        file.write_text(good.replace("# mine", "# theirs"))
        await pilot.press("y")
        assert [song.tempo for song in load(file)[1].songs] == [99, 120]
        assert file.read_text().startswith("# theirs\n"), "their comment was built on"


async def test_a_second_change_before_saving_under_a_taken_name(file: Path) -> None:
    """The question about another file holds for what stood there when it was asked."""
    other = file.with_name("other.toml")
    other.write_text(file.read_text())
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        save_to(app, other)
        await pilot.pause()
        assert "other.toml already exists" in asked(app)
        outside(other, tempo=77)
        theirs = other.read_text()
        await pilot.press("y")
        assert "again meanwhile" in asked(app)
        assert other.read_text() == theirs
        await pilot.press("y")
        assert load(other)[1].songs[0].tempo == 99
        assert theirs in [version.text for version in versions(other)]


async def test_both_sides_of_one_mind_need_no_question(file: Path) -> None:
    """As where a save came to the file, but could not be forced to the disk."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        outside(file, "low", tempo=99)
        await looked(pilot, app)
        assert not isinstance(app.screen, Confirm)
        assert not app.document.dirty
        edit(app, tempo=98)
        outside(file, "low", tempo=98)
        await pilot.press("s")
        assert not isinstance(app.screen, Confirm)
        assert not app.document.dirty


@pytest.mark.skipif(not os.path.exists("/proc/self/fd"), reason="needs to tell what is synced")
async def test_a_failing_fsync_is_told(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the file: it is as before, and unsaved. Of the folder: it is written, if not for good."""
    fsync = os.fsync
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        old = file.read_text()
        for of_folder in (False, True):

            def failing(handle: int, of_folder: bool = of_folder) -> None:
                where = os.readlink(f"/proc/self/fd/{handle}")
                if Path(where) == file.parent if of_folder else Path(where).parent == file.parent:
                    raise OSError(errno.EIO, "Input/output error")
                fsync(handle)

            with monkeypatch.context() as patch:
                patch.setattr(os, "fsync", failing)
                await pilot.press("s")
            assert app.document.dirty
            assert (file.read_text() == old) != of_folder
        assert "Not saved: rig.toml was not written: the disk reports a fault" in told(app)
        assert "rig.toml was written, but a power cut could still lose it" in told(app)
        await pilot.press("s")
        assert not isinstance(app.screen, Confirm), "what it finds is its own"
        assert not app.document.dirty
    assert load(file)[1].songs[0].tempo == 99


async def test_a_folder_that_is_gone_is_told(file: Path, tmp_path: Path) -> None:
    """The document stays at hand, and can be saved elsewhere."""
    folder = tmp_path / "stick"
    folder.mkdir()
    rig = folder / "rig.toml"
    file.rename(rig)
    app = app_on(rig)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        rig.unlink()
        folder.rmdir()
        await pilot.press("s")
        assert "the folder doesn't exist: make it, or save under another name" in told(app)
        assert app.document.dirty
        assert save_to(app, file) is None
        assert not app.document.dirty
    assert load(file)[1].songs[0].tempo == 99


async def test_a_file_that_was_spoiled_is_not_taken(file: Path) -> None:
    """It is told what is wrong; writing over it needs a yes, and it is kept first."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        file.write_text("spoiled = [")
        await looked(pilot, app)
        await looked(pilot, app)
        assert told(app).count("was changed by another program and can't be read any more") == 1
        await pilot.press("s")
        assert "Overwrite it with this version?" in asked(app)
        await pilot.press("escape")
        assert file.read_text() == "spoiled = ["
        await pilot.press("s", "y")
        assert load(file)[1].songs[0].tempo == 99
        assert "spoiled = [" in [version.text for version in versions(file)]


async def test_a_file_that_is_gone_is_told_and_written_anew(file: Path) -> None:
    """Nothing is saved then: the mark says so, leaving asks, and a save asks before it writes."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        file.unlink()
        await looked(pilot, app)
        assert not app.document.dirty, "a program that replaces it may be at it just now"
        await looked(pilot, app)
        await looked(pilot, app)
        gone = "rig.toml is gone: it was deleted, moved or renamed"
        assert told(app).count(f"Not saved: {gone}") == 1
        assert "UNSAVED" in shown(app)
        await journaled(pilot, app)
        assert app.keeper._journal._file.exists()
        await pilot.press("q")
        assert "unsaved changes" in asked(app)
        await pilot.press("s")
        assert asked(app) == f"{gone}. Write it again?"
        await pilot.press("escape")
        assert not file.exists()
        await pilot.press("s", "y")
        assert load(file)[1] == app.document.rig
        assert "UNSAVED" not in shown(app)


async def test_a_file_that_comes_back_is_saved_again(file: Path) -> None:
    """As when a stick is plugged in once more; should it have changed meanwhile, that is asked."""
    app = app_on(file)
    away = file.with_name("away")
    async with on_screen(app, LARGE) as pilot:
        for news in (False, True):
            file.rename(away)
            await looked(pilot, app)
            await looked(pilot, app)
            assert app.document.dirty
            away.rename(file)
            if news:
                outside(file, tempo=88)
            await looked(pilot, app)
            assert not app.document.dirty
            assert isinstance(app.screen, Confirm) == news


async def test_a_file_replaced_while_it_is_asked_about_being_gone(file: Path) -> None:
    """A yes to writing it anew is no yes to writing over what came there meanwhile."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        before = file.read_text()
        file.unlink()
        await pilot.press("s")
        file.write_text(before.replace("120", "88"))
        await pilot.press("y")
        assert "again meanwhile" in asked(app)
        assert "88" in file.read_text()


async def test_news_that_were_told_before_are_told_again(file: Path) -> None:
    """What another program wrote, and it came back after a save or after the old was there."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        mine = file.read_text()
        outside(file, tempo=88)
        theirs = file.read_text()
        for between in ("they put it back", "I save", "they put it back"):
            await looked(pilot, app)
            assert "Another program has changed rig.toml" in asked(app), between
            await pilot.press("k")
            await looked(pilot, app)
            assert not isinstance(app.screen, Confirm), "once is enough"
            if between == "I save":
                edit(app, tempo=99)
                await pilot.press("s", "k")
                mine = file.read_text()
                assert "99" in mine
            else:
                file.write_text(mine)
                await looked(pilot, app)
            file.write_text(theirs)


async def test_a_drive_that_went_away_is_told_and_survived(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The document stays open and unsaved; once the drive is back, it can be saved."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        stat = os.stat

        def gone(path: Any, *rest: Any, **more: Any) -> Any:
            if str(path).startswith(str(file.parent)):
                raise OSError(112, "Host is down")
            return stat(path, *rest, **more)

        with monkeypatch.context() as patch:
            patch.setattr("os.stat", gone)
            await looked(pilot, app)
            await pilot.press("s")
        assert "Not saved: rig.toml was not written: host is down" in told(app)
        assert app.document.dirty
        await pilot.press("s")
        assert load(file)[1].songs[0].tempo == 99


async def test_two_windows_on_one_file(file: Path) -> None:
    """The second says so; whoever saves second is asked, and a merge has both edits."""
    first = Journal(file)
    source, rig = load(file)
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        assert "rig.toml is open in another window too" in told(app)
        edit(app, tempo=99)
        save(edits.set_song(rig, "tin", tempo=88), file, source)
        await pilot.press("s")
        assert "another program changed rig.toml" in asked(app)
        await pilot.press("m")
        assert tempos(app) == [99, 88]
        assert others_open(file, first) == 1
        await pilot.press("q")
    first.close()
    app = app_on(file)
    async with on_screen(app, LARGE):
        assert "another window" not in told(app)
        assert tempos(app) == [99, 88]


# Files of another format

NEWER = 'format = 2\nname = "From the future"\ncolour = "red"\n[[presets]]\nid = "one"\n'


async def test_a_newer_file_is_only_looked_at(file: Path, tmp_path: Path) -> None:
    """Edits and saves are refused with the reason; what a crash left is not thrown away."""
    left(file, tempo=99)
    file.write_text(NEWER)
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        assert "one" in shown(app)
        assert "has format 2, which is newer than this program" in told(app)
        assert not isinstance(app.screen, Confirm)
        app.clear_notifications()
        await pilot.press("d")
        assert len(app.document.rig.presets) == 1
        assert "you can look, but not edit" in told(app)
        await pilot.press("s")
        assert "Not saved: rig.toml has format 2" in told(app)
        assert save_to(app, tmp_path / "copy.toml") is not None
    assert file.read_text() == NEWER
    assert not (tmp_path / "copy.toml").exists()
    assert len(recovered(file)) == 1


async def test_a_newer_file_that_changes_is_shown_anew(file: Path) -> None:
    """There are no edits to lose, so nothing is asked; one of today's format can be edited."""
    good = file.read_text()
    file.write_text(NEWER)
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        file.write_text(NEWER.replace("future", "moon"))
        await looked(pilot, app)
        assert app.document.rig.name == "From the moon"
        file.write_text("spoiled = [")
        await looked(pilot, app)
        assert "can't be read any more" in told(app)
        file.write_text(good)
        await looked(pilot, app)
        edit(app, tempo=99)
        await pilot.press("s")
    assert load(file)[1].songs[0].tempo == 99


# Saved versions


async def test_going_back_to_a_version_is_one_step(file: Path) -> None:
    """Its comments come back with it when it is saved, and those of the file with an undo."""
    for comment in ("# first\n", "# second\n"):
        file.write_text(comment + file.read_text())
        keep(file, file.read_text())
        outside(file, tempo=file.stat().st_size)
    latest = file.read_text()
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("V")
        assert isinstance(app.screen, Pick)
        assert "first version kept" in shown(app)
        await pilot.press("down", "enter")
        assert tempos(app) == [120, 120]
        await pilot.press("u")
        edit(app, tempo=99)
        await pilot.press("s")
        assert file.read_text() == latest.replace("tempo = 120", "tempo = 99", 1)
        await pilot.press("V", "end")
        for _ in range(3):
            await pilot.press("down")
        await pilot.press("enter", "s")
        assert file.read_text().startswith("# first\n# mine\n")
        assert latest in [version.text for version in versions(file)]


async def test_a_saved_version_gets_a_name(file: Path) -> None:
    """And is found by it."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        await pilot.press("s", "ctrl+n", *"gig", "enter")
        await pilot.press("V")
        assert "gig: song Low: tempo 120 -> 99" in shown(app)
    assert versions(file)[0].name == "gig"


# Leaving


@pytest.mark.parametrize(
    ("keys", "gone", "saved"),
    [(["escape"], False, 120), (["d"], True, 120), (["s"], True, 99)],
)
async def test_leaving_with_unsaved_edits_asks(
    file: Path, keys: list[str], gone: bool, saved: float
) -> None:
    """Nothing is lost without a yes, and nothing left to recover after one."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        await pilot.press("q")
        assert "rig.toml has unsaved changes" in asked(app)
        await pilot.press(*keys)
        assert (app._exit is True) == gone
    assert load(file)[1].songs[0].tempo == saved


async def test_leaving_is_put_off_where_saving_fails(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk, or another program at the file, keeps the window open."""
    app = app_on(file)
    async with on_screen(app, LARGE) as pilot:
        edit(app, tempo=99)
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", _full)
            await pilot.press("q", "s")
        assert "the disk is full" in told(app)
        assert not app._exit
        outside(file, tempo=88)
        await pilot.press("q", "s")
        assert isinstance(app.screen, Confirm)
        assert not app._exit
