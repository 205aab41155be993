"""Keeping work safe while the screens are open: the journal, what a crash left, other programs.

The app owns one `Keeper`; it never decides over the player's head, it asks.
"""

from __future__ import annotations

import contextlib
import time
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.model.errors import RigError
from rigtui.tui.widgets.dialogs import Confirm

if TYPE_CHECKING:
    from textual.timer import Timer

    from rigtui.model.rig import Rig
    from rigtui.store.load import Source
    from rigtui.store.recovery import Journal, Recovered
    from rigtui.store.save import ChangedOnDiskError
    from rigtui.tui.app import RigApp

JOURNAL_SECONDS = 0.5
"""How long an edit may be in memory alone."""
LOOK_SECONDS = 2.0
"""How often the file is looked at for changes by other programs."""


class Keeper:
    """Watches over one document of the app."""

    def __init__(self, app: RigApp) -> None:
        self.app = app
        self._journal: Journal | None = None
        self._due: Timer | None = None
        self._told: str | None = None
        self._asking = False
        app.set_interval(LOOK_SECONDS, self.look)

    # The journal

    def begin(self, path: Path | None) -> None:
        """Start on a document: a journal of its own, and a word about others at the same file."""
        from rigtui.store.recovery import Journal, others_open

        self.end()
        self._told = None
        try:
            self._journal = Journal(path)
            if path is not None and others_open(path, self._journal):
                self.app.say(
                    f"{path.name} is open in another window too: whoever saves second is asked",
                    "warning",
                )
        except (RigError, OSError) as error:
            self.app.say(f"Unsaved edits are not kept safe: {error}", "warning")

    def end(self) -> None:
        """The document is left in good order: nothing needs to be recovered."""
        if self._due is not None:
            self._due.stop()
            self._due = None
        if self._journal is not None:
            self._journal.close()
            self._journal = None

    def edited(self) -> None:
        """The rig has changed: it will be in the journal within half a second."""
        if self._due is None:
            self._due = self.app.set_timer(JOURNAL_SECONDS, self._write)

    def _write(self) -> None:
        self._due = None
        document, journal = self.app.document, self._journal
        if document is None or journal is None:
            return
        if not document.dirty:
            journal.clear()
            return
        rig, source = document.rig, document.source
        self.app.run_worker(
            lambda: self._write_now(journal, rig, source),
            thread=True,
            exclusive=True,
            group="journal",
            exit_on_error=False,
        )

    def _write_at_once(self) -> None:
        """Have the rig in the journal before anything else that holds it is thrown away."""
        document = self.app.document
        if self._journal is not None and document is not None and document.dirty:
            self._journal.write(document.rig, document.source)

    def _write_now(self, journal: Journal, rig: Rig, source: Source | None) -> None:
        try:
            journal.write(rig, source)
        except (RigError, OSError) as error:
            self.app.call_from_thread(
                self.app.say, f"Unsaved edits are not kept safe: {error}", "warning"
            )

    def saved(self, path: Path) -> None:
        """The document was saved: nothing is unsaved any more."""
        if self._journal is None or self._journal.path != path:
            self.begin(path)
        else:
            self._journal.clear()

    # What a crash left

    def offer_recovered(self, path: Path | None) -> None:
        """Ask what becomes of edits that an earlier run of the program could not save."""
        from rigtui.model.diff import differences
        from rigtui.store.recovery import forget, recovered

        found: list[Recovered] = []
        with contextlib.suppress(RigError, OSError):
            found = recovered(path)
        document = self.app.document
        if not found or document is None:
            return
        latest = found[0]
        lines = differences(document.rig, latest.rig)
        if not lines:
            forget(latest)
            self.offer_recovered(path)
            return
        when = datetime.fromtimestamp(latest.seconds).strftime("%H:%M on %d %B %Y")
        moved_on = latest.base_text is not None and (
            document.source is None or document.source.text != latest.base_text
        )
        question = f"Edits were left unsaved at {when}. Taking them would change:"
        answers = [("t", "take them (undo takes them back)"), ("d", "throw them away")]
        if moved_on and latest.base is not None:
            question = (
                f"Edits were left unsaved at {when}, and the file was changed since. "
                "Taking them as they were would change:"
            )
            answers.insert(0, ("m", "merge them with the file as it is now"))

        def answered(answer: str | None) -> None:
            if answer == "t":
                self.app.apply("recovered edits", lambda _: latest.rig)
                self._write_at_once()
            elif answer == "m":
                assert latest.base is not None
                if not self._merge(latest.base, latest.rig, "recovered edits"):
                    return  # still there at the next start
            if answer is not None:
                forget(latest)
                self.offer_recovered(path)

        self.app.push_screen(Confirm(question, answers, lines), answered)

    def _merge(self, base: Rig, other: Rig, label: str) -> bool:
        """Merge what another side made of a rig into the document; say so if it cannot be done."""
        from rigtui.model.merge import merge

        assert self.app.document is not None
        merged = merge(base, self.app.document.rig, other)
        if merged.rig is None:
            self.app.say(
                "Both sides changed the same places: " + "; ".join(merged.clashes[:4]), "error"
            )
            return False
        both = merged.rig
        self.app.apply(label, lambda _: both)
        self._write_at_once()
        return True

    # Other programs

    def look(self) -> None:
        """Look whether another program has changed the file, and ask what to do about it."""
        from rigtui.store.fingerprint import changed_since

        document = self.app.document
        if document is None or document.source is None or document.path is None or self._asking:
            return
        if len(self.app.screen_stack) > 1 or not document.path.exists():
            return
        if changed_since(document.path, document.source.print):
            self._ask_about_change(saving=False)

    def ask_before_save(self, error: ChangedOnDiskError) -> None:
        """A save would write over what another program wrote: ask."""
        self._ask_about_change(saving=True, reason=str(error))

    def _ask_about_change(self, saving: bool, reason: str = "") -> None:
        from rigtui.model.diff import differences
        from rigtui.store.load import load

        document = self.app.document
        assert document is not None
        assert document.path is not None
        try:
            source, theirs = load(document.path)
        except RigError as error:
            text = f"{document.path.name} was changed by another program and reads no more"
            if self._told != str(error):
                self._told = str(error)
                self.app.say(f"{text}: {str(error).splitlines()[0]}", "warning")
            if saving:
                self._ask_overwrite(f"{text}. Write over it?")
            return
        if self._told == source.print.sha256 and not saving:
            return
        self._told = source.print.sha256
        base = document.saved
        lines = differences(base, theirs) if base is not None else []
        if base is not None and theirs == base and not saving:
            document.source = source  # only spelling or comments changed: build on the new text
            return
        answers = [("l", "load the file, and drop what is unsaved here")]
        if document.dirty:
            answers.insert(0, ("m", "merge: take its changes into what is here"))
        answers.append(("k", "write over it with what is here") if saving else ("k", "keep mine"))
        question = f"Another program has changed {document.path.name}:"
        self._asking = True

        def answered(answer: str | None) -> None:
            self._asking = False
            if answer == "l":
                self.app.adopt(source, theirs)
            elif answer == "m" and base is not None and self._merge(base, theirs, "merged file"):
                document.source, document.saved = source, theirs
                self.app.refresh_all()
                if saving:
                    self.app.save_to(None)
            elif answer == "k" and saving:
                self.app.save_to(None, overwrite=True)

        self.app.push_screen(Confirm(reason or question, answers, lines), answered)

    def _ask_overwrite(self, question: str) -> None:
        def answered(answer: str | None) -> None:
            if answer == "y":
                self.app.save_to(None, overwrite=True)

        self.app.push_screen(
            Confirm(question, [("y", "write over it with what is here")]), answered
        )


def when(seconds: float) -> str:
    """Say a moment as a person would."""
    moment = datetime.fromtimestamp(seconds)
    same_day = moment.date() == datetime.fromtimestamp(time.time()).date()
    return moment.strftime("today %H:%M:%S" if same_day else "%d %B %Y %H:%M:%S")
