"""The journal's text and its pace: what stands in it, and when."""

from __future__ import annotations

import json
import threading
from pathlib import Path
from random import Random
from typing import Any

import pytest
from edits_drawn import draw_edit
from patience import PATIENCE_SECONDS
from rigs_made import make_data, make_rig, section, setlist, song

from rigtui.model import Rig, edits, rig_from_data
from rigtui.model.validate import rig_to_data
from rigtui.store import journal_writer
from rigtui.store.journal_text import JournalText
from rigtui.store.journal_writer import JournalWriter
from rigtui.store.load import load
from rigtui.store.recovery import Journal, recovered

RIGS = Path(__file__).parents[2] / "rigs"


def rig_in(text: str) -> Any:
    """The rig in a journal's text, dates as they stand there."""
    return json.loads(text)["rig"]


def plain(rig: Rig) -> Any:
    """What a journal holds of a rig: its data, dates as objects of their own."""
    return json.loads(json.dumps(rig_to_data(rig), default=lambda day: {"date": day.isoformat()}))


@pytest.mark.parametrize("file", sorted(RIGS.glob("*.toml")), ids=lambda file: file.stem)
def test_the_text_is_the_rig_s_data_after_every_edit(file: Path) -> None:
    """However many of its tables were put into words before."""
    _, rig = load(file)
    text, chance = JournalText(), Random(7)
    for _ in range(40):
        assert rig_in(text.of(str(file), None, 1.0, rig)) == plain(rig)
        _, rig = draw_edit(chance, rig)


def test_only_what_changed_is_put_into_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """An edit of one song leaves the text of the other songs as it was."""
    from rigtui.model import validate

    made: list[Any] = []
    to_data = validate.rig_to_data
    monkeypatch.setattr(validate, "rig_to_data", lambda row: made.append(row) or to_data(row))
    data = make_data(
        songs=[song(f"s{at}", section()) for at in range(50)], setlists=[setlist("fri", "s1")]
    )
    rig, text = rig_from_data(data), JournalText()
    text.of(None, "x = 1", 1.0, rig)
    made.clear()
    rig = edits.set_song(rig, "s7", tempo=99)
    text.of(None, "x = 1", 2.0, rig)
    assert made == [rig.songs[7]]


def test_text_and_moment_and_base_stand_beside_the_rig() -> None:
    """A name in any letters, and a base that changes, come back as they were."""
    text, rig = JournalText(), make_rig()
    for base in ("a = 1\n", None, 'b = "é"\n'):
        content = json.loads(text.of("/ä/\u2028.toml", base, 2.5, rig))
        assert (content["path"], content["base"]) == ("/ä/\u2028.toml", base)
        assert content["seconds"] == 2.5
        assert rig_from_data(content["rig"]) == rig


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig of one song in a file."""
    path = tmp_path / "rig.toml"
    path.write_text('format = 1\nname = "x"\n[[songs]]\nid = "low"\ntempo = 50\n')
    return path


class Ear:
    """Hears what a writer tells of each try."""

    def __init__(self) -> None:
        self.heard: list[Exception | None] = []
        self.rang = threading.Event()

    def __call__(self, fault: Exception | None) -> None:
        """Hear it."""
        self.heard.append(fault)
        self.rang.set()

    def wait(self) -> None:
        """Wait until something is told."""
        assert self.rang.wait(PATIENCE_SECONDS)
        self.rang.clear()


def kept(file: Path, journal: Journal) -> list[float]:
    """The tempos in the journal as another program would find them, were this one dead."""
    journal._lock.release()
    tempos = [edits.rig.songs[0].tempo for edits in recovered(file)]
    journal._lock.acquire()
    return tempos


def test_the_latest_of_many_edits_is_written(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Once for all that follow each other quickly; and the first of them does not wait longer."""
    source, rig = load(file)
    ear, journal = Ear(), Journal(file)
    writer = JournalWriter(journal, ear)
    given, waits = threading.Event(), []

    def wait(seconds: float) -> None:
        waits.append(seconds)
        assert given.wait(PATIENCE_SECONDS)

    monkeypatch.setattr(writer._stopped, "wait", wait)
    for tempo in range(60, 90):
        writer.take(edits.set_song(rig, "low", tempo=tempo), source)
    given.set()
    ear.wait()
    assert ear.heard == [None]
    assert [seconds <= journal_writer.JOURNAL_SECONDS for seconds in waits] == [True]
    assert kept(file, journal) == [89]
    writer.take(None, source)
    ear.wait()
    assert kept(file, journal) == []


def test_whatever_goes_wrong_is_told_and_the_next_edit_is_tried(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also what nobody thought of."""
    monkeypatch.setattr(journal_writer, "JOURNAL_SECONDS", 0.0)
    source, rig = load(file)
    ear, journal = Ear(), Journal(file)
    writer = JournalWriter(journal, ear)
    fault = ZeroDivisionError("no such thing")
    with monkeypatch.context() as patch:
        patch.setattr(journal, "write", lambda *_: (_ for _ in ()).throw(fault))
        writer.take(edits.set_song(rig, "low", tempo=60), source)
        ear.wait()
    writer.take(edits.set_song(rig, "low", tempo=61), source)
    ear.wait()
    assert ear.heard == [fault, None]
    assert kept(file, journal) == [61]


def test_nothing_is_written_once_it_is_stopped(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was still waiting is dropped: the player has left in good order."""
    monkeypatch.setattr(journal_writer, "JOURNAL_SECONDS", 30.0)
    source, rig = load(file)
    ear, journal = Ear(), Journal(file)
    writer = JournalWriter(journal, ear)
    writer.take(edits.set_song(rig, "low", tempo=60), source)
    assert writer.busy
    thread = writer._thread
    assert thread is not None
    writer.stop()
    thread.join(PATIENCE_SECONDS)
    writer.take(edits.set_song(rig, "low", tempo=61), source)
    assert not writer.busy
    assert (ear.heard, kept(file, journal)) == ([], [])


def test_a_rig_cleared_late_leaves_what_was_written_after_it(file: Path) -> None:
    """Back to the file's own state, and edited again before the thread came to it."""
    source, rig = load(file)
    journal = Journal(file)
    clean, edited = journal.turn(), journal.turn()
    journal.write(edits.set_song(rig, "low", tempo=60), source, edited)
    journal.clear(clean)
    assert kept(file, journal) == [60]
