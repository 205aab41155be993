"""What each preset sounds like, for somebody who has never heard the band."""

from __future__ import annotations

from rigtui.model import Pedal, Preset, Rig, Setlist
from rigtui.model.lookup import lookup
from rigtui.model.text import number_text
from rigtui.paper.content import Block, Heading, Para, Part
from rigtui.paper.words import UNSTORED, place_of, preset_hands

ROLES = {
    "clean": "A clean sound",
    "rhythm": "A rhythm sound",
    "high-gain": "A heavy rhythm sound",
    "lead": "A solo sound",
    "ambient": "A wide, soft sound",
    "other": "A sound of its own",
}
# Common practice: what a pedal of each kind is heard to do.
KINDS = {
    "wah": "swept by the wah",
    "volume": "swelled by the volume pedal",
    "compressor": "evened out",
    "pitch": "with a shifted voice",
    "fuzz": "fuzzy",
    "overdrive": "driven",
    "distortion": "distorted",
    "boost": "pushed",
    "gate": "silent in the stops",
    "eq": "with its tone shaped",
    "modulation": "with movement in it",
    "tremolo": "pulsing",
    "delay": "with echoes",
    "reverb": "with a room round it",
    "looper": "over a loop",
    "preamp": "through the preamp",
}

# Common practice; a pedal's own name tells which kind of modulation it is.
MOVEMENTS = {
    "chorus": "with a slow shimmer",
    "flanger": "with a slow sweep",
    "phaser": "with a slow swirl",
    "rotary": "with a fast swirl, as of a turning speaker",
    "vibrato": "with a fast waver",
}
DISTORTS = ("fuzz", "overdrive", "distortion")
ROLLED_BACK = 7
"""Guitar volume up to which a driven sound cleans up (common practice)."""


def sounds(rig: Rig, setlist: Setlist) -> list[Part]:
    """Describe each preset that an evening needs, and name the others."""
    known = lookup(rig)
    used: dict[str, dict[str, None]] = {}
    for song_id in setlist.song_ids:
        song = known.songs.get(song_id)
        for section in song.sections if song else ():
            if section.preset in known.presets and song is not None:
                used.setdefault(section.preset or "", {}).setdefault(song.label)
    parts = [
        Part(_sound(rig, preset, tuple(used[preset.id])), "" if at else "The sounds")
        for at, preset in enumerate(row for row in rig.presets if row.id in used)
    ]
    spare = [preset.label for preset in rig.presets if preset.id not in used]
    if spare:
        said = f"Not needed for {setlist.label}: {', '.join(spare)}."
        parts.append(Part((Para(said),), "" if parts else "The sounds"))
    return parts


def _sound(rig: Rig, preset: Preset, songs: tuple[str, ...]) -> tuple[Block, ...]:
    known = lookup(rig)
    pedals = [known.pedals[pedal_id] for pedal_id in known.preset_pedals(preset)]
    lines = [_in_short(rig, preset, pedals)]
    made = " > ".join(pedal.label for pedal in pedals) or "no pedal in a loop"
    lines.append(f"Made by: {made}{f'; amp on {preset.channel}' if preset.channel else ''}.")
    hands = preset_hands(preset)
    if hands:
        lines.append(f"Hands: {hands}.")
    lines.append(f"Heard in: {', '.join(songs)}.")
    place = place_of(rig, preset)
    where = "no memory" if place == UNSTORED else place
    return (Heading(f"{where}  {preset.label}"), Para("\n".join(lines)))


def _in_short(rig: Rig, preset: Preset, pedals: list[Pedal]) -> str:
    """What a preset sounds like, in a sentence; the guitar's volume first where that makes it."""
    heard = list(dict.fromkeys(_heard(pedal) for pedal in pedals if pedal.kind in KINDS))
    volume, role = preset.guitar_volume, ROLES[preset.role]
    driven = preset.channel in rig.amp.drive_channels
    driven = driven or any(pedal.kind in DISTORTS for pedal in pedals)
    if preset.role == "clean" and driven and volume is not None and volume <= ROLLED_BACK:
        role = f"Clean because the guitar is rolled back to {number_text(volume)}"
        full = ", ".join(heard) or "driven by the amp"
        return f"{role}; turned up it would be {full}."
    return f"{', '.join([role, *heard])}."


def _heard(pedal: Pedal) -> str:
    if pedal.kind == "modulation":
        name = pedal.label.casefold()
        return next((said for word, said in MOVEMENTS.items() if word in name), KINDS["modulation"])
    if pedal.kind == "delay" and pedal.delay_ms is not None and not pedal.tap:
        return f"{KINDS['delay']} ({number_text(pedal.delay_ms)} ms)"
    return KINDS[pedal.kind] + (" (in time: tap it)" if pedal.kind == "delay" and pedal.tap else "")
