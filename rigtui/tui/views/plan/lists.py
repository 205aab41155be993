"""What the lists of the plan view show: now and then side by side, songs, what to do."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rigtui.model.cells import cells, clip, wrap
from rigtui.model.places import place_at
from rigtui.model.text import visible
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.plan.ask.evening import Evening
    from rigtui.plan.ask.result import Plan
    from rigtui.plan.verdict.appraisal import Appraisal
    from rigtui.tui.views.plan.options import OptionRow

CHANGED = "*"
TO_DO = "To do"
RELAXATION = "relaxation."
"""What the place of a row begins with that is about a change to the options."""


@dataclass(frozen=True)
class PlacedRows:
    """Columns and rows of a list, and what each row is about."""

    columns: list[GridColumn]
    rows: list[GridRow]
    places: list[str] = field(default_factory=list)
    """Dotted place of each row; "" where it has none."""


def option_listing(options: Sequence[OptionRow], width: int) -> PlacedRows:
    """The options, a line each; those that the player has set are marked."""
    label = max(
        14,
        min(max((cells(visible(option.label)) for option in options), default=0) + 2, width // 2),
    )
    columns = [
        GridColumn((), 3, pick=False, look="grid--strong"),
        GridColumn((), label, pick=False),
        GridColumn((), max(8, width - label - 4)),
    ]
    rows = []
    for option in options:
        if not option.key:
            rows.append(GridRow(note=f"{option.label}:"))
        else:
            look = "grid--strong" if option.is_set or option.key == "setting" else "grid--dim"
            mark = f" {CHANGED}" if option.is_set else ""
            name = clip(visible(option.label), label - 1)
            value = f"‹ {visible(option.value)} ›" if option.steps else option.value
            rows.append(GridRow((mark, name, value), ("", "", look)))
    return PlacedRows(columns, rows)


def song_listing(
    now: Rig, then: Rig, evening: Evening, width: int, *, accepted: bool = False
) -> PlacedRows:
    """Moves of each song, before the plan and with it, with a bar of both.

    Args:
        now: The rig that the plan was made for.
        then: The rig as planned.
        evening: The songs that it was made for.
        width: Cells in a line.
        accepted: Whether the rig is as planned by now.
    """
    from rigtui.plan.verdict.compare import song_rows

    counts = song_rows(now, then, evening)
    was, will = ("before", "now") if accepted else ("now", "then")
    title = max(14, min(34, width - 48))
    bar = max(4, width - title - 28)
    columns = [
        GridColumn(("Song",), title, frozen=True),
        GridColumn(("x",), 4, pick=False, align="right", look="grid--dim"),
        GridColumn((was,), 7, pick=False, align="right"),
        GridColumn((will,), 6, pick=False, align="right"),
        GridColumn(("extra",), 8, pick=False, align="right"),
        GridColumn((f" █ {will}, ░ saved",), bar + 1, pick=False),
    ]
    most = max((max(row.now, row.then) for row in counts), default=0)
    scale = min(1.0, (bar - 1) / most) if most else 0.0
    rows, places = [], []
    for row in counts:
        marks = bars(row.now, row.then, scale)
        lost = row.before.unplayable - row.after.unplayable
        if lost:
            marks = f"{abs(lost)} can't be played {was if lost > 0 else will}"
        extras = row.before.extra_presses, row.after.extra_presses
        extra = f"{extras[0]} → {extras[1]}" if extras[0] != extras[1] else str(extras[0])
        look = "grid--on" if row.then < row.now else "grid--warn" if row.then > row.now else ""
        figures = (f"{row.times}x", str(row.now), str(row.then), extra)
        cells = (f" {row.title}", *figures, f" {marks}")
        rows.append(GridRow(cells, ("grid--strong", "", "", look, "", look)))
        places.append(place_at("songs", row.song))
    return PlacedRows(columns, rows, places)


def bars(now: int, then: int, scale: float) -> str:
    """Moves as a bar: full what stays, light what is saved, + what comes on top."""
    kept, was, will = (round(number * scale) for number in (min(now, then), now, then))
    return "█" * kept + "░" * max(0, was - kept) + "+" * max(0, will - kept)


def text_listing(parts: Iterable[tuple[str, Sequence[str]]], width: int) -> PlacedRows:
    """Headings, and numbered lines under each, broken to the width; what to do has boxes to tick.

    A text without a number stands alone under its heading.
    """
    rows = []
    for title, texts in parts:
        if texts:
            rows.append(GridRow(note=title))
        for at, text in enumerate(texts, 1):
            mark = "[ ] " if title.startswith(TO_DO) else f"{at:3} " if len(texts) > 1 else "    "
            broken = wrap(visible(text), max(10, width - 1), mark, "    ")
            rows += [GridRow((line,)) for line in broken]
    return PlacedRows([GridColumn((), max(10, width))], rows)


def todo_listing(
    plan: Plan,
    rig: Rig,
    sentences: Sequence[str],
    explained: Plan | None,
    width: int,
    appraisal: Appraisal | None = None,
    *,
    sentence: str = "",
    accepted: bool = False,
) -> PlacedRows:
    """What to know, what to re-plug, re-program and learn, and why the plan is as it is.

    Args:
        plan: The plan.
        rig: The rig that it was made for.
        sentences: What is to be known before it is accepted.
        explained: Why it is so, once that is known.
        width: Cells in a line.
        appraisal: The plan held against the rig, once it is weighed.
        sentence: What to do, where the head has no room for it.
        accepted: Whether the rig is as planned by now.
    """
    from rigtui.plan.verdict.worth import worth_of
    from rigtui.plan.words.outcome import proofs, travel, worst
    from rigtui.plan.words.reasons import reasons_in_words
    from rigtui.plan.words.steps import ticks, title_of_ticks

    offered = plan.rig is not None and plan.rig != rig
    known = "What you accepted" if accepted else "Before you accept"
    known = known if offered else "To know first"
    parts: list[tuple[str, Sequence[str]]] = [("In short", [sentence] if sentence else [])]
    if appraisal is not None and plan.rig is not None:
        things = [tick.text for tick in ticks(rig, plan.rig, appraisal.evening)]
        parts += [
            (known, sentences),
            (title_of_ticks(worth_of(appraisal)), things),
            ("Besides", plan.steps[len(things) :]),
        ]
    else:
        parts += [(known, sentences)]
    if plan.rig is not None:
        parts += [("Sections that change", _mapped(rig, plan.rig))]
        parts += [("Figures", [text for text in (worst(plan), travel(plan)) if text])]
        parts += [("What was proved", proofs(plan))]
    parts += [("To know", plan.notes)]
    if explained is not None:
        parts += reasons_in_words(explained)
    return text_listing(parts, width)


def _mapped(now: Rig, then: Rig) -> list[str]:
    from rigtui.plan.verdict.mapping import mapped_anew
    from rigtui.plan.words.mapping import change_lines

    return [
        f"{change.title}: {'; '.join(change_lines(change, now, then))}"
        for change in mapped_anew(now, then)
    ]


def conflict_listing(plan: Plan, rig: Rig, width: int) -> PlacedRows:
    """Why no plan can do what is wanted, and what would do; a row's place says what it is about."""
    from rigtui.plan.words.conflict import conflict_words

    said = conflict_words(plan, rig)
    sounds = [(line, sound.places[0]) for line, sound in said.sounds]
    ways = [(line, f"{RELAXATION}{at}") for at, (line, _) in enumerate(said.relaxations)]
    offer = f"{said.offer} (enter adds it to your options)"
    rows, places = [], []
    for title, lines in (
        (said.title, [(said.reason, "")]),
        (offer, ways),
        ("The sounds that conflict", sounds),
        ("To know", [(said.untried, "")] if said.untried else []),
    ):
        if lines:
            rows.append(GridRow(note=title))
            places.append("")
        for at, (line, place) in enumerate(lines, 1):
            mark = f"{at:3} " if place else " "
            broken = wrap(visible(line), max(10, width - 1), mark, " " * len(mark))
            rows += [GridRow((text,)) for text in broken]
            places += [place] * len(broken)
    return PlacedRows([GridColumn((), max(10, width))], rows, places)
