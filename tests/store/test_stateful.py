"""A player, a crash and another program at one file, in any order: nothing is ever lost.

The machine does what the screens do (`rigtui.tui.document`, the journal, restore points, the
questions of `rigtui.tui.keeping` answered at random) and keeps its own account of what must be
there: the rig at hand, the steps that undo leads back through, the file's text to the last byte,
the rig in the journal, and the comments of all that nobody touched.
"""

from __future__ import annotations

import errno
import os
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any, ClassVar
from unittest.mock import patch

import pytest
from edits_drawn import draw_edit, draw_edits
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from store.spelling import ROWS, RigSpeller, draw_rig, identity

from rigtui.model import Rig, rig_from_data, rig_to_data
from rigtui.model.merge import merge
from rigtui.store.atomic import SaveError
from rigtui.store.in_place import restore
from rigtui.store.load import load, parse
from rigtui.store.recovery import Journal, forget, recovered
from rigtui.store.save import ChangedOnDiskError
from rigtui.store.splice import rewrite
from rigtui.store.versions import versions
from rigtui.tui.document import Document

SEEDS = st.integers(0, 2**32)
_COMMENT = re.compile(r"# \d+ [a-z][^\r\n]*")


class Killed(BaseException):
    """The process ends here."""


class FileMachine(RuleBasedStateMachine):
    """One file, the program that has it open, and its account."""

    folder: ClassVar[Path]
    counts: ClassVar[Counter[str]] = Counter()
    files: ClassVar[int] = 0

    @initialize(seed=SEEDS)
    def begin(self, seed: int) -> None:
        """A file in any spelling, with comments that name their owners."""
        rng = Random(seed)
        data = draw_rig(rng)
        spelled = RigSpeller(rng, data)
        FileMachine.files += 1
        self.path = self.folder / f"rig-{FileMachine.files}.toml"
        self.disk = spelled.text
        self.path.write_bytes(self.disk.encode())
        self.comments = spelled.comments
        self.first = _rows(rig_to_data(rig_from_data(data)))
        self.pristine = set(self.first)
        self.open()

    def open(self) -> None:
        """Start the program on the file."""
        source, rig = load(self.path)
        self.document = Document(rig, self.path, source)
        self.journal = Journal(self.path)
        self.steps, self.undone = [rig], []
        self.kept: Rig | None = None

    # What the player does

    @rule(seed=SEEDS, journaled=st.sampled_from([True, True, True, False]))
    def edit(self, seed: int, journaled: bool) -> None:
        """One edit; the journal hears of it, unless the crash is quicker."""
        label, rig = draw_edit(Random(seed), self.document.rig)
        if self.document.apply(label, lambda _: rig):
            self.steps.append(rig)
            self.undone = []
            self.counts["edits"] += 1
        if journaled:
            self._write_journal()

    @rule(number=st.integers(0, 5))
    def rename(self, number: int) -> None:
        """An edit of the one thing that other programs like to edit too."""
        name = f"Name {number}"
        if self.document.apply("rename", lambda rig: rig.model_copy(update={"name": name})):
            self.steps.append(self.document.rig)
            self.undone = []
            self.counts["edits"] += 1
        self._write_journal()

    def _write_journal(self) -> None:
        if self.document.dirty:
            self.journal.write(self.document.rig, self.document.source)
            self.kept = self.document.rig
        else:
            self.journal.clear()
            self.kept = None

    @rule(times=st.integers(1, 4))
    def undo(self, times: int) -> None:
        """Some steps back."""
        for _ in range(times):
            told = self.document.undo()
            assert (told is None) == (len(self.steps) == 1)
            if len(self.steps) > 1:
                self.undone.append(self.steps.pop())
        self._write_journal()

    @rule(times=st.integers(1, 4))
    def redo(self, times: int) -> None:
        """Some steps on again."""
        for _ in range(times):
            told = self.document.redo()
            assert (told is None) == (not self.undone)
            if self.undone:
                self.steps.append(self.undone.pop())
        self._write_journal()

    @rule(answer=st.sampled_from(["merge", "load", "keep", "leave"]))
    def save(self, answer: str) -> None:
        """Save; where another program was at the file, answer the question."""
        before = self.document.rig
        source = self.document.source
        assert source is not None
        try:
            self.document.save()
        except ChangedOnDiskError:
            assert self.path.read_bytes() == self.disk.encode(), "asked, and not written"
            assert source.text != self.disk
            self._answer(answer)
            return
        assert source.text == self.disk, "another program's work was written over"
        self._saved(before)

    def _saved(self, rig: Rig) -> None:
        text = self.path.read_bytes().decode()
        if rig_from_data(parse(self.disk)) == rig:
            assert text == self.disk, "saving what the file says changes no byte of it"
        self.disk = text
        assert rig_from_data(parse(self.disk)) == rig == self.document.rig
        assert versions(self.path)[0].text == self.disk, "saved, and no restore point"
        self.journal.clear()
        self.kept = None
        self.counts["saves"] += 1

    def _answer(self, answer: str) -> None:
        document, mine = self.document, self.document.rig
        try:
            source, theirs = load(self.path)
        except Exception:  # spoiled: only writing over it or leaving it can be chosen
            if answer in ("keep", "load"):
                self._overwrite(mine)
            return
        base = document.saved
        assert base is not None
        if theirs == base:
            document.source = source
            document.save()
            self._saved(mine)
        elif answer == "merge" and document.dirty:
            merged = merge(base, mine, theirs)
            self.counts["merged" if merged.rig else "refused"] += 1
            if merged.rig is not None:
                self._take("merge", merged.rig)
                document.source, document.saved = source, theirs
                self._write_journal()
                document.save()
                self._saved(merged.rig)
        elif answer == "load":
            self._take("load", theirs)
            document.source, document.saved = source, theirs
            self._write_journal()
        elif answer == "keep":
            self._overwrite(mine)

    def _overwrite(self, mine: Rig) -> None:
        self.document.save(overwrite=True)
        self.disk, before = self.path.read_bytes().decode(), self.disk
        assert before in [version.text for version in versions(self.path)], (
            "written over and not kept"
        )
        self._saved(mine)
        self.counts["written over"] += 1

    def _take(self, label: str, rig: Rig) -> None:
        if self.document.apply(label, lambda _: rig):
            self.steps.append(self.document.rig)
            self.undone = []

    @rule(seed=SEEDS)
    def go_back_to_a_version(self, seed: int) -> None:
        """Take a saved version as one step, with its comments."""
        readable = [version for version in versions(self.path) if version.rig() is not None]
        if readable:
            version = Random(seed).choice(readable)
            rig = version.rig()
            assert rig is not None
            before = self.document.rig
            self.document.adopt("go back", rig, version.source())
            if self.document.rig != before:
                self.steps.append(rig)
                self.undone = []
            self._write_journal()
            self.counts["versions taken"] += 1

    # What goes wrong

    @rule(call=st.sampled_from(["open", "write", "fsync", "replace"]), again=st.booleans())
    def full_disk(self, call: str, again: bool) -> None:
        """A save that the disk refuses: told, nothing changed, the rig still at hand."""

        def full(*_: Any, **__: Any) -> None:
            raise OSError(errno.ENOSPC, "No space left on device")

        before = self.document.rig
        with patch.object(os, call, full), pytest.raises(SaveError):
            self.document.save()
        assert self.document.rig is before
        assert sorted(name for name in os.listdir(self.folder) if name.endswith(".tmp")) == []
        self.counts["refused saves"] += 1
        if again:
            self.save("leave")

    @rule(at=st.integers(1, 12), answer=st.sampled_from(["take", "merge", "drop", "leave"]))
    def crash_in_a_save(self, at: int, answer: str) -> None:
        """The process ends at the n-th call of a save; the file is as before or as saved."""
        calls = 0

        def count(call: Any) -> Any:
            def counted(*arguments: Any, **more: Any) -> Any:
                nonlocal calls
                calls += 1
                if calls == at:
                    raise Killed
                return call(*arguments, **more)

            return counted

        names = ("open", "write", "fsync", "replace", "close")
        self._write_journal()
        before = self.disk
        patches = [patch.object(os, name, count(getattr(os, name))) for name in names]
        try:
            for patched in patches:
                patched.start()
            self.document.save()
        except (Killed, ChangedOnDiskError):
            pass
        finally:
            for patched in patches:
                patched.stop()
        self.disk = self.path.read_bytes().decode()
        if self.disk != before:
            assert rig_from_data(parse(self.disk)) == self.document.rig
        self.counts["crashes in a save"] += 1
        self.crash(answer)

    @rule(answer=st.sampled_from(["take", "merge", "drop", "leave"]))
    def crash(self, answer: str) -> None:
        """The program dies, is started again, and the player answers its question."""
        lost = self.kept
        self.journal._lock.release()
        self.counts["crashes"] += 1
        try:
            self.open()
        except Exception:  # spoiled meanwhile: the command line gives the edits back
            self._mend(lost)
            return
        left = recovered(self.path)
        if lost is not None:
            assert lost in [edits.rig for edits in left], "unsaved edits are gone"
        for latest in left:
            if latest.rig == self.document.rig:
                forget(latest)
            elif answer == "take":
                self._take("recovered edits", latest.rig)
                self._write_journal()
                forget(latest)
                self.counts["taken"] += 1
            elif answer == "merge" and latest.base is not None:
                merged = merge(latest.base, self.document.rig, latest.rig)
                self.counts["merged" if merged.rig else "refused"] += 1
                if merged.rig is not None:
                    self._take("recovered edits", merged.rig)
                    self._write_journal()
                    forget(latest)
            elif answer == "drop":
                forget(latest)

    def _mend(self, lost: Rig | None) -> None:
        """Put unsaved edits, or the last saved version, in place of a spoiled file."""
        left = recovered(self.path)
        if lost is not None:
            assert lost in [edits.rig for edits in left], "unsaved edits are gone"
        good = [version.text for version in versions(self.path) if version.rig() is not None]
        text = left[0].text() if left else good[0]
        spoiled = self.disk
        restore(self.path, text)
        assert spoiled in [version.text for version in versions(self.path)]
        self.disk = text
        self.counts["mended"] += 1
        self.open()

    # What other programs do

    @rule(seed=SEEDS, renames=st.booleans())
    def outside_edit(self, seed: int, renames: bool) -> None:
        """Another program edits the file as it is there; it keeps comments as we do."""
        try:
            rig = rig_from_data(parse(self.disk))
        except Exception:
            return
        new = draw_edits(Random(seed), rig, 2)
        if renames:
            new = new.model_copy(update={"name": f"Their name {seed % 5}"})
        bare = self.disk.removeprefix("\ufeff")
        self._outside(rewrite(bare, rig_to_data(new)).text)
        self.counts["outside edits"] += 1
        self._touch(new)

    @rule(spelling=st.sampled_from(["spoiled = [\n", "", "format = 99\nname = 'x'\n"]))
    @precondition(lambda self: versions(self.path))
    def outside_damage(self, spelling: str) -> None:
        """Another program leaves something there that is no rig of ours."""
        self._outside(spelling)
        self.counts["spoiled"] += 1

    def _outside(self, text: str) -> None:
        self.disk = text
        self.path.write_bytes(text.encode())

    # What must hold

    def _touch(self, rig: Rig) -> None:
        rows = _rows(rig_to_data(rig))
        self.pristine = {name for name in self.pristine if rows.get(name) == self.first[name]}

    @invariant()
    def the_rig_at_hand_is_the_one_expected(self) -> None:
        """After any steps; and what undo leads to is there."""
        if hasattr(self, "document"):
            self.counts["steps"] += 1
            assert self.document.rig == self.steps[-1]
            assert [rig for _, rig in self.document.history.past] == self.steps[:-1]
            self._touch(self.document.rig)

    @invariant()
    def the_file_is_whole(self) -> None:
        """To the last byte what was last written, by whom ever."""
        if hasattr(self, "document"):
            assert self.path.read_bytes() == self.disk.encode()

    @invariant()
    def comments_are_kept(self) -> None:
        """Those of tables that nobody has touched, once each and in their order."""
        if hasattr(self, "document"):
            try:
                rig_from_data(parse(self.disk))
            except Exception:
                return
            comments = _COMMENT.findall(self.disk)
            assert len(comments) == len(set(comments)), "a comment stands twice"
            for comment, owner in self.comments:
                if owner in self.pristine:
                    assert comment.strip() in map(str.strip, comments), f"{comment} is gone"

    def teardown(self) -> None:
        """The program ends in good order."""
        if hasattr(self, "journal"):
            self.journal.close()


def _rows(data: dict[str, Any]) -> dict[str, Any]:
    """Each row of each table, by the name that the speller gives it as an owner."""
    rows: dict[str, Any] = {}
    for key, value in data.items():
        if key in ROWS:
            rows |= {f"{key}/{identity(row)}": row for row in value}
        elif isinstance(value, dict):
            rows[key] = value
    return rows


def _run(folder: Path, examples: int, steps: int) -> Counter[str]:
    FileMachine.folder = folder
    FileMachine.counts = Counter()
    run_state_machine_as_test(
        FileMachine,
        settings=settings(max_examples=examples, stateful_step_count=steps, deadline=None),
    )
    return FileMachine.counts


def test_nothing_is_lost(tmp_path: Path) -> None:
    """Edits, undo, saves, crashes, other programs: a few hundred steps of them."""
    assert _run(tmp_path, 12, 30)["steps"] > 100


@pytest.mark.long
def test_nothing_is_lost_in_many_thousand_steps(
    tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    """The same for longer, with a fair share of everything that can happen."""
    counts = _run(tmp_path, 1_000, 50)
    record_property("counts", dict(counts))
    assert counts["steps"] > 10_000
    for name in ("merged", "refused", "crashes in a save", "taken", "written over", "mended"):
        assert counts[name] > 20, name
