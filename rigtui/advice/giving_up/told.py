"""The frontier of what to give up as it is shown: a row for each step that tells most."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from rigtui.advice.counted import Counted
from rigtui.model.lines import changed_by, difference
from rigtui.model.rig import Rig

if TYPE_CHECKING:
    from rigtui.advice.giving_up.answer import JointFrontier


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


def told(answer: JointFrontier, rig: Rig, before: Counted) -> dict[str, Any]:
    """Write it as plain data; of rigs what differs from the rig that it is of."""
    from rigtui.advice.giving_up.words import ends_in_words, proof_in_words, sentences

    rows = []
    for at in answer.shown():
        point, board = answer.point(at), answer.board_of(at)
        rows.append(
            {
                "board": board,
                "price": point.price,
                "sections": point.sections,
                "pedals": point.pedals,
                "counted": asdict(point.counted),
                "least": None if answer.proved else tuple(answer.least(at)),
                "sentences": list(sentences(rig, point, board)),
                "rig": difference(point.rig, rig),
            }
        )
    return {
        "whom": answer.evening.words,
        "lines": [ends_in_words(answer), proof_in_words(answer)],
        "before": asdict(before),
        "points": rows,
    }


def frontier_of(data: Mapping[str, Any], rig: Rig) -> ToldFrontier:
    """Read it."""
    points = tuple(
        ToldPoint(
            row["board"],
            row["price"],
            row["sections"],
            row["pedals"],
            Counted(**row["counted"]),
            None if row["least"] is None else (row["least"][0], row["least"][1]),
            tuple(row["sentences"]),
            changed_by(row["rig"], rig),
        )
        for row in data["points"]
    )
    return ToldFrontier(data["whom"], tuple(data["lines"]), Counted(**data["before"]), points)
