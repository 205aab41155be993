"""A song and its sections in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from rigtui.model.lookup import Lookup, lookup
from rigtui.model.meter import tempo_in_words
from rigtui.model.places import section_place
from rigtui.model.text import clock_time, count, number_text
from rigtui.moves import count_song
from rigtui.moves.clock import section_seconds
from rigtui.moves.words import burden_in_words

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Preset, Rig, Section, Song


def title_line(song: Song, wide: bool) -> str:
    """Title, tempo and meter; guitar, tuning and capo where there is room."""
    words = [song.label, tempo_in_words(song.tempo, song.meter, song.beat, "bpm"), song.meter]
    if wide:
        words += [song.guitar or "", song.tuning or "", f"capo {song.capo}" if song.capo else ""]
    return "  ".join(filter(None, words))


def figures_line(rig: Rig, song: Song) -> str:
    """Moves as written and least, what is worst on the beat, hands, and length."""
    total = count_song(rig, song)
    words = [f"{count(total.moves, 'move')} (least {total.least_moves})", clock_time(total.seconds)]
    words += burden_in_words(total.unplayable, total.extra_presses)
    if total.on_the_beat_worst:
        words.append(f"up to {total.on_the_beat_worst} on the beat")
    if total.hand_moves:
        words.append(f"hands {total.hand_moves}")
    return ", ".join(words)


def section_lines(
    rig: Rig, song: Song, at: int, preset: Preset | None, findings: Iterable[Finding]
) -> list[str]:
    """A section in words: what is heard, what the keys would do, what is the matter with it."""
    from rigtui.advice.stages import stage_in_words, stages_into

    section = song.sections[at]
    known = lookup(rig)
    mapped = known.presets.get(section.preset or "")
    bars = f"{count_bars(section)}, {clock_time(section_seconds(song, section))}"
    name = mapped.label if mapped else "not mapped"
    heard = [known.label(pedal) for pedal in known.sound(section)]
    sound = f"Heard: {' > '.join(heard) if heard else 'no pedals, straight through'}"
    lines = [f"{section.name} ({at + 1} of {len(song.sections)}), {bars}: {name}"]
    where = section_place(song.id, at)
    lines += [
        f"{finding.severity}: {finding.message}"
        for finding in findings
        if finding.waived is None
        and (finding.where == where or finding.where.startswith(where + "."))
    ]
    if preset is not None:
        lines.insert(1, _what_keys_do(rig, section, preset))
    more = _more(known, song, section)
    early = [f"E: {stage_in_words(rig, stage)}" for stage in stages_into(rig, song, at)]
    return [*lines[:2], *early, *([more] if more else []), *lines[2:], sound]


def count_bars(section: Section) -> str:
    """A section's bars; a guess where it repeats until a cue."""
    bars = number_text(section.bars) + (" bar" if section.bars == 1 else " bars")
    return f"about {bars} (until {section.until})" if section.until else bars


def _what_keys_do(rig: Rig, section: Section, preset: Preset) -> str:
    recall = "not stored"
    if preset.memories and rig.switcher:
        recall = "; ".join(rig.switcher.spot(memory).words for memory in preset.memories)
    does = "space unmaps it" if section.preset == preset.id else "space maps"
    return f"> {preset.label} ({recall}): {does}"


def _own_tempo(song: Song, section: Section) -> str:
    """A section's tempo, with what it counts where that is not the quarter."""
    meter, beat = section.meter or song.meter, section.beat or song.beat
    return tempo_in_words(section.tempo or song.tempo, meter, beat, "").rstrip()


def _more(known: Lookup, song: Song, section: Section) -> str:
    """What a section has besides its preset, each kind behind its mark in the grid; in one line.

    + and - are pedals, t is tempo or meter, h what the hands do.
    """
    words = [f"+{known.label(pedal)}" for pedal in section.plus]
    words += [f"-{known.label(pedal)}" for pedal in section.minus]
    time = [f"tempo {_own_tempo(song, section)}"] if section.tempo else []
    time += [f"meter {section.meter}"] if section.meter else []
    time += [f"beat {section.beat}"] if section.beat else []
    hands = []
    if section.guitar_volume is not None:
        hands.append(f"guitar volume {number_text(section.guitar_volume)}")
    hands += [f"{section.pickup} pickup"] if section.pickup else []
    hands += [text.replace("\n", " ") for text in (section.preset_hands, section.hands) if text]
    hands += [f"not the preset's {key.replace('_', ' ')}" for key in section.ignores]
    words += [f"t: {', '.join(time)}"] if time else []
    words += [f"h: {', '.join(hands)}"] if hands else []
    if section.rest_beats:
        words.append(f"{number_text(section.rest_beats)} beats' rest before")
    if section.cue:
        words.append(f"cue: {section.cue}")
    if section.early:
        words.append(f"switched early: {', '.join(map(known.label, section.early))}")
    if section.may:
        words.append(f"may be on or off: {', '.join(map(known.label, section.may))}")
    return "; ".join(words)
