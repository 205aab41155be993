"""What `rigtui report` covers, for whoever writes it down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rigtui.checks import Finding
from rigtui.model.rig import Rig, Setlist, Song
from rigtui.store.locate import Locator

if TYPE_CHECKING:
    from rigtui.advice.first import First


@dataclass(frozen=True)
class Report:
    """What one report covers, the same for every form that it is written in."""

    file: str
    rig: Rig
    songs: tuple[Song, ...]
    setlists: tuple[Setlist, ...]
    findings: tuple[Finding, ...]
    only_song: Song | None = None
    """The song asked for, if it was one song."""
    in_full: bool = False
    """Whether the text lists every finding, not only a line for each cause."""
    first: First | None = None
    """What to do first; None for a report of one song."""
    locator: Locator | None = None
    """Where its places stand in the file; None for a rig of no file."""
