"""Small rigs for tests, made of plain data with as little written out as can be."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rigtui.model import Rig, rig_from_data

Data = dict[str, Any]


def make_data(**parts: Any) -> Data:
    """Plain data of a rig: format and name, and whatever tables are given."""
    return {"format": 1, "name": "Test rig", **parts}


def make_rig(**parts: Any) -> Rig:
    """A rig of the tables given, checked as a file's would be."""
    return rig_from_data(make_data(**parts))


def switcher(memories: int = 8, bank_size: int = 4, **more: Any) -> Data:
    """A switcher of 8 memories in two banks, unless told otherwise."""
    return {"memories": memories, "bank_size": bank_size, **more}


def pedal(id: str, kind: str = "other", side: str = "front", **more: Any) -> Data:
    """A pedal of which only the id matters."""
    return {"id": id, "kind": kind, "side": side, **more}


def loop(number: int, *pedals: str, side: str = "front") -> Data:
    """A loop and the pedals in it."""
    return {"number": number, "side": side, "pedals": list(pedals)}


def preset(id: str, *loops: int, **more: Any) -> Data:
    """A preset and the loops that it switches in."""
    return {"id": id, "loops": list(loops), **more}


def section(preset: str | None = None, **more: Any) -> Data:
    """A section of four bars, unmapped unless a preset is given."""
    mapped = {} if preset is None else {"preset": preset}
    return {"name": "Part", "bars": 4, **mapped, **more}


def song(id: str, *sections: Data | str, tempo: float = 120, **more: Any) -> Data:
    """A song; a section given as text is one on that preset."""
    rows = [section(row) if isinstance(row, str) else row for row in sections]
    return {"id": id, "tempo": tempo, "sections": rows, **more}


def setlist(id: str, *songs: str, **more: Any) -> Data:
    """A setlist of one set."""
    return {"id": id, "sets": [{"name": "Set", "songs": list(songs)}], **more}


def written(presses: Iterable[object]) -> list[str]:
    """Presses as a report writes them: "switch 3"."""
    return [str(press) for press in presses]
