"""Texts of rig files that are alike but for one number."""

from __future__ import annotations

from rigs_made import make_data, song

from rigtui.store.splice import dump


def text(tempo: int) -> str:
    """A rig file that differs from the others in the tempo of its song."""
    return "# mine\r\n" + dump(make_data(songs=[song("low-fen", tempo=tempo)]))
