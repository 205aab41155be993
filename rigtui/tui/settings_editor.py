"""Open the settings in the user's editor, and use them at once afterwards."""

from __future__ import annotations

from textual.app import SuspendNotSupported

from rigtui.store.atomic import SaveError
from rigtui.store.kept import settings_path
from rigtui.tui.document_app import DocumentApp
from rigtui.tui.settings_file import editor_words, have_settings, run_editor, told_faults


def tell_faults() -> str:
    """What of the settings makes no sense, in a sentence; empty where all is well."""
    try:
        faults = told_faults()
    except (OSError, ValueError) as error:
        return f"The settings can't be read: {getattr(error, 'strerror', None) or error}"
    more = f" (and {len(faults) - 1} more: rigtui settings --check)" if faults[1:] else ""
    return f"Settings, {faults[0]}{more}" if faults else ""


def edit_settings(app: DocumentApp) -> None:
    """Lend the terminal to the user's editor, then take over what the settings say."""
    path = settings_path()
    words = editor_words()
    try:
        have_settings()
        if not words:
            app.say(f"Your settings: {path} ($VISUAL and $EDITOR are not set)", seconds=12)
            return
        with app.suspend():
            not_started = run_editor(words, path)
    except SuspendNotSupported:
        app.say(f"Your settings: {path} (no editor can open inside this terminal)", seconds=12)
        return
    except (SaveError, OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        app.say(f"The settings can't be opened: {why}", "error")
        return
    if not_started:
        app.say(not_started, "error")
        return
    app.take_settings()
    app.refresh(layout=True)
    told = tell_faults()
    app.say(told or "The settings are now in use", "warning" if told else "information")
