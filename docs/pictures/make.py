"""The pictures in the README, drawn from a demo: python docs/pictures/make.py

Each is the screen as the program draws it, without a frame of any terminal.
"""

from __future__ import annotations

import asyncio
import os
import re
import sys
import tempfile
import time
from collections.abc import AsyncIterator
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
SIZE = (100, 30)
SECONDS = 40
"""How long a screen may take until it is ready."""


class Picture(NamedTuple):
    """One screen: what to press on the way, and how long to wait before it is drawn."""

    name: str
    keys: tuple[str, ...]
    wait_for: str
    """What is on the screen when it is ready."""
    steady: bool = True
    """Whether it looks the same however fast the machine is."""


PICTURES = (
    Picture("board", ("1", *("right_square_bracket",) * 4), "Guitar"),
    Picture("presets", ("2", "down", "down"), "Crunch"),
    Picture("setlist", ("3", *("down",) * 9, "tab", *("down",) * 7), "Velvet Letterbox"),
    Picture("report", ("4",), "Leave Wide chorus off"),
    Picture("plan", ("5",), "Before the gig", steady=False),
    Picture("wiring", ("6", "p"), "Leads 16"),
)


def plain(svg: str) -> str:
    """A picture that fetches nothing from anywhere: fonts are those of whoever looks at it."""
    svg = re.sub(r"@font-face \{.*?\}\s*", "", svg, flags=re.DOTALL)
    svg = re.sub(r"<!--.*?-->", "", svg, flags=re.DOTALL)
    svg = re.sub(r"<circle [^>]*/>", "", svg)
    svg = re.sub(r"terminal-\d+-", "screen-", svg)
    return svg.replace("Fira Code, monospace", "monospace").replace("Fira Code", "monospace")


async def drawn(only_steady: bool = False) -> AsyncIterator[tuple[str, str]]:
    """Each picture's name and SVG."""
    sys.path.insert(0, str(ROOT / "tests"))
    from screens import app_on, on_screen, shown

    for picture in PICTURES:
        if only_steady and not picture.steady:
            continue
        app = app_on(ROOT / "rigs" / "quay-street.toml")
        async with on_screen(app, SIZE) as pilot:
            for key in picture.keys:
                await pilot.press(key)
                await pilot.pause()
            end = time.monotonic() + SECONDS
            while picture.wait_for not in shown(app):
                assert time.monotonic() < end, f"{picture.name} never shows {picture.wait_for}"
                await pilot.pause(0.1)
            app.clear_notifications()
            await pilot.pause(0.2)
            yield picture.name, plain(app.export_screenshot(title=""))


async def main() -> None:
    """Draw them all."""
    with tempfile.TemporaryDirectory() as folder:
        for variable in ("XDG_CONFIG_HOME", "XDG_STATE_HOME"):
            os.environ[variable] = folder
        async for name, svg in drawn():
            (HERE / f"{name}.svg").write_text(svg, encoding="utf-8")
            print(name)


if __name__ == "__main__":
    asyncio.run(main())
