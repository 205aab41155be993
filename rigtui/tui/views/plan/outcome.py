"""What a plan comes to as lists: now and then side by side, curves, the walk."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from rigtui.model.cells import wrap
from rigtui.model.places import place_at, section_place
from rigtui.model.text import visible
from rigtui.tui.views.plan.lists import CHANGED, PlacedRows
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow

if TYPE_CHECKING:
    from rigtui.model.rig import Preset, Rig
    from rigtui.plan.ask.result import Plan

_MEMORY = 8


def board_listing(now: Rig, then: Rig, width: int, *, accepted: bool = False) -> PlacedRows:
    """Loops, pedals outside and presets, as they were and as planned.

    Args:
        now: The rig that the plan was made for.
        then: The rig as planned.
        width: Cells in a line.
        accepted: Whether that is the rig by now.
    """
    name = 18 if width < 100 else 26
    half = max(6, (width - name - _MEMORY - 2) // 2)
    columns = [
        GridColumn(("",), 2, frozen=True, pick=False, look="grid--warn"),
        GridColumn(("",), name, frozen=True),
        GridColumn(("before" if accepted else "now",), half, pick=False),
        GridColumn(("as accepted" if accepted else "as planned",), half, pick=False),
        GridColumn(("memory",), _MEMORY, pick=False, align="right"),
    ]
    rows = [*_loop_rows(now, then, half - 1), *_preset_rows(now, then, half - 1)]
    return PlacedRows(columns, [row for row, _ in rows], [place for _, place in rows])


def _line(label: str, now: str, then: str, memory: str = "", *, width: int) -> Iterator[GridRow]:
    """One row, broken into as many as its texts need."""
    moved = "→" in memory
    mark = CHANGED if now != then or moved else ""
    looks = ("", "", "grid--dim", _look(now != then), _look(moved))
    left, right = (wrap(visible(text), width) or [""] for text in (now, then))
    for at in range(max(len(left), len(right))):
        first, second = (texts[at] if at < len(texts) else "" for texts in (left, right))
        heads = (mark, label) if at == 0 else ("", "")
        yield GridRow((*heads, first, second, memory if at == 0 else ""), looks)


def _look(differs: bool) -> str:
    return "grid--on" if differs else ""


def _loop_rows(now: Rig, then: Rig, width: int) -> Iterator[tuple[GridRow, str]]:
    from rigtui.model.lookup import lookup
    from rigtui.plan.verdict.compare import loop_rows, outside_of, signal_order

    before, after = lookup(now), lookup(then)
    yield GridRow(note="Loops"), ""
    for row in loop_rows(now, then):
        texts = [
            "(none)"
            if loop is None
            else ", ".join(known.label(pedal) for pedal in loop.pedals) or "(empty)"
            for known, loop in ((before, row.now), (after, row.then))
        ]
        for line in _line(f"loop {row.number}, {row.side}", *texts, width=width):
            yield line, place_at("loops", row.number)
    for label, old, new in zip(("outside", "left on"), outside_of(now), outside_of(then)):
        if old or new:
            texts = [
                ", ".join(known.label(pedal) for pedal in pedals) or "none"
                for known, pedals in ((before, old), (after, new))
            ]
            for line in _line(label, *texts, width=width):
                yield line, ""
    orders = signal_order(now), signal_order(then)
    for side in orders[0]:
        if orders[0][side] != orders[1][side]:
            texts = [", ".join(before.label(pedal) for pedal in order[side]) for order in orders]
            for line in _line(f"{side} order", *texts, width=width):
                yield line, place_at("chain", side)


def _preset_rows(now: Rig, then: Rig, width: int) -> Iterator[tuple[GridRow, str]]:
    from rigtui.plan.verdict.compare import preset_rows

    before, after = [loop.number for loop in now.loops], [loop.number for loop in then.loops]
    yield GridRow(("", "Presets", _heads(before, width), _heads(after, width)),
              ("", "grid--note", "grid--head", "grid--head")), ""  # fmt: skip
    for row in preset_rows(now, then):
        old, new = (str(p.memory) if p and p.memory else "-" for p in (row.now, row.then))
        memory = new if old == new or row.now is None else f"{old}→{new}"
        if row.then is None:
            texts, memory = (_marks(row.now, before, width), "(goes)"), old
        elif row.now is None:
            texts = ("(new)", _marks(row.then, after, width))
        else:
            texts = (_marks(row.now, before, width), _marks(row.then, after, width))
        preset = row.then or row.now
        assert preset is not None
        for line in _line(row.label, *texts, memory, width=width):
            yield line, place_at("presets", preset.id)


def _heads(numbers: Sequence[int], width: int) -> str:
    if _each(numbers) * len(numbers) > width:
        return "loops on"
    return "".join(f"{number:<{_each(numbers)}}" for number in numbers)


def _marks(preset: Preset | None, numbers: Sequence[int], width: int) -> str:
    from rigtui.plan.verdict.compare import loops_on

    on = loops_on(preset, numbers)
    if _each(numbers) * len(numbers) > width:
        return ",".join(str(number) for number, is_on in zip(numbers, on) if is_on) or "none"
    return "".join(f"{'x' if switched else '.':<{_each(numbers)}}" for switched in on)


def _each(numbers: Sequence[int]) -> int:
    return 3 if max(numbers, default=0) > 9 else 2


def curve_listing(plan: Plan, width: int) -> PlacedRows:
    """What other switchers could do: moves of each as a bar, what is saved, and the bound."""
    from rigtui.plan.verdict.compare import CURVE_WORDS, curve_rows

    before = plan.moves_before
    bar = max(6, width - 40)
    columns = [
        GridColumn(("",), 16, frozen=True, align="right"),
        GridColumn(("moves",), 7, pick=False, align="right"),
        GridColumn(("saved",), 7, pick=False, align="right"),
        GridColumn((" ",), bar + 1, pick=False),
        GridColumn(("proved?",), 8, pick=False, look="grid--dim"),
    ]
    rows = []
    for curve in plan.details["curves"]:
        points = curve_rows(curve)
        most = max([before, *(point.moves for point in points if point.moves is not None)])
        rows.append(GridRow(note=f"By {CURVE_WORDS[curve['kind']]}"))
        said = wrap(visible(curve["sentence"]), max(10, width - 1), "  ")
        rows += [GridRow(note=line) for line in said]
        for point in points:
            value = (
                str(point.first) if point.first == point.last else f"{point.first} to {point.last}"
            )
            name = f"now {value}" if point.now else value
            if point.moves is None:
                rows.append(GridRow((name, "-", "", " nothing fits", ""), ("grid--strong",)))
                continue
            marks = "█" * round(bar * point.moves / max(1, most))
            proof = " proved" if point.proved else f" {point.bound}+"
            look = "grid--on" if point.now else ""
            cells = (name, str(point.moves), str(point.saved), f" {marks}", proof)
            rows.append(GridRow(cells, ("grid--strong", "", "", look, "")))
    return PlacedRows(columns, rows)


def walk_listing(plan: Plan, rig: Rig, width: int) -> PlacedRows:
    """The walk through the evening, section by section, with the sums that it adds up to."""
    from rigtui.plan.words.walk import said_walks

    rows: list[GridRow] = []
    places: list[str] = []

    def note(text: str, hang: str = "") -> None:
        broken = wrap(visible(text), max(10, width - 1), hang)
        rows.extend(GridRow(note=line) for line in broken)
        places.extend("" for _ in broken)

    label = max(16, min(30, width // 3))
    room = max(10, width - label - 1)
    for walk in said_walks(plan, rig):
        note(walk.title)
        for text in walk.sums:
            note(text, "  ")
        for song in walk.songs:
            note(f"{song.title}: {song.sums}")
            for number, line in enumerate(song.lines):
                said = line.words or "nothing to press"
                said = f"before it: {said}" if number == 0 and line.words else said
                name = f"{line.section + 1:3} {line.name}"
                for text in wrap(said, room):
                    rows.append(GridRow((name, text)))
                    places.append(section_place(line.song, line.section))
                    name = ""
    columns = [
        GridColumn((), label, frozen=True, look="grid--strong"),
        GridColumn((), width - label),
    ]
    return PlacedRows(columns, rows, places)
