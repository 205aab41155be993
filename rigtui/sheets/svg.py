"""A drawing as SVG: black on white, words as text that can be searched and read aloud.

Source: Scalable Vector Graphics (SVG) 1.1, second edition, W3C.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html import escape

from rigtui.model.cells import cells
from rigtui.model.text import visible
from rigtui.paper.drawing import Drawing, Frame, Label, Stroke

_NAMESPACE = "http://www.w3.org/2000/svg"
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_ROOT = f'<svg xmlns="{_NAMESPACE}"'
_CORNER = "-1 -1"
"""Of the picture, from the drawing's own: half a line sticks out."""
_EM = 0.62
"""About how wide a letter of a plain typeface is, as a share of its size."""
# The last two of each plane, and 32 more, which no XML or HTML page may hold.
_NOT_CHARACTERS = re.compile(
    "[\ufdd0-\ufdef" + "".join(chr(plane + end) for plane in range(0, 0x110000, 0x10000)
                               for end in (0xFFFE, 0xFFFF)) + "]"
)  # fmt: skip


def marked_up(text: str) -> str:
    """Escape a text for use between marks, so that nothing in it reads as one."""
    return escape(_NOT_CHARACTERS.sub("\ufffd", visible(text, keep="\n")))


def svg_file(drawing: Drawing, lines: Iterable[str]) -> str:
    """Return a drawing as a whole file, with the same in lines of text as its description."""
    element = svg(drawing, lines).replace("<svg", _ROOT, 1)
    return f"{_HEAD}{element}\n"


def is_svg_file(head: bytes) -> bool:
    """Whether the first bytes of a file are those of a drawing that `svg_file` made."""
    return head.startswith(f'{_HEAD}{_ROOT} viewBox="{_CORNER} '.encode())


def svg(drawing: Drawing, lines: Iterable[str]) -> str:
    """Return a drawing as an element of an HTML page."""
    said = " ".join(" ".join(lines).split())
    size = f"{_CORNER} {drawing.width + 2:g} {drawing.height + 2:g}"
    shapes = "\n".join(_shapes(drawing))
    return (
        f'<svg viewBox="{size}" width="100%" role="img"'
        f' font-family="sans-serif" stroke="none" fill="#000000">\n'
        f"<title>{marked_up(said)}</title>\n{shapes}\n</svg>"
    )


def _shapes(drawing: Drawing) -> Iterator[str]:
    yield f'<rect width="{drawing.width:g}" height="{drawing.height:g}" fill="#ffffff"/>'
    yield from map(_frame, drawing.frames)
    yield from map(_stroke, drawing.strokes)
    yield from map(_label, drawing.labels)


def _frame(frame: Frame) -> str:
    dashes = ' stroke-dasharray="3 2"' if frame.dashed else ""
    return (
        f'<rect x="{frame.x:g}" y="{frame.y:g}" width="{frame.width:g}" height="{frame.height:g}"'
        f' fill="none" stroke="#000000" stroke-width="{frame.pen:g}"{dashes}/>'
    )


def _stroke(stroke: Stroke) -> str:
    return (
        f'<line x1="{stroke.x:g}" y1="{stroke.y:g}" x2="{stroke.to_x:g}" y2="{stroke.to_y:g}"'
        f' stroke="#000000" stroke-width="{stroke.width:g}"/>'
    )


def _label(label: Label) -> str:
    anchor = ' text-anchor="middle"' if label.middle else ""
    bold = ' font-weight="bold"' if label.bold else ""
    tight = cells(label.text) * label.size * _EM > label.room
    squeeze = f' textLength="{label.room:g}" lengthAdjust="spacingAndGlyphs"' if tight else ""
    return (
        f'<text x="{label.x:g}" y="{label.base:g}" font-size="{label.size:g}"'
        f"{anchor}{bold}{squeeze}>{marked_up(label.text)}</text>"
    )
