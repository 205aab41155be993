"""How findings name things: every name made visible, sections counted from 1."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from rigtui.model import Rig, Song
from rigtui.model.lookup import Lookup
from rigtui.model.place_words import place_in_words
from rigtui.model.short_names import Labelled
from rigtui.model.text import listed, visible

if TYPE_CHECKING:
    from rigtui.checks.finding import Fix


_POINTS = re.compile(r"\b(delete|in|keep|leave|make|map|move|put|set|take|that) (it|its|both)\b")
"""A fix that names only with "it" what it is about; "it" in a name is something else."""


def named(row: Labelled) -> str:
    """A pedal's, preset's, song's or setlist's name."""
    return visible(row.label)


def quoted(word: str) -> str:
    """Quote a word from the file that names nothing."""
    shown = visible(word)
    return '"' + (shown if len(shown) <= 60 else shown[:59] + "…") + '"'


def section_of(song: Song, at: int) -> str:
    """A section by name, number and song: "Chorus (section 3) of Low Fen"."""
    return f"{visible(song.sections[at].name)} (section {at + 1}) of {named(song)}"


def pedals_named(known: Lookup, ids: Iterable[str]) -> str:
    """Several pedals by name, in a sentence."""
    return listed(visible(known.label(pedal_id)) for pedal_id in ids)


def fix_in_words(rig: Rig, fix: Fix, where: str) -> str:
    """What the fix of a finding does; where that says only "it", with what it is."""
    if _POINTS.search(fix.label):
        return f"{fix.label} ({place_in_words(rig, where)})"
    return fix.label
