"""Settings that carry over from one section to the next because nobody changes them.

Inside a song only what the song itself names is known; what comes from the song before is the
evening's to say (`between_songs`). Pickups are followed for the time they take, but not reported:
a section that names none may well want the one that is there.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import NamedTuple

from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.gates import ROLLED_DOWN
from rigtui.checks.played import PlayedSection, played
from rigtui.checks.words import named, section_of
from rigtui.model import Preset, Song
from rigtui.model.edits import set_preset, set_section
from rigtui.model.places import section_place
from rigtui.model.text import number_text, visible

LOUD = ("lead", "high-gain")
"""Roles that want the guitar up."""

FULL = 10.0


Origin = str | tuple[Song, int]
"""A section of a song, from 0, or words for what is none; it is put into words only when told."""


def said(origin: Origin) -> str:
    """Put into words where something was left."""
    return origin if isinstance(origin, str) else section_of(*origin)


class Left(NamedTuple):
    """What hand and foot have left behind, and the words for where; None is unknown."""

    volume: float | None = None
    volume_from: Origin = ""
    volume_before: float = FULL
    """Where the guitar's volume stood before it was rolled down."""
    channel: str | None = None
    channel_from: Origin = ""

    def after(self, song: Song, at: int, part: PlayedSection) -> Left:
        """Return what is left after a section."""
        left, place = self, (song, at)
        volume = part.named_volume
        if volume is not None:
            before = volume if volume > ROLLED_DOWN else left.volume_before
            left = left._replace(volume=volume, volume_from=place, volume_before=before)
        if part.preset is not None and part.preset.channel:
            left = left._replace(channel=part.preset.channel, channel_from=place)
        return left


class Carried(NamedTuple):
    """Something that a section gets and does not want."""

    what: str
    words: str
    fix: Fix | None


def gets(part: PlayedSection) -> frozenset[str]:
    """Return what a section leaves to chance that matters to its sound: "volume", "channel"."""
    if part.preset is None:
        return frozenset()
    loud = part.named_volume is None and part.preset.role in LOUD
    clean = not part.preset.channel and part.preset.role == "clean"
    return frozenset({"volume"} if loud else ()) | frozenset({"channel"} if clean else ())


def carried_into(
    view: RigView, left: Left, song: Song, at: int, part: PlayedSection
) -> Iterator[Carried]:
    """Yield what a section gets from before and should have named: guitar volume, amp channel."""
    preset = part.preset
    if preset is None:
        return
    volume = left.volume
    wants = gets(part)
    if volume is not None and volume <= ROLLED_DOWN and "volume" in wants:
        yield Carried(
            "volume",
            f"{section_of(song, at)}, on {named(preset)}, a {preset.role} sound, names "
            f"no guitar volume, so the guitar is still at {number_text(volume)} from "
            f"{said(left.volume_from)}",
            _volume_fix(song, at, left.volume_before),
        )
    if (
        left.channel is not None
        and left.channel in view.rig.amp.drive_channels
        and "channel" in wants
    ):
        yield Carried(
            "channel",
            f"{section_of(song, at)}, on {named(preset)}, a clean sound, names no "
            f"channel, so the amp is still on {visible(left.channel)} from "
            f"{said(left.channel_from)}",
            _channel_fix(view, preset),
        )


def _volume_fix(song: Song, at: int, volume: float) -> Fix:
    return Fix(
        f"set guitar volume {number_text(volume)} for {section_of(song, at)}",
        partial(set_section, song_id=song.id, at=at, guitar_volume=volume),
    )


def _channel_fix(view: RigView, preset: Preset) -> Fix | None:
    amp = view.rig.amp
    clean = next((c for c in amp.channels if c and c not in amp.drive_channels), None)
    if clean is None:
        return None
    return Fix(
        f"store channel {visible(clean)} with {named(preset)}",
        partial(set_preset, preset_id=preset.id, channel=clean),
    )


def _carry_over(view: RigView, song: Song) -> Iterator[Hit]:
    left, told = Left(), Left()
    for at, part in enumerate(played(view, song)):
        for carried in carried_into(view, left, song, at, part):
            # Told once: until somebody touches the volume or the channel, it is the same thing.
            if carried.what == "volume" and told.volume_from != left.volume_from:
                told = told._replace(volume_from=left.volume_from)
            elif carried.what == "channel" and told.channel_from != left.channel_from:
                told = told._replace(channel_from=left.channel_from)
            else:
                continue
            yield Hit(section_place(song.id, at), carried.words, carried.fix)
        left = left.after(song, at, part)


CARRY_WHY = "Your hand does what is written down. What nobody wrote down stays as it was."

RULES = (
    Rule(
        "carry-over", "warning", "song",
        "A section gets a guitar volume or an amp channel left over from an earlier one.",
        CARRY_WHY, "common practice", _carry_over,
    ),
)  # fmt: skip
