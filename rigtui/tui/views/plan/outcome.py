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
    from rigtui.plan.words.pictures import Line

_MEMORY = 10


def board_listing(now: Rig, then: Rig, width: int, *, accepted: bool = False) -> PlacedRows:
    """Loops, footswitches and presets, as they were and as planned: drawn, then as a matrix.

    Args:
        now: The rig that the plan was made for.
        then: The rig as planned; the same one where there is no plan yet.
        width: Cells in a line.
        accepted: Whether that is the rig by now.
    """
    from rigtui.plan.words.pictures import NAMES, banks_picture, loops_picture

    name = 18 if width < 100 else 26
    half = max(6, (width - name - _MEMORY - 2) // 2)
    columns = [
        GridColumn((), 2, frozen=True, pick=False, look="grid--warn"),
        GridColumn((), name, frozen=True),
        GridColumn((), half, pick=False),
        GridColumn((), half, pick=False),
        GridColumn((), _MEMORY, pick=False, align="right"),
    ]
    rows: list[tuple[GridRow, str]] = []
    titles = ("", "") if now == then else ("before", "as accepted") if accepted else (
        "now", "as planned")  # fmt: skip
    both = f", {' and '.join(titles)}; {CHANGED} differs" if titles[0] else ""
    names = ("before", "now") if accepted else NAMES
    for title, lines in (
        ("Loops in signal order", loops_picture(now, then, width - 1, names=names)),
        ("Footswitches, bank by bank", banks_picture(now, then, width - 1, names=names)),
    ):
        if lines:
            rows.append((GridRow(note=f"{title}{both}"), ""))
            rows += [(_drawn(line), line.place) for line in lines]
    rows += _preset_rows(now, then, half - 1, titles)
    return PlacedRows(columns, [row for row, _ in rows], [place for _, place in rows])


def _drawn(line: Line) -> GridRow:
    """A line of a picture."""
    if not line.place:
        return GridRow(note=line.text, look="grid--head")
    looks = ((piece.text, "grid--on" if piece.changed else "") for piece in line.pieces)
    return GridRow(pieces=tuple(looks))


def _line(label: str, now: str, then: str, memory: str) -> GridRow:
    """One preset."""
    moved = "→" in memory
    changed = bool(then) and now != then
    mark = CHANGED if changed or moved else ""
    looks = ("", "", "grid--dim", _look(changed), _look(moved))
    return GridRow((mark, label, now, then, memory), looks)


def _look(differs: bool) -> str:
    return "grid--on" if differs else ""


def _preset_rows(
    now: Rig, then: Rig, width: int, titles: tuple[str, str]
) -> Iterator[tuple[GridRow, str]]:
    from rigtui.plan.verdict.compare import preset_rows

    before, after = [loop.number for loop in now.loops], [loop.number for loop in then.loops]
    yield GridRow(note="Presets by loops"), ""
    drawn_once = now == then
    yield GridRow(("", "", *titles, "memory"), ("", "", *["grid--head"] * 3)), ""
    yield GridRow(("", "loops", _heads(before, width), "" if drawn_once else _heads(after, width)),
                  ("", "grid--note", "grid--head", "grid--head")), ""  # fmt: skip
    for row in preset_rows(now, then):
        old, new = (_memories(preset) for preset in (row.now, row.then))
        memory = new if old == new or row.now is None else f"{old}→{new}"
        if row.then is None:
            texts, memory = (_marks(row.now, before, width), "(goes)"), old
        elif row.now is None:
            texts = ("(new)", _marks(row.then, after, width))
        else:
            texts = (_marks(row.now, before, width), _marks(row.then, after, width))
        if drawn_once:
            texts = (texts[0], "")
        preset = row.then or row.now
        assert preset is not None
        yield _line(row.label, *texts, memory), place_at("presets", preset.id)


def _memories(preset: Preset | None) -> str:
    """Every memory of a preset: "1,9"."""
    return ",".join(map(str, preset.memories)) if preset is not None and preset.memories else "-"


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
    """What other switchers could do, without copies of presets and with; the effort as a bar."""
    from rigtui.plan.verdict.compare import CURVE_WORDS, curve_rows
    from rigtui.plan.words.curve import effort_bar, figures_cells, most_effort, proof

    bar = max(6, width - 62)
    columns = [
        GridColumn(("", ""), 11, frozen=True, align="right"),
        *(
            GridColumn((over, under), cells, pick=False, align="right")
            for which in ("no", "with")
            for over, under, cells in (
                (which, "extra", 6),
                ("copies", "presses", 8),
                ("", "effort", 7),
            )
        ),
        GridColumn(("", " effort"), bar + 1, pick=False),
        GridColumn(("", "proved?"), 8, pick=False, look="grid--dim"),
    ]
    rows = [GridRow(note="█ presses, ░ what extra presses add, · what copies of presets save")]
    for curve in plan.details["curves"]:
        points = curve_rows(curve)
        most = most_effort(points)
        rows.append(GridRow(note=f"By {CURVE_WORDS[curve['kind']]}"))
        said = wrap(visible(curve["sentence"]), max(10, width - 1), "  ")
        rows += [GridRow(note=line) for line in said]
        for point in points:
            name = f"{CHANGED} {point.size}" if point.calm else point.size
            if point.single is None:
                cells = (name, "-", *[""] * 5, " nothing fits", "")
                rows.append(GridRow(cells, ("grid--strong",)))
                continue
            look = "grid--on" if point.now or point.calm else ""
            figures = (*figures_cells(point.single), *figures_cells(point.copied))
            cells = (name, *figures, f" {effort_bar(point, most, bar)}", f" {proof(point)}")
            rows.append(GridRow(cells, ("grid--strong", *[""] * 6, look, "")))
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
