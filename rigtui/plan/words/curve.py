"""What a curve comes to, in sentences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigtui.model.text import count
from rigtui.plan.insight.points import Copied, Curve, CurvePoint
from rigtui.plan.verdict.compare import CurveFigures, CurveRow

_WORDS = {
    "loops": ("{}", "loop", "loops"),
    "memories": ("{}", "memory", "memories"),
    "bank_size": ("banks of {}", "switch", "switches"),
}
_MOST_STEPS = 3
_ASIDE = ", copies of presets aside"
_NOTHING = 1 << 60
_NEARLY = 0.8
"""A switcher that saves so much of what any other saves is named before larger ones."""


def most_effort(rows: Sequence[CurveRow]) -> float:
    """The greatest effort of any row."""
    return max((row.single.effort for row in rows if row.single is not None), default=0.0)


def effort_bar(row: CurveRow, most: float, width: int) -> str:
    """The effort of a row as a bar: full for presses, light for what extra presses add.

    Dots are what copies of presets save.

    Args:
        row: A row in which something fits.
        most: The greatest effort of any row.
        width: Cells for that.
    """
    assert row.single is not None
    least = row.copied or row.single
    scale = width / most if most else 0.0
    full, light, whole = (
        round(figure * scale) for figure in (least.moves, least.effort, row.single.effort)
    )
    return "█" * full + "░" * max(0, light - full) + "·" * max(0, whole - max(full, light))


def figures_cells(figures: CurveFigures | None) -> tuple[str, str, str]:
    """Extra presses, presses and effort; a dash where they are not known."""
    if figures is None:
        return "-", "-", "-"
    return str(figures.extra_presses), str(figures.moves), f"{figures.effort:g}"


def proof(row: CurveRow) -> str:
    """Say how certain a row is: "proved", or the bound: "377+"."""
    return "proved" if row.proved else f"{row.bound:g}+"


def because(kind: str, point: CurvePoint) -> str:
    """Say why a switcher needs more moves than a smaller one; "" where it does not."""
    small, large = point.best.better, point.switcher
    if small is None:
        return ""
    if kind == "memories":
        return f"{count(large.banks, 'bank')} instead of {small.banks} make the way round longer"
    rest = large.memories % large.bank_size
    if rest:
        return f"the last of its {count(large.banks, 'bank')} has room for {rest} only"
    return f"its {count(large.banks, 'bank')} part the presets otherwise"


def worth_most(curves: Sequence[Mapping[str, Any]]) -> str:
    """Say which one switcher more would help the feet most for its size, of all curves.

    That is the one with the least more of all that save nearly as much as any.

    Args:
        curves: The curves as plain data.
    """
    gains: list[tuple[float, float, str]] = []
    searched = False
    for curve in curves:
        own = next((p for p in curve["points"] if p["now"] and p["effort"] is not None), None)
        if own is None:
            continue
        for point in curve["points"]:
            if point["effort"] is None or point["value"] <= own["value"]:
                continue
            both = own["with_copies"] is not None and point["with_copies"] is not None
            here, there = (p["with_copies"] if both else p for p in (own, point))
            searched |= both
            saved = here["effort"] - there["effort"]
            if saved > 0:
                size = _size(curve["kind"], point["value"])
                gain = [
                    f"{there[key]} {what} instead of {here[key]}"
                    for key, what in (("extra_presses", "extra presses"), ("moves", "presses"))
                    if there[key] != here[key]
                ]
                said = "With copies," if both else "Of all changes"
                said += f" {size} instead of {own['value']} would help most: {', '.join(gain)}"
                gains.append((saved, point["value"] / max(1, own["value"]), said))
    if not gains:
        return "Nothing larger would help your feet" + ("" if searched else _ASIDE)
    enough = _NEARLY * max(saved for saved, _, _ in gains)
    _, said = min((growth, said) for saved, growth, said in gains if saved >= enough)
    return said


def sentence(curve: Curve) -> str:
    """Say what a curve comes to: first what the switcher at hand can do, then what others could."""
    kind, points = curve.kind, curve.points
    own = next((point for point in points if point.now and point.weight is not None), None)
    said = _steps(kind, points) if own is None else _beside(kind, own, points)
    worse = next((point for point in points if point.best.better is not None), None)
    if worse is not None:
        said.append(
            f"more is not always better: with {_size(kind, worse.value)}, {because(kind, worse)}"
        )
    said += _calm(curve)
    return "; ".join(said)


def _calm(curve: Curve) -> list[str]:
    """Where nothing is crowded, if that is anywhere."""
    calm = curve.calm
    if calm is None:
        words = {"loops": "number of loops", "memories": "number of memories"}
        return [f"no {words.get(curve.kind, 'size of the banks')} leaves nothing crowded"]
    if calm.now:
        return ["nothing is crowded then"]
    return [f"the smallest with nothing crowded: {_size(curve.kind, calm.value)}"]


def _size(kind: str, value: int) -> str:
    form, single, many = _WORDS[kind]
    return form.format(count(value, single, many))


def _beside(kind: str, own: CurvePoint, points: Sequence[CurvePoint]) -> list[str]:
    """What other sizes would do, beside the one that the player has."""
    mine = own.best
    assert mine.weight is not None
    said = [f"with the {_size(kind, own.value)} that you have, a plan has {_figures(own)}"]
    enough = next(point for point in points if _weight(point) <= mine.weight)
    calmer = any(
        point.best.extra_presses is not None
        and point.best.extra_presses < (mine.extra_presses or 0)
        for point in points
    )
    if enough.value < own.value and not calmer:
        said.append(f"{_size(kind, enough.value)} would do as well")
    more, least = [], mine.weight
    for point in points:
        if point.value > own.value and _weight(point) < least:
            more.append(f"{_size(kind, point.value)}: {_figures(point)}")
            least = _weight(point)
    if not more:
        larger = [point for point in points if point.value > own.value]
        proved = all(point.proved for point in larger)
        said_so = "more would save nothing" if proved else "nothing better was found with more"
        searched = all(point.copied is not None or point.weight is None for point in larger)
        more = [said_so if searched or (kind == "loops" and proved) else said_so + _ASIDE]
    return said + more[:_MOST_STEPS]


def _weight(point: CurvePoint) -> int:
    """What a point weighs, with copies where that is known; very much where nothing fits."""
    weight = point.best.weight
    return _NOTHING if weight is None else weight


def _figures(point: CurvePoint) -> str:
    """Say "45 extra presses and 260 presses (283 without copies)"."""
    best: CurvePoint | Copied = point.best
    extra = count(best.extra_presses or 0, "extra press", "extra presses")
    said = f"{extra} and {count(best.moves or 0, 'press', 'presses')}"
    if (best.extra_presses, best.moves) == (point.extra_presses, point.moves):
        return said
    alone = f"{point.moves} without copies"
    if best.extra_presses != point.extra_presses:
        alone = f"{point.extra_presses} and {alone}"
    return f"{said} ({alone})"


def _steps(kind: str, points: Sequence[CurvePoint]) -> list[str]:
    """The sizes that do better than all smaller ones."""
    said, least = [], _NOTHING
    for point in points:
        if _weight(point) < least:
            said.append(f"{_size(kind, point.value)}: {_figures(point)}")
            least = _weight(point)
    return said[-_MOST_STEPS:] or ["nothing fits on any of these"]
