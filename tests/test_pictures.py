"""The pictures of the README show the screens as they are: python docs/pictures/make.py."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
FOLDER = ROOT / "docs" / "pictures"


def texts(svg: str) -> list[str]:
    """What can be read in a picture, in order."""
    return [text for text in re.findall(r">([^<>]+)</text>", svg) if text.strip()]


async def test_the_pictures_are_of_today() -> None:
    """Drawn again they read the same; the plan, which is timed, is left out."""
    spec = importlib.util.spec_from_file_location("make_pictures", FOLDER / "make.py")
    assert spec is not None
    assert spec.loader is not None
    make = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(make)
    names = []
    async for name, svg in make.drawn(only_steady=True):
        names.append(name)
        assert texts((FOLDER / f"{name}.svg").read_text(encoding="utf-8")) == texts(svg), name
    assert names == ["board", "presets", "setlist", "report", "wiring"]


def test_a_picture_fetches_nothing() -> None:
    """No font, no picture, no script of anybody else: the names of SVG alone are addresses."""
    for picture in FOLDER.glob("*.svg"):
        addresses = re.findall(r"https?://[^\"' )<]+", picture.read_text(encoding="utf-8"))
        assert set(addresses) == {"http://www.w3.org/2000/svg"}, picture.name
        assert f"docs/pictures/{picture.name}" in (ROOT / "README.md").read_text(encoding="utf-8")
