"""What a curve comes to, in sentences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigtui.model.text import count
from rigtui.plan.insight.points import Curve, CurvePoint
from rigtui.plan.verdict.compare import CurveRow

_WORDS = {
    "loops": ("{}", "loop", "loops"),
    "memories": ("{}", "memory", "memories"),
    "bank_size": ("banks of {}", "switch", "switches"),
}
_MOST_STEPS = 3


def effort_bar(row: CurveRow, most: float, width: int) -> str:
    """The effort of a row as a bar: full for presses, light for what extra presses add.

    Args:
        row: A row in which something fits.
        most: The greatest effort of any row.
        width: Cells for that.
    """
    assert row.moves is not None
    assert row.effort is not None
    scale = width / most if most else 0.0
    full = round(row.moves * scale)
    return "█" * full + "░" * max(0, round(row.effort * scale) - full)


def proof(row: CurveRow) -> str:
    """Say how certain a row is: "proved", or the bound: "377+"."""
    return "proved" if row.proved else f"{row.bound:g}+"


def because(kind: str, point: CurvePoint) -> str:
    """Say why a switcher needs more moves than a smaller one; "" where it does not."""
    small, large = point.better, point.switcher
    if small is None:
        return ""
    if kind == "memories":
        return f"{count(large.banks, 'bank')} instead of {small.banks} make the way round longer"
    rest = large.memories % large.bank_size
    if rest:
        return f"the last of its {count(large.banks, 'bank')} has room for {rest} only"
    return f"its {count(large.banks, 'bank')} part the presets otherwise"


def worth_most(curves: Sequence[Mapping[str, Any]]) -> str:
    """Say which one switcher more would help the feet most, of all curves.

    Args:
        curves: The curves as plain data.
    """
    best: tuple[float, str] = (0.0, "")
    for curve in curves:
        own = next((p for p in curve["points"] if p["now"] and p["effort"] is not None), None)
        if own is None:
            continue
        for point in curve["points"]:
            if point["effort"] is None or point["value"] <= own["value"]:
                continue
            saved = own["effort"] - point["effort"]
            if saved > best[0]:
                size = _size(curve["kind"], point["value"])
                gains = [
                    f"{point[key]} {what} instead of {own[key]}"
                    for key, what in (("extra_presses", "extra presses"), ("moves", "presses"))
                    if point[key] != own[key]
                ]
                said = f"{size} instead of {own['value']} would help most: {', '.join(gains)}"
                best = (saved, f"Of all changes {said}")
    return best[1] or "Nothing larger would help your feet, copies of presets aside"


def sentence(curve: Curve) -> str:
    """Say what a curve comes to: first what the switcher at hand can do, then what others could."""
    kind, points = curve.kind, curve.points
    own = next((point for point in points if point.now and point.weight is not None), None)
    said = _steps(kind, points) if own is None else _beside(kind, own, points)
    worse = next((point for point in points if point.better is not None), None)
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
    assert own.weight is not None
    said = [f"with the {_size(kind, own.value)} that you have, a plan has {_figures(own)}"]
    enough = next(
        point for point in points if point.weight is not None and point.weight <= own.weight
    )
    calmer = any(
        point.extra_presses is not None and point.extra_presses < (own.extra_presses or 0)
        for point in points
    )
    if enough.value < own.value and not calmer:
        said.append(f"{_size(kind, enough.value)} would do as well")
    more, least = [], own.weight
    for point in points:
        if point.value > own.value and point.weight is not None and point.weight < least:
            more.append(f"{_size(kind, point.value)}: {_figures(point)}")
            least = point.weight
    if not more:
        proved = all(point.proved for point in points if point.value > own.value)
        said_so = "more would save nothing" if proved else "nothing better was found with more"
        aside = "" if kind == "loops" and proved else ", copies of presets aside"
        more = [said_so + aside]
    return said + more[:_MOST_STEPS]


def _figures(point: CurvePoint) -> str:
    """Say "45 extra presses and 283 presses"."""
    extra = count(point.extra_presses or 0, "extra press", "extra presses")
    return f"{extra} and {count(point.moves or 0, 'press', 'presses')}"


def _steps(kind: str, points: Sequence[CurvePoint]) -> list[str]:
    """The sizes that do better than all smaller ones."""
    said, least = [], None
    for point in points:
        if point.weight is not None and (least is None or point.weight < least):
            said.append(f"{_size(kind, point.value)}: {_figures(point)}")
            least = point.weight
    return said[-_MOST_STEPS:] or ["nothing fits on any of these"]
