"""The tutorial, done as it is written: its keys are pressed, and what it says is seen."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from patience import PATIENCE_SECONDS
from screens import SMALL, on_screen, shown, typed

from rigtui.cli import main
from rigtui.tui.app import RigApp

PAGE = Path(__file__).parents[1] / "docs" / "tutorial.md"
KEYS = {"enter", "space", "tab", "escape", "up", "down", "left", "right", "ctrl+p"}


class Act(NamedTuple):
    """One thing that the page has its reader do, or see."""

    kind: str
    text: str


def acts_of(page: str) -> list[Act]:
    """What is pressed, typed and seen, in the order of the page."""
    part = page.partition("## 1.")[2].partition("## 8.")[0]
    part = part.replace("Every change is one step that `u` takes back.", "")
    part = part.replace("Start `rigtui` without a file.", "")
    acts = []
    for see, do in re.findall(r"\*\*(.+?)\*\*|`(.+?)`", " ".join(part.split())):
        acts.append(Act("see", see) if see else Act("key" if do in KEYS else "type", do))
    return acts


def seen(app: RigApp) -> str:
    """The screen as one line, without the frames that break words apart."""
    return re.sub(r"[\s│╭╮╰╯─>]+", " ", shown(app))


async def comes(pilot: Any, text: str) -> bool:
    """Wait until a text is on the screen: reports and plans take a moment."""
    words = re.sub(r"[\s>]+", " ", text)
    end = time.monotonic() + PATIENCE_SECONDS
    while words not in seen(pilot.app) and time.monotonic() < end:
        await pilot.pause(0.05)
    return words in seen(pilot.app)


async def test_the_tutorial_works_as_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every key in turn; every text in bold is on the screen when its turn comes."""
    monkeypatch.chdir(tmp_path)
    page = PAGE.read_text(encoding="utf-8")
    acts = acts_of(page)
    assert sum(act.kind == "see" for act in acts) > 15
    app = RigApp(None)
    async with on_screen(app, SMALL) as pilot:
        for act in acts:
            if act.kind == "see":
                assert await comes(pilot, act.text), (act.text, shown(app))
            else:
                await pilot.press(*([act.text] if act.kind == "key" else typed(act.text)))
                await pilot.pause()
    assert not app.is_running
    assert (tmp_path / "tutorial.toml").is_file()
    assert list(tmp_path.glob("*.pdf")) != []
    (shell,) = re.findall(r"```sh\n(.*?)```", page, re.DOTALL)
    for line in shell.splitlines():
        assert main(line.split()[1:]) in (0, 1)
