"""The document that the screens work on: the rig, its history, its file. One door for edits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.model.errors import EditError
from rigtui.model.history import History

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.store.fingerprint import Fingerprint
    from rigtui.store.load import Source

Edit = Callable[["Rig"], "Rig"]


class Document:
    """A rig being worked on."""

    def __init__(
        self,
        rig: Rig,
        path: Path | None,
        source: Source | None,
        read_only: str | None = None,
        origin: Path | None = None,
    ) -> None:
        """Take a rig.

        Args:
            rig: The rig to work on.
            path: Its file; None while it has none.
            source: The file as it was read; None while it has none.
            read_only: Why it may only be looked at; None where it may be edited.
            origin: What it is a copy of, while it has no file of its own.
        """
        self.history = History(rig)
        self.path = path
        self.source = source
        self.read_only = read_only
        self.origin = origin
        self.saved: Rig | None = rig if source is not None else None
        self.gone = False
        """Whether its file, or the drive that it was on, has gone away."""
        self._layouts: list[tuple[Rig, Source]] = []
        from rigtui.model.limits import Fits

        self._fits = Fits()

    @property
    def rig(self) -> Rig:
        """The rig as it is now."""
        return self.history.rig

    @property
    def dirty(self) -> bool:
        """Whether there is something that no file holds."""
        return self.gone or (self.rig is not self.saved and self.rig != self.saved)

    @property
    def name(self) -> str:
        """The file's name, or what stands for one."""
        if self.path is not None:
            return self.path.name
        return f"copy of {self.origin.name}" if self.origin else "new rig"

    @property
    def name_to_save(self) -> str:
        """The file to save to, or a name to offer where there is none."""
        if self.path is not None:
            return str(self.path)
        return f"my-{self.origin.name}" if self.origin else "my-rig.toml"

    def apply(self, label: str, edit: Edit) -> bool:
        """Do an edit as one step of undo; return whether it changed anything.

        Raises:
            EditError: the edit cannot be done, or no file could hold the rig then; nothing has
                changed.
        """
        if self.read_only is not None:
            raise EditError(self.read_only)
        before = self.history
        rig = edit(before.rig)
        too_large = self._fits.reason_not(rig)
        if too_large is not None:
            raise EditError(too_large)
        self.history = before.done(label, rig)
        return self.history is not before

    def undo(self) -> str | None:
        """Take the last step back; return what it was, or None if there is none."""
        label = self.history.undo_label
        self.history = self.history.undone()
        return label

    def redo(self) -> str | None:
        """Redo the step that was undone last; return its name, or None."""
        label = self.history.redo_label
        self.history = self.history.redone()
        return label

    def adopt(self, label: str, rig: Rig, layout: Source) -> None:
        """Take a rig of some other text, as one step of undo; saving it keeps that text's comments.

        Raises:
            EditError: the document may only be looked at.
        """
        self.apply(label, lambda _: rig)
        self._layouts.append((rig, layout))

    @property
    def _layout(self) -> Source | None:
        """The text whose comments belong to the rig as it is now: the file's, or one adopted."""
        for known in (self.rig, *(before for _, before in reversed(self.history.past))):
            for rig, layout in self._layouts:
                if rig is known:
                    return layout
        return self.source

    def save(
        self, path: Path | None = None, overwrite: bool = False, seen: Fingerprint | None = None
    ) -> tuple[str, ...]:
        """Write the rig to its file, or to another one that is then its file.

        Args:
            path: Where to; its own file if left out.
            overwrite: Write even over a file that another program has changed.
            seen: What that file was like when the player said so.

        Returns:
            What to tell the player although it is saved; normally nothing.

        Raises:
            SaveError: it could not be written, or may not be; the document stays as it is.
        """
        from rigtui.store.atomic import SaveError
        from rigtui.store.save import save

        if self.read_only is not None:
            raise SaveError(self.read_only)
        target = path or self.path
        assert target is not None
        source = self.source
        if source is not None and (layout := self._layout) is not None:
            source = replace(source, text=layout.text, data=layout.data)
        self.source, notes = save(self.rig, target, source, overwrite, seen)
        self.path, self.saved, self.gone = target, self.rig, False
        self._layouts.clear()
        return notes
