"""What is kept between runs: recent files and settings."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from rigtui.store import kept
from rigtui.store.atomic import SaveError
from rigtui.store.kept import (
    FILES_KEPT,
    keep_setting,
    read_settings,
    recent_files,
    remember_file,
    settings_path,
    table,
)

posix_only = pytest.mark.skipif(os.name == "nt", reason="folders come from the registry there")


@posix_only
def test_where_things_are_kept(user_folders: Path) -> None:
    """Settings stand in the user's config folder and recent files in the state folder.

    Source: XDG Base Directory Specification, XDG_CONFIG_HOME and XDG_STATE_HOME.
    """
    keep_setting("theme", "light")
    remember_file(user_folders / "home" / "a.toml")
    if "darwin" not in sys.platform:
        assert (user_folders / "config" / "rigtui" / "settings.toml").is_file()
        assert (user_folders / "state" / "rigtui" / "recent.toml").is_file()


def test_latest_file_comes_first(tmp_path: Path) -> None:
    """Files are listed latest first, each once, and only while they are there."""
    first, second, gone = (tmp_path / name for name in ("first.toml", "[b]é.toml", "gone.toml"))
    for path in (first, second):
        path.write_text("format = 1\n")
    for path in (first, gone, second, first):
        remember_file(path)
    assert recent_files() == (first, second)


def test_list_of_files_ends_somewhere(tmp_path: Path) -> None:
    """No more than a screenful of files is kept."""
    for number in range(FILES_KEPT + 5):
        path = tmp_path / f"{number}.toml"
        path.write_text("")
        remember_file(path)
    assert len(recent_files()) == FILES_KEPT
    assert recent_files()[0].name == f"{FILES_KEPT + 4}.toml"


@pytest.mark.parametrize("text", ["files = 3", "files = [1, {}]", "files = [", "\0", ""])
def test_broken_list_is_no_list(tmp_path: Path, text: str) -> None:
    """A list of files that makes no sense counts as empty, and the next file starts it anew."""
    path = tmp_path / "rig.toml"
    path.write_text("")
    remember_file(path)

    recent = kept._recent_path()
    recent.write_text(text)
    assert recent_files() == ()
    remember_file(path)
    assert recent_files() == (path,)


def test_setting_keeps_the_rest_of_the_file() -> None:
    """Writing one setting leaves the user's comments and other settings alone."""
    path = settings_path()
    path.parent.mkdir(parents=True)
    path.write_text('# mine\ntheme = "dark"  # at night\n\n[keys]\n"app.undo" = "z"\n')
    keep_setting("theme", "light")
    assert path.read_text() == '# mine\ntheme = "light"  # at night\n\n[keys]\n"app.undo" = "z"\n'
    assert read_settings()["theme"] == "light"
    assert table(read_settings(), "keys") == {"app.undo": "z"}


@pytest.mark.parametrize("text", ["theme = dark", f"a = {'[' * 5000}"])
def test_broken_settings_are_not_written_over(text: str) -> None:
    """A settings file that is no TOML counts as empty, and is left for the user to mend."""
    path = settings_path()
    path.parent.mkdir(parents=True)
    path.write_text(text)
    assert read_settings() == {}
    with pytest.raises(SaveError, match="is not TOML"):
        keep_setting("theme", "light")
    assert path.read_text() == text


@posix_only
def test_a_setting_is_kept_where_no_folder_of_settings_is_yet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a new account not even the folder that all programs share is there."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "new" / "config"))
    monkeypatch.setenv("HOME", str(tmp_path / "new"))
    keep_setting("theme", "nord")
    assert read_settings()["theme"] == "nord"
