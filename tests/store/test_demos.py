"""The rigs to begin with."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigtui.store import demos
from rigtui.store.load import rig_of


def test_demos_of_a_checkout() -> None:
    """In a checkout the demo rigs are the files of the folder beside the package."""
    folder = Path(__file__).parents[2] / "rigs"
    assert demos.demo_paths() == tuple(sorted(folder.glob("*.toml")))
    assert len(demos.demo_paths()) >= 3


def test_demos_of_an_installed_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Once installed, the demo rigs are those inside the package."""
    inside, beside = tmp_path / "rigtui" / "rigs", tmp_path / "rigs"
    for folder in (inside, beside):
        folder.mkdir(parents=True)
        (folder / "demo.toml").write_text("")
    monkeypatch.setattr(demos, "_FOLDERS", (inside, beside))
    assert demos.demo_paths() == (inside / "demo.toml",)


def test_copies_belong_to_no_file() -> None:
    """A demo and the starter are good rigs, and no file is theirs to save over."""
    for source in (*map(demos.copy_of, demos.demo_paths()), demos.starter_source()):
        assert source.path == demos.NOWHERE
        assert rig_of(source).songs


def test_a_demo_is_known_by_any_path(tmp_path: Path) -> None:
    """A demo rig is known as one through a link too, and a copy of it is none."""
    demo = demos.demo_paths()[0]
    link, copy = tmp_path / "link.toml", tmp_path / demo.name
    link.symlink_to(demo)
    copy.write_bytes(demo.read_bytes())
    assert demos.is_demo(demo)
    assert demos.is_demo(link)
    assert not demos.is_demo(copy)
