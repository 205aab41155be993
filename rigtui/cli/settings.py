"""`rigtui settings`: open, check or list what the user can set."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put, put_lines
from rigtui.store.atomic import SaveError
from rigtui.store.kept import read_settings, settings_path


def run(arguments: Namespace) -> int:
    """Do what was asked for and return the exit status."""
    path = settings_path()
    if arguments.path:
        put(f"{path}\n")
        return 0
    if arguments.list:
        _list()
        return 0
    try:
        return _checked(path) if arguments.check else _edited(path)
    except SaveError as error:
        complain(f"rigtui settings: {error}")
    except (OSError, ValueError) as error:
        complain(
            f"rigtui settings: {path} can't be read: {getattr(error, 'strerror', None) or error}"
        )
    return BAD_USAGE


def _list() -> None:
    from rigtui.tui.settings_file import commands_listed

    rows = list(commands_listed(read_settings()))
    wide = max(len(name) for name, _, _ in rows)
    put_lines("".join(f"{name:{wide}}  {keys:28}  {words}\n" for name, keys, words in rows))


def _checked(path: Path) -> int:
    from rigtui.tui.settings_file import told_faults

    faults = told_faults()
    complain(*(f"{path}: {fault}" for fault in faults))
    if not faults:
        said = "fine" if path.exists() else "does not exist, so every setting has its default"
        put(f"{path}: {said}\n")
    return BAD_USAGE if faults else 0


def _edited(path: Path) -> int:
    from rigtui.tui.settings_file import editor_words, have_settings, run_editor

    have_settings()
    if not (words := editor_words()):
        put(f"{path}\n")
        complain("Open this file in a text editor: $VISUAL and $EDITOR are not set")
        return 0
    if not_started := run_editor(words, path):
        complain(f"rigtui settings: {not_started}")
        return BAD_USAGE
    return _checked(path)
