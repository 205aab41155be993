"""The board before and after a plan as pictures in text: loops in signal order, banks as rows.

Lines are made for a width in cells, so a wide character takes two; names are cut by cells too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from rigtui.model.cells import cells, clip, fit, wrap
from rigtui.model.lookup import lookup
from rigtui.model.places import place_at
from rigtui.model.rig import Preset, Rig
from rigtui.model.text import visible
from rigtui.plan.verdict.compare import board_differs, outside_of
from rigtui.plan.verdict.memories import programmed, stored_in

CHANGED = "*"
"""Stands before whatever differs from now."""
NAMES = ("now", "then")
_OF_LOOPS, _OF_BANKS = 8, 15
"""Cells of what stands before a row of boxes."""
_LOOP_CELLS, _SWITCH_CELLS = (8, 18), (11, 22)
"""Cells that a box may have, at the least and at the most; boxes that fit none go on below."""
_AMP = 3
_MOST_LINES = 3
_EMPTY = "-"
Show = Callable[[str], str]


class Piece(NamedTuple):
    """A part of a line; what is changed also says so in its text."""

    text: str
    changed: bool = False


class Line(NamedTuple):
    """A line of a picture."""

    pieces: tuple[Piece, ...]
    place: str = ""
    """What it is about, of what is changed if anything is: "loops.3"; "" for nothing."""

    @property
    def text(self) -> str:
        """The line without its looks."""
        return "".join(piece.text for piece in self.pieces).rstrip()

    @property
    def changed(self) -> bool:
        """Whether anything in it differs from now."""
        return any(piece.changed for piece in self.pieces)


class _Box(NamedTuple):
    head: str
    text: str
    changed: bool = False
    place: str = ""
    width: int | None = None
    """Cells; as all others where it has none of its own."""


# Loops


def loops_picture(
    now: Rig, then: Rig, width: int, show: Show = visible, names: tuple[str, str] = NAMES
) -> list[Line]:
    """Draw the loops in signal order, now and then; once where nothing is plugged otherwise.

    Args:
        now: The rig as it is.
        then: The rig as planned.
        width: Cells in a line.
        show: Makes a name fit to be shown.
        names: What the two are called.
    """
    old, new = _loop_boxes(now, now), _loop_boxes(then, now)
    if not board_differs(now, then):
        lines = [*_drawn("", _OF_LOOPS, old, width, _LOOP_CELLS, show)]
        return [*lines, *_outside(now, now, width, show)]
    above = list(_drawn(f"  {names[0]}", _OF_LOOPS, old, width, _LOOP_CELLS, show))
    below = list(_drawn(f"  {names[1]}", _OF_LOOPS, new, width, _LOOP_CELLS, show, aside=True))
    once = below[:1] == above[:1] and len(_rows(old, width, _OF_LOOPS, _LOOP_CELLS)) == 1
    return [*above, *below[once:], *_outside(now, then, width, show)]


def _loop_boxes(rig: Rig, now: Rig) -> list[_Box]:
    before = {loop.number: loop for loop in now.loops}
    names = lookup(rig)
    chained = [item for item in (*rig.chain.front, *rig.chain.fx) if isinstance(item, int)]
    place = {number: at for at, number in enumerate(chained)}
    boxes: list[_Box] = []
    order = sorted(
        rig.loops,
        key=lambda loop: (loop.side == "fx", place.get(loop.number, len(place)), loop.number),
    )
    for loop in order:
        if loop.side == "fx" and all(box.width is None for box in boxes):
            boxes.append(_Box("", "amp", width=_AMP))
        was = before.get(loop.number)
        changed = was is None or (was.side, was.pedals) != (loop.side, loop.pedals)
        text = ", ".join(names.label(pedal) for pedal in loop.pedals) or "(empty)"
        boxes.append(_Box(str(loop.number), text, changed, place_at("loops", loop.number)))
    return boxes


def _outside(now: Rig, then: Rig, width: int, show: Show) -> Iterator[Line]:
    """The pedals in no loop: those that are stepped on, then those that are left on."""
    known = lookup(then)
    said = []
    for label, old, new in zip(("outside", "left on"), outside_of(now), outside_of(then)):
        names = [CHANGED * (pedal not in old) + show(known.label(pedal)) for pedal in new]
        if names or old:
            said.append(f"{label}: {', '.join(names) or 'none'}")
    for line in wrap("; ".join(said), width, "  ", "    ") if said else ():
        yield Line((Piece(line, outside_of(now) != outside_of(then)),))


# Footswitches


def banks_picture(
    now: Rig,
    then: Rig,
    width: int,
    show: Show = visible,
    names: tuple[str, str] = NAMES,
    most: int | None = None,
) -> list[Line]:
    """Draw each bank as a row of footswitches with the presets that they recall, now and then.

    Every memory of a preset is drawn, its copies too. A bank that stays as it is, is drawn once.

    Args:
        now: The rig as it is.
        then: The rig as planned.
        width: Cells in a line.
        show: Makes a name fit to be shown.
        names: What the two are called.
        most: Banks to draw at most, those that change first; all where it is not given.
    """
    old, new = now.switcher, then.switcher
    if old is None or new is None:
        return []
    before, after = stored_in(now), stored_in(then)
    banks = []
    for bank in range(max(old.banks, new.banks)):
        rows = [
            [
                _footswitch(stored, other, bank * switcher.bank_size + at + 1, at)
                for at in range(switcher.rooms[bank] if bank < switcher.banks else 0)
            ]
            for switcher, stored, other in ((old, before, before), (new, after, before))
        ]
        banks.append((bank, rows[0], rows[1]))
    changed = [row for row in banks if row[1] != row[2]]
    same = [row for row in banks if row[1] == row[2]]
    chosen = [*changed, *same][: len(banks) if most is None else most]
    lines: list[Line] = []
    size = max(old.bank_size, new.bank_size)
    each = len(_rows([_Box("", "")] * size, width, _OF_BANKS, _SWITCH_CELLS)[0])
    for first in range(0, size, each):
        part = slice(first, first + each)
        head: list[Line] = []
        for bank, was, will in sorted(chosen):
            label = f"  bank {bank + 1}"
            pair = [(label, was)]
            if was != will:
                below = " " * cells(label)
                pair = [(f"{label} {names[0]}", was), (f"{below} {names[1]}", will)]
            for start, boxes in pair:
                drawn = list(
                    _drawn(start, _OF_BANKS, boxes[part], width, _SWITCH_CELLS, show, each=each)
                )
                lines += drawn[1:] if head else drawn
                head = head or drawn[:1]
    left_out = len(banks) - len(chosen)
    if left_out:
        lines.append(Line((Piece(f"  and {left_out} more banks"),)))
    return lines


def _footswitch(
    stored: dict[int, list[Preset]], before: dict[int, list[Preset]], memory: int, at: int
) -> _Box:
    here, was = stored.get(memory, []), before.get(memory, [])
    text = " / ".join(preset.label for preset in here) or _EMPTY
    changed = not {*map(programmed, here)} <= {*map(programmed, was)}
    place = place_at("presets", here[0].id) if here else ""
    return _Box(f"switch {at + 1}", text, changed, place)


# Drawing


def _rows(boxes: Sequence[_Box], width: int, label: int, room: tuple[int, int]) -> list[list[_Box]]:
    """The boxes in as few rows as there is room for, about as many in each."""
    least, _ = room
    amp = any(box.width is not None for box in boxes)
    most = max(1, (width - label - 1 - amp * (_AMP + 1)) // (least + 1))
    number = len(boxes) - amp
    rows = max(1, -(-number // most))
    each = max(1, -(-number // rows))
    parted: list[list[_Box]] = [[]]
    for box in boxes:
        if box.width is None and sum(known.width is None for known in parted[-1]) == each:
            parted.append([])
        parted[-1].append(box)
    return parted


def _drawn(
    name: str,
    label: int,
    boxes: Sequence[_Box],
    width: int,
    room: tuple[int, int],
    show: Show,
    *,
    each: int | None = None,
    aside: bool = False,
) -> Iterator[Line]:
    """Boxes side by side under their heads, in rows.

    Args:
        name: What stands before the first line.
        label: Cells for it.
        boxes: The boxes.
        width: Cells in a line.
        room: Cells of a box, at the least and at the most.
        show: Makes a name fit to be shown.
        each: Boxes in a row, where there may be fewer of them.
        aside: Whether boxes that are not changed take no more lines than the others need.
    """
    if not boxes:
        return
    rows = _rows(boxes, width, label, room)
    in_row = each or max(sum(box.width is None for box in row) for row in rows)
    amp = any(box.width is not None for box in boxes)
    free = width - label - 1 - amp * (_AMP + 1)
    size = min(room[1], max(1, free // max(1, in_row) - 1))
    edge = show("│")
    for at, row in enumerate(rows):
        widths = [size if box.width is None else box.width for box in row]
        heads = "".join(" " + fit(box.head, its) for box, its in zip(row, widths))
        yield Line((Piece(" " * label + heads),))
        places = [box.place for box in sorted(row, key=lambda box: not box.changed) if box.place]
        place = places[0] if places else ""
        broken = _broken(row, widths, show, aside=aside)
        for nth in range(max(map(len, broken))):
            pieces = [Piece(fit(name if at == nth == 0 else "", label))]
            for box, its, texts in zip(row, widths, broken):
                text = texts[nth] if nth < len(texts) else ""
                pieces += [Piece(edge), Piece(fit(text, its, "<", show("…")), box.changed)]
            yield Line((*pieces, Piece(edge)), place)


def _broken(
    row: Sequence[_Box], widths: Sequence[int], show: Show, *, aside: bool
) -> list[list[str]]:
    """What stands in each box of a row, in as many lines as it needs, or as many as there are."""
    texts = [CHANGED * box.changed + show(box.text) for box in row]
    lines = [wrap(text, width) for text, width in zip(texts, widths)]
    counted = [len(own) for box, own in zip(row, lines) if box.changed or not aside]
    most = min(_MOST_LINES, max(counted, default=1))
    return [
        own if len(own) <= most else [*own[: most - 1], _rest(text, own[: most - 1], width, show)]
        for text, own, width in zip(texts, lines, widths)
    ]


def _rest(text: str, above: Sequence[str], width: int, show: Show) -> str:
    """What comes after the lines above, cut off at the end of a line."""
    begun = len(" ".join(above))
    return clip(text[begun:].lstrip(), width, show("…"))
