"""The questions round saving and leaving. Nothing is lost without a yes."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.tui.widgets.dialogs import Confirm, Field, Form

if TYPE_CHECKING:
    from rigtui.store.save import ChangedOnDiskError
    from rigtui.tui.app import RigApp
    from rigtui.tui.document import Document


def save_as_form(app: RigApp) -> Form:
    """Ask for the file to save to."""
    assert app.document is not None
    here = str(app.document.path) if app.document.path else "my-rig.toml"

    def submit(given: dict[str, str]) -> str | None:
        text = given["path"].strip()
        if not text:
            return "a file needs a name"
        path = Path(text).expanduser()
        if path.is_dir():
            return f"{path} is a folder: give the file a name"
        return app.save_to(path)

    return Form("Save as", [Field("path", "File", here)], submit)


def ask_overwrite(app: RigApp, error: ChangedOnDiskError, path: Path | None) -> None:
    """Ask whether to write over a file that is not the one that was read."""

    def answered(answer: str | None) -> None:
        if answer == "y":
            app.save_to(path, overwrite=True)
        elif answer == "o":
            app.action_save_as()

    app.push_screen(
        Confirm(
            f"{error}. Write over it?",
            [("y", "write over it with what is here"), ("o", "save under another name")],
        ),
        answered,
    )


def ask_leave(app: RigApp) -> None:
    """Ask what becomes of unsaved edits."""

    def answered(answer: str | None) -> None:
        if answer == "s":
            app.action_save()
            if app.document is not None and not app.document.dirty:
                app.leave()
        elif answer == "d":
            app.leave()

    name = app.document.name if app.document else ""
    app.push_screen(
        Confirm(
            f"{name} has unsaved changes.",
            [("s", "save and quit"), ("d", "drop the changes and quit")],
        ),
        answered,
    )


def mend_in_file(document: Document, where: str) -> str:
    """Say where a place stands in the file, for what no screen changes yet."""
    from rigtui.model.places import place_in_words
    from rigtui.store.locate import locate

    place = place_in_words(document.rig, where)
    if document.source is None or document.path is None:
        return f"{place}: no screen changes this yet. Save the rig, and mend it in a text editor."
    line = locate(document.source, where)
    if line is None:
        return f"{place}: not in {document.name} yet. Save first, then mend it in a text editor."
    saved = " as it was last saved" if document.dirty else ""
    return (
        f"{place}: no screen changes this yet. Mend it in a text editor: "
        f"{document.name}, line {line}{saved}."
    )
