"""Keep work safe while the screens are open: the journal, edits left by a crash, other programs.

The app owns one `Keeper`; it never decides over the player's head, it asks.
"""

from __future__ import annotations

import contextlib
import os
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.model.errors import RigError
from rigtui.tui.files import save_to
from rigtui.tui.widgets.dialogs import Confirm

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.store.journal_writer import JournalWriter
    from rigtui.store.load import Source
    from rigtui.store.recovery import Journal, Recovered
    from rigtui.store.save import ChangedOnDiskError
    from rigtui.tui.document import Document
    from rigtui.tui.document_app import DocumentApp

LOOK_SECONDS = 2.0
"""How often the file is looked at for changes by other programs."""


class Keeper:
    """Watches over one document of the app."""

    def __init__(self, app: DocumentApp) -> None:
        self.app = app
        self._journal: Journal | None = None
        self._writer: JournalWriter | None = None
        self._told: str | None = None
        self._missing: str | None = None
        """Where the file had gone when it was last looked for; None if it was there."""
        self._asking = False
        self._unsafe = False
        app.set_interval(LOOK_SECONDS, self.look)

    # The journal

    def begin(self, path: Path | None) -> None:
        """Start on a document: a journal of its own, and a word about others at the same file."""
        from rigtui.store.journal_writer import JournalWriter
        from rigtui.store.recovery import Journal, others_open

        self.end()
        self._told, self._missing, self._unsafe = None, None, False
        try:
            self._journal = Journal(path)
            self._writer = JournalWriter(self._journal, self._written)
            if path is not None and others_open(path, self._journal):
                self.app.say(
                    f"{path.name} is open in another window too: whoever saves second is asked",
                    "warning",
                )
        except (RigError, OSError) as error:
            self._complain(error)

    def _complain(self, error: Exception) -> None:
        """Say that a crash would lose edits; once, until they are safe again."""
        if not self._unsafe:
            self._unsafe = True
            reason = getattr(error, "why", None) or getattr(error, "strerror", None) or str(error)
            reason = reason[:1].lower() + reason[1:]
            self.app.say(f"Unsaved edits can't be backed up: {reason}", "warning", seconds=10)

    def end(self) -> None:
        """The document is left in good order: nothing needs to be recovered."""
        if self._writer is not None:
            self._writer.stop()
            self._writer = None
        if self._journal is not None:
            self._journal.close()
            self._journal = None

    def edited(self) -> None:
        """The rig has changed: it will be in the journal within half a second."""
        document = self.app.document
        if document is not None and self._writer is not None:
            self._writer.take(document.rig if document.dirty else None, document.source)

    def _written(self, fault: Exception | None) -> None:
        """The journal was written, or not; called from the thread that did it."""
        if fault is None:
            self._unsafe = False
        else:
            self.app.call_later(self._complain, fault)

    def _write_at_once(self) -> bool:
        """Have the rig in the journal before anything else that holds it is thrown away."""
        document = self.app.document
        if self._journal is None or document is None:
            return False
        try:
            if document.dirty:
                self._journal.write(document.rig, document.source)
        except (RigError, OSError) as error:
            self._complain(error)
            return False
        return True

    def keep_now(self) -> str:
        """Have unsaved edits in the journal as the program breaks off; say what came of it.

        Nothing is unsaved where that is empty. Never raises: much may be broken by now.
        """
        try:
            document = self.app.document
            if document is None or not document.dirty:
                return ""
            if self._journal is not None:
                self._journal.write(document.rig, document.source)
                again = "choose a new rig" if document.path is None else f"open {document.path}"
                return f"Your unsaved edits are backed up: {again} to get them back."
        except Exception:
            pass
        return "Your unsaved edits could not be backed up."

    def saved(self, path: Path) -> None:
        """The document was saved: nothing is unsaved any more."""
        self._told = self._missing = None
        if self._journal is None or self._journal.path != path:
            self.begin(path)
        else:
            self._journal.clear()

    # What a crash left

    def offer_recovered(self, path: Path | None) -> None:
        """Ask what becomes of edits that an earlier run of the program could not save."""
        from rigtui.model.diff import differences
        from rigtui.store.recovery import forget, recovered

        left: list[Recovered] = []
        with contextlib.suppress(RigError, OSError):
            left = recovered(path)
            if path is not None and not left and recovered(None):
                self.app.say(
                    "There is a backup of a new rig that you never saved: press O and "
                    "choose a new rig to get it back",
                    seconds=10,
                )
        document = self.app.document
        if not left or document is None or document.read_only is not None:
            return
        latest = left[0]
        lines = differences(document.rig, latest.rig)
        if not lines:
            forget(latest)
            self.offer_recovered(path)
            return
        question, answers = _what_to_do(latest, document)

        def answered(answer: str | None) -> None:
            if answer == "t":
                self.app.apply("recovered edits", lambda _: latest.rig)
            elif answer == "m":
                assert latest.base is not None
                if not self._merge(latest.base, latest.rig, "recovered edits"):
                    return  # still there at the next start
            if answer == "d" or (answer is not None and self._write_at_once()):
                forget(latest)
                self.offer_recovered(path)

        leave = "decide later: you are asked again at the next start"
        self.app.ask(Confirm(question, answers, lines, leave), answered)

    def _merge(self, base: Rig, other: Rig, label: str) -> bool:
        """Merge what another side made of a rig into the document; say so if it cannot be done."""
        from rigtui.model.merge import merge
        from rigtui.model.place_words import place_in_words

        assert self.app.document is not None
        merged = merge(base, self.app.document.rig, other)
        if merged.rig is None:
            question = "Both sides changed the same places, so nothing was merged:"
            rig = self.app.document.rig
            clashes = [place_in_words(rig, where) for where in merged.clashes]
            self.app.ask(Confirm(question, [], clashes))
            return False
        both = merged.rig
        self.app.apply(label, lambda _: both)
        return True

    # Other programs

    def look(self) -> None:
        """Look whether another program has changed the file, and ask what to do about it."""
        from rigtui.store.fingerprint import changed_since

        document = self.app.document
        if document is None or document.source is None or document.path is None or self._asking:
            return
        if len(self.app.screen_stack) > 1:
            return
        if self._is_gone(document, document.source):
            return
        if not changed_since(document.path, document.source.print):
            self._told = None  # what is written from now on is news, also if it was there before
        elif os.path.exists(document.path):  # else what is there cannot be told: a save will say
            if document.read_only is not None:
                self._show_anew(document.path)
            else:
                self._ask_about_change(saving=False)

    def _is_gone(self, document: Document, source: Source) -> bool:
        """Whether the file has gone away; then nothing is saved any more, and the player hears it.

        Many programs replace a file by way of none, so only the second look counts.
        """
        from rigtui.store.save import is_gone

        gone = is_gone(source)
        if gone is not None and gone != self._missing:
            self._missing = gone
            return True
        if document.read_only is None and document.gone != (gone is not None):
            document.gone = gone is not None
            if gone is not None:
                self.app.say(f"Not saved: {gone}", "warning", seconds=10)
            self.app.refresh_all()
        self._missing = gone
        return gone is not None

    def _show_anew(self, path: Path) -> None:
        """Open a file again that is only looked at; there are no edits to lose."""
        from rigtui.store.formats import rig_to_look_at
        from rigtui.store.load import read_plain
        from rigtui.tui.document import Document

        try:
            source = read_plain(path)
            rig, read_only = rig_to_look_at(source)
        except RigError as error:
            self._say_unreadable(path, error)
            return
        self.app.open_document(Document(rig, path, source, read_only))

    def _say_unreadable(self, path: Path, error: RigError) -> str:
        text = f"{path.name} was changed by another program and can't be read any more"
        if self._told != str(error):
            self._told = str(error)
            self.app.say(f"{text}: {str(error).splitlines()[0]}", "warning", seconds=10)
        return text

    def ask_before_save(self, error: ChangedOnDiskError) -> None:
        """A save would write over what another program wrote, or a file that is gone: ask."""
        from rigtui.store.save import GoneError
        from rigtui.tui.files import ask_overwrite

        document = self.app.document
        if isinstance(error, GoneError) and document is not None and document.source is not None:
            ask_overwrite(self.app, str(error), None, document.source.print, "write it again")
            return
        self._ask_about_change(saving=True, reason=str(error))

    def _ask_about_change(self, saving: bool, reason: str = "") -> None:
        from rigtui.model.diff import differences
        from rigtui.store.fingerprint import changed_since, seen_at
        from rigtui.store.load import load
        from rigtui.tui.files import ask_overwrite

        document = self.app.document
        assert document is not None
        assert document.path is not None
        path = document.path
        seen = seen_at(path)
        try:
            source, theirs = load(path)
        except RigError as error:
            text = self._say_unreadable(path, error)
            if saving:
                ask_overwrite(self.app, text, None, seen)
            return
        if self._told == source.print.sha256 and not saving:
            return
        self._told = source.print.sha256
        base = document.saved
        if base is not None and theirs == base:
            document.source = source  # only spelling or comments changed: build on the new text
            if saving:
                save_to(self.app, None)
            return
        if theirs == document.rig:  # both sides say the same, as after a save that half failed
            document.source, document.saved = source, theirs
            self.app.refresh_all()
            if saving:
                save_to(self.app, None)
            return
        lines = differences(base, theirs) if base is not None else []
        answers = [("l", "load the file (undo brings this version back)")]
        if document.dirty:
            answers = [
                ("m", "merge its changes into this version"),
                ("l", "load the file and discard what is unsaved here (undo brings it back)"),
            ]
        keep = "overwrite it with this version" if saving else "keep this version"
        answers.append(("k", keep))
        question = f"Another program has changed {document.path.name}:"
        self._asking = True

        def answered(answer: str | None) -> None:
            self._asking = False
            if answer in ("l", "m") and os.path.exists(path) and changed_since(path, source.print):
                again = f"another program changed {path.name} again meanwhile"
                self._ask_about_change(saving, again)
                return
            if answer == "l":
                self.app.adopt(source, theirs)
            elif answer == "m" and base is not None and self._merge(base, theirs, "merged file"):
                document.source, document.saved = source, theirs
                self._write_at_once()
                self.app.refresh_all()
                if saving:
                    save_to(self.app, None)
            elif answer == "k" and saving:
                save_to(self.app, None, overwrite=True, seen=source.print)

        self.app.ask(Confirm(reason or question, answers, lines), answered)


def _what_to_do(latest: Recovered, document: Document) -> tuple[str, list[tuple[str, str]]]:
    """The question about edits that a crash left, and its answers."""
    from rigtui.store.versions import when

    moved_on = latest.base_text is not None and (
        document.source is None or document.source.text != latest.base_text
    )
    left = f"Edits were left unsaved {when(latest.seconds)}"
    answers = [("t", "restore them (undo removes them again)"), ("d", "throw them away")]
    if latest.base is None or not (moved_on or document.dirty):
        return f"{left}. Restoring them would change:", answers
    answers.insert(0, ("m", "merge them with this version"))
    since = "the file has changed since" if moved_on else "you have restored other edits already"
    return f"{left}, and {since}. Restoring them unchanged would change:", answers
