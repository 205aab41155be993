"""Go back to a version saved earlier, and name the version saved last."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.model.errors import RigError
from rigtui.store.versions import when
from rigtui.tui.widgets.dialogs import Field, Form
from rigtui.tui.widgets.pick import Pick

if TYPE_CHECKING:
    from rigtui.store.versions import Version
    from rigtui.tui.document_app import DocumentApp


def ask_version(app: DocumentApp) -> None:
    """Let the player choose a saved version and take it as one step of undo."""
    from rigtui.store.versions import versions

    document = app.document
    if document is None or document.path is None:
        app.say("You haven't saved yet, so there is no version to go back to")
        return
    try:
        kept = versions(document.path)
    except RigError as error:
        app.say(str(error), "error")
        return
    if not kept:
        app.say("No saved version is kept yet: each save keeps one, up to twenty")
        return
    choices = []
    for at, version in enumerate(kept):
        before = kept[at + 1] if at + 1 < len(kept) else None
        name = f"{version.name}: " if version.name else ""
        choices.append((str(at), f"{when(version.seconds)}  {name}{version.changes_since(before)}"))

    def chosen(answer: str | None) -> None:
        if answer is not None:
            _take(app, kept[int(answer)])

    app.ask(Pick("Go back to a saved version", choices), chosen)


def _take(app: DocumentApp, version: Version) -> None:
    document, rig = app.document, version.rig()
    if document is None or rig is None:
        app.say("This program can't read that version", "error")
        return
    try:
        document.adopt(f"go back to {when(version.seconds)}", rig, version.source())
    except RigError as error:
        app.say(str(error), "error")
        return
    app.refresh_all()
    app.say("The saved version is back; the file doesn't change until you save")


def name_form(app: DocumentApp) -> Form | None:
    """Ask for a name for the version that is saved now; None if there is none."""
    document = app.document
    if document is None or document.path is None or document.source is None:
        app.say("Save first: a name needs a saved version")
        return None
    path, text = document.path, document.source.text

    def submit(given: dict[str, str]) -> str | None:
        from rigtui.store.versions import keep

        name = given["name"].strip()
        if not name:
            return "give it a name"
        try:
            keep(path, text, name)
        except RigError as error:
            return str(error)
        app.say(f"The saved version is now called {name}")
        return None

    return Form(
        "Name the saved version", [Field("name", "Name", hint="e.g. before the gig")], submit
    )
