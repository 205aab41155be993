"""The table of what to give up: a row for each step that matters most."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from rigtui.advice.counted import Counted
from rigtui.model.lines import changed_by, difference
from rigtui.model.rig import Rig

if TYPE_CHECKING:
    from rigtui.advice.giving_up.answer import JointFrontier
    from rigtui.advice.giving_up.point import FrontierPoint
    from rigtui.advice.giving_up.smaller import SmallerWay


@dataclass(frozen=True)
class ToldPoint:
    """One row."""

    board: str
    """What is different about its board; nothing where it is as now."""
    price: float
    sections: int
    pedals: int
    counted: Counted
    least: tuple[int, int] | None
    """Sections and extra presses that no choice can better at that price; None where proved."""
    sentences: tuple[str, ...]
    rig: Rig


@dataclass(frozen=True)
class ToldFrontier:
    """All of it."""

    whom: str
    """The evening, in words."""
    lines: tuple[str, ...]
    """What its ends are, and what was proved."""
    before: Counted
    points: tuple[ToldPoint, ...]


@dataclass(frozen=True)
class ToldSmaller:
    """What does as well as a plan, with far fewer sections touched."""

    point: ToldPoint
    before: Counted
    brief: str
    """It in a line."""


def told(answer: JointFrontier, rig: Rig, before: Counted) -> dict[str, Any]:
    """Write it as plain data; of rigs what differs from the rig that it is of."""
    from rigtui.advice.giving_up.words import ends_in_words, proof_in_words

    rows = []
    for at in answer.shown():
        least = None if answer.proved else tuple(answer.least(at))
        rows.append(_point_data(answer.point(at), rig, answer.board_of(at), least))
    return {
        "whom": answer.evening.words,
        "lines": [ends_in_words(answer), proof_in_words(answer)],
        "before": asdict(before),
        "points": rows,
    }


def smaller_told(way: SmallerWay | None, rig: Rig, before: Counted) -> dict[str, Any] | None:
    """Write a smaller way as plain data; null where there is none."""
    if way is None:
        return None
    return {
        "point": _point_data(way.point, rig),
        "before": asdict(before),
        "brief": way.brief,
    }


def _point_data(
    point: FrontierPoint, rig: Rig, board: str = "", least: tuple[int, ...] | None = None
) -> dict[str, Any]:
    from rigtui.advice.giving_up.words import sentences

    return {
        "board": board,
        "price": point.price,
        "sections": point.sections,
        "pedals": point.pedals,
        "counted": asdict(point.counted),
        "least": least,
        "sentences": list(sentences(rig, point, board)),
        "rig": difference(point.rig, rig),
    }


def frontier_of(data: Mapping[str, Any], rig: Rig) -> ToldFrontier:
    """Read it."""
    points = tuple(_point_of(row, rig) for row in data["points"])
    return ToldFrontier(data["whom"], tuple(data["lines"]), Counted(**data["before"]), points)


def smaller_of(data: Mapping[str, Any] | None, rig: Rig) -> ToldSmaller | None:
    """Read a smaller way, if there is one."""
    if data is None:
        return None
    return ToldSmaller(_point_of(data["point"], rig), Counted(**data["before"]), data["brief"])


def _point_of(row: Mapping[str, Any], rig: Rig) -> ToldPoint:
    return ToldPoint(
        row["board"],
        row["price"],
        row["sections"],
        row["pedals"],
        Counted(**row["counted"]),
        None if row["least"] is None else (row["least"][0], row["least"][1]),
        tuple(row["sentences"]),
        changed_by(row["rig"], rig),
    )
