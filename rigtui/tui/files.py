"""Saving, and the questions around saving and leaving. Nothing is lost unless the player agrees."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.model.errors import RigError
from rigtui.tui.typed_path import PathFault, typed_path
from rigtui.tui.widgets.dialogs import Confirm, Field, Form

if TYPE_CHECKING:
    from rigtui.store.fingerprint import Fingerprint
    from rigtui.tui.document import Document
    from rigtui.tui.document_app import DocumentApp


def save_to(
    app: DocumentApp, path: Path | None, overwrite: bool = False, seen: Fingerprint | None = None
) -> str | None:
    """Save the document; return what went wrong, or None.

    Args:
        app: The app.
        path: Where to; the document's own file if None.
        overwrite: Whether the player has said to write over what another program wrote,
        seen: and what the file was like then.
    """
    from rigtui.store.fingerprint import seen_at
    from rigtui.store.save import ChangedOnDiskError

    document = app.document
    assert document is not None
    try:
        notes = document.save(path, overwrite, seen)
    except ChangedOnDiskError as error:
        if path is None:
            app.ask_before_save(error)
        else:
            ask_overwrite(app, str(error), path, seen_at(path) if path else None)
        return None
    except RigError as error:
        landed = getattr(error, "landed", False)
        app.say(str(error) if landed else f"Not saved: {error}", "error")
        return str(error)
    app.saved()
    if notes:
        app.say(f"Saved, but {'; '.join(notes)}", "warning", seconds=10)
    else:
        app.say(f"Saved {document.name}")
    return None


def save_as_form(app: DocumentApp) -> Form:
    """Ask for the file to save to."""
    from rigtui.store.demos import is_demo

    document = app.document
    assert document is not None

    def submit(given: dict[str, str]) -> str | None:
        try:
            path = typed_path(given["path"])
        except PathFault as fault:
            return str(fault)
        if os.path.isdir(path):  # asks no questions of a path that leads nowhere
            return f"{path} is a folder: give the file a name"
        if path != document.path and is_demo(path):
            return f"{path.name} is a demo that comes with the program: choose another name"
        return save_to(app, path)

    return Form("Save as", [Field("path", "File", document.name_to_save)], submit)


def ask_overwrite(
    app: DocumentApp,
    news: str,
    path: Path | None,
    seen: Fingerprint | None,
    how: str = "overwrite it with this version",
) -> None:
    """Ask whether to write a file that is not the one that was read, or is not there any more.

    Args:
        app: The app.
        news: What is the matter with it.
        path: The file; the document's own if None.
        seen: What it is like now; should it change before the answer, it is asked again.
        how: What a yes does.
    """

    def answered(answer: str | None) -> None:
        if answer == "y":
            save_to(app, path, overwrite=True, seen=seen)
        elif answer == "o":
            app.action_save_as()

    app.ask(
        Confirm(
            f"{news}. {how.capitalize()}?",
            [("y", how), ("o", "save under another name")],
        ),
        answered,
    )


def ask_unsaved(app: DocumentApp, doing: str, then: Callable[[], None]) -> None:
    """Ask what to do with unsaved edits, then go on; go on at once if there are none.

    Args:
        app: The app.
        doing: What is about to be done, e.g. "quit".
        then: Does it, once the edits are saved or dropped.
    """
    document = app.document
    if document is None or not document.dirty:
        then()
        return

    def go_on(_: object = None) -> None:
        if not document.dirty:
            then()

    def answered(answer: str | None) -> None:
        if answer == "d":
            then()
        elif answer == "s" and document.path is None:
            app.ask(save_as_form(app), go_on)
        elif answer == "s":
            save_to(app, None)
            go_on()

    app.ask(
        Confirm(
            f"{document.name} has unsaved changes.",
            [("s", f"save and {doing}"), ("d", f"discard the changes and {doing}")],
        ),
        answered,
    )


def mend_in_file(document: Document, where: str) -> str:
    """Say where a place stands in the file, for what no screen changes yet."""
    from rigtui.model.place_words import place_in_words
    from rigtui.store.locate import locate

    place = place_in_words(document.rig, where)
    if document.source is None or document.path is None:
        return f"{place}: no screen can change this yet. Save the rig, and fix it in a text editor."
    line = locate(document.source, where)
    if line is None:
        return f"{place}: not in {document.name} yet. Save first, then fix it in a text editor."
    saved = " in the saved version" if document.dirty else ""
    return (
        f"{place}: no screen can change this yet. Fix it in a text editor: "
        f"{document.name}, line {line}{saved}."
    )


def save_picture(app: DocumentApp) -> None:
    """Save what the screen shows as a picture, in the folder where the program was started."""
    import time

    from rigtui.store.atomic import SaveError
    from rigtui.store.outputs import write_output

    path = Path(f"rigtui-{app.view_id}-{time.strftime('%Y-%m-%d-%H%M%S')}.svg")
    picture = app.export_screenshot(title="").encode("utf-8", "replace")
    try:
        note = write_output(path, picture, "a picture", lambda head: b"<svg" in head)
    except SaveError as error:
        app.say(f"No picture was saved: {error}", "error")
    else:
        app.say(f"Saved {path}" + (f", but {note}" if note else ""), seconds=8)
