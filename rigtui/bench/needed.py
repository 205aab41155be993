"""Which patch leads a night needs: those that the signal of some section goes through."""

from __future__ import annotations

from rigtui.bench.leads import patch_edges
from rigtui.chain import graph_of
from rigtui.chain.graph import Edge
from rigtui.model import Rig
from rigtui.model.lookup import lookup


def needed_edges(rig: Rig) -> tuple[Edge, ...]:
    """Return the patch leads that the songs of the setlists need, in signal order.

    A lead in a loop is needed where some section has the loop in, any other lead always. Without a
    setlist all songs count; without any section all leads are needed.
    """
    loops, patch = _loops_heard(rig), frozenset(patch_edges(rig))
    needed, inside = [], None
    for edge in graph_of(rig).edges:
        if edge.kind == "send":
            inside = edge.number
        elif edge.kind == "return":
            inside = None
        elif edge in patch and (inside is None or loops is None or inside in loops):
            needed.append(edge)
    return tuple(needed)


def _loops_heard(rig: Rig) -> set[int] | None:
    """Loops that are in in some section; None where there is no section to go by."""
    known = lookup(rig)
    played = {song for setlist in rig.setlists for song in setlist.song_ids}
    sections = [
        section
        for song in rig.songs
        if song.id in played or not played
        for section in song.sections
    ]
    if not sections:
        return None
    heard = {
        pedal
        for plain in {(row.preset, row.plus, row.minus): row for row in sections}.values()
        for pedal in known.sound(plain)
    }
    return {known.loop_of[pedal] for pedal in heard if pedal in known.loop_of}
