"""The picture of the chain: everything is on it, inside it, and in its box."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from rigs_made import Data, loop, make_rig, pedal, switcher
from sheets.rigs_for_sheets import rigs

from rigtui.model import Rig, rig_from_data
from rigtui.paper.chain_picture import chain_picture
from rigtui.paper.drawing import Drawing
from rigtui.sheets.svg import svg_file


def board(pedals: int, loops: int) -> Rig:
    """A board of so many pedals, two of them outside, the rest shared out over the loops."""
    ids = [f"p{at}" for at in range(pedals)]
    inside: list[list[str]] = [ids[2 + at :: loops] for at in range(loops)]
    return make_rig(
        switcher=switcher(),
        pedals=[pedal(id, name=f"Quite a long name {id}") for id in ids],
        loops=[loop(at + 1, *held) for at, held in enumerate(inside)],
        chain={"front": [*ids[:2], *range(1, loops + 1)]},
    )


def inside(drawing: Drawing) -> None:
    """Nothing is drawn outside of it."""
    for frame in drawing.frames:
        assert 0 <= frame.x <= frame.x + frame.width <= drawing.width
        assert 0 <= frame.y <= frame.y + frame.height <= drawing.height
    for stroke in drawing.strokes:
        assert 0 <= stroke.x <= stroke.to_x <= drawing.width
    for label in drawing.labels:
        assert 0 <= label.base <= drawing.height


@pytest.mark.parametrize(("pedals", "loops"), [(14, 10), (7, 5), (22, 1), (2, 3), (150, 99)])
def test_boards_of_all_sizes(pedals: int, loops: int) -> None:
    """Every pedal has a box and every loop a frame; no two boxes overlap."""
    rig = board(pedals, loops)
    drawing = chain_picture(rig).drawing
    inside(drawing)
    boxes = [frame for frame in drawing.frames if frame.width == 60]
    assert len(boxes) == len(rig.pedals) + 2
    for at, box in enumerate(boxes):
        for other in boxes[at + 1 :]:
            apart = abs(box.x - other.x) >= box.width or abs(box.y - other.y) >= box.height
            assert apart


def test_bands_hold_all_of_it() -> None:
    """Cut between its rows, nothing is lost and nothing is cut through."""
    drawing = chain_picture(board(14, 10)).drawing
    bands = list(drawing.bands())
    assert len(bands) > 2
    assert sum(band.height for band in bands) == pytest.approx(drawing.height)
    for kind in ("frames", "strokes", "labels"):
        held = sum(len(getattr(band, kind)) for band in bands)
        assert held == len(getattr(drawing, kind))
    for band in bands:
        inside(band)


@given(rigs())
def test_any_name_can_stand_in_it(data: Data) -> None:
    """The picture of a rig with names of all sorts is one XML file."""
    picture = chain_picture(rig_from_data(data))
    inside(picture.drawing)
    ElementTree.fromstring(svg_file(picture.drawing, picture.lines))
