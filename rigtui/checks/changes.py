"""Changes inside a song: too many presses on one beat, too little time, a bank to cross, no cue."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial

from rigtui.checks.demand import Demand, demands, in_words, say_seconds
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.words import named, quoted, section_of
from rigtui.model import Section, Song
from rigtui.model.edits import set_section
from rigtui.model.places import place_at, section_place
from rigtui.model.text import count, first_few, listed, number_text, visible
from rigtui.moves import Presses
from rigtui.moves.clock import tempo_of
from rigtui.moves.words import presses_in_words
from rigtui.paper.words import count_of_beats

HURRIED_BARS = 2
"""Bars of a section in which there is no quiet moment to step the bank ahead (a default)."""
_SONGS = 4
"""Songs that one finding about many changes names."""
_COUNTS_BARS = re.compile(r"\bbars? \d|\d bars?\b", re.IGNORECASE)


def _change(song: Song, at: int) -> str:
    return f"{visible(song.sections[at - 1].name)} → {section_of(song, at)}"


def _crowded(view: RigView, song: Song) -> Iterator[Hit]:
    allowed = view.player.moves_allowed
    for demand in demands(view, song):
        if demand.on_the_beat > allowed:
            at = demand.to_section
            presses = demand.now
            yield Hit(
                section_place(song.id, at),
                f"{_change(song, at)} takes {count(len(presses), 'move')} on the beat, "
                f"{listed(presses_in_words(view.rig, song.sections[at], presses))}; "
                f"you allow {allowed}",
                rank=_rank(demand),
            )


def _rank(demand: Demand) -> tuple[int, ...]:
    """The more presses on one beat, and then the later, the sooner it wants rehearsing."""
    late = demand.seconds - demand.window_seconds
    return (-max(0, demand.on_the_beat - 1), -round(1000 * late))


def _late(view: RigView, song: Song) -> Iterator[Hit]:
    for demand in demands(view, song):
        at = demand.to_section
        section, before = song.sections[at], song.sections[at - 1]
        if demand.is_late:
            need = say_seconds(demand.seconds)
            beats = (section.rest_beats or 0) + view.player.lead_in_beats
            words = _longer_half(view, section, demand)
            time = (
                f"there is only {say_seconds(demand.window_seconds)} ({count_of_beats(beats)} at "
                f"{number_text(tempo_of(song, before))})"
            )
        elif demand.is_late_ahead:
            need = f"{say_seconds(demand.ahead_seconds)} ahead of it"
            ahead = [press for press in demand.presses if press.can_wait]
            words = listed(presses_in_words(view.rig, section, ahead, timed=False))
            time = (
                f"there is only {say_seconds(demand.before_seconds)}, all of {visible(before.name)}"
            )
        else:
            continue
        yield Hit(
            section_place(song.id, at),
            f"{_change(song, at)} needs {need} for {words}; {time}",
            joins=f"that needs {need}, but {time}",
            rank=_rank(demand),
        )


def _longer_half(view: RigView, section: Section, demand: Demand) -> str:
    """Say what takes the time: what the hands do, or what the foot does."""
    if demand.hands.seconds >= demand.feet_seconds:
        return listed(demand.hands.words)
    presses = presses_in_words(view.rig, section, demand.now)
    return listed((*presses, *demand.treadles))


def _clash(view: RigView, song: Song) -> Iterator[Hit]:
    for demand in demands(view, song):
        at = demand.to_section
        section = song.sections[at]
        both = demand.on_the_beat and demand.hands.sets_volume and not section.rest_beats
        if both and not demand.is_late:
            yield Hit(
                section_place(song.id, at),
                f"{_change(song, at)} needs foot and hand on the same beat: "
                f"{in_words(view, section, demand)}",
            )


def _bank_hop(view: RigView) -> Iterator[Hit | None]:
    """Each hurried one; of all others one for each preset and the bank steps that lead to it."""
    patterns: dict[tuple[str, Presses], list[tuple[Song, Demand]]] = {}
    for song in view.rig.songs:
        yield None
        for demand in demands(view, song):
            at = demand.to_section
            section = song.sections[at]
            if not demand.bank_steps:
                continue
            if not section.rest_beats and song.sections[at - 1].bars <= HURRIED_BARS:
                yield Hit(
                    section_place(song.id, at),
                    f"{_change(song, at)} goes to another bank: "
                    f"{listed(presses_in_words(view.rig, section, demand.presses, timed=False))}, "
                    "with no rest and barely a bar to step the bank ahead",
                    severity="warning",
                )
            else:
                key = (section.preset or "", _way(demand))
                patterns.setdefault(key, []).append((song, demand))
    for (preset_id, way), changes in patterns.items():
        songs = list(dict.fromkeys(named(song) for song, _ in changes))
        verb, preset = "comes" if len(changes) == 1 else "come", view.known.presets[preset_id]
        yield Hit(
            place_at("presets", preset_id),
            f"{count(len(changes), 'change')} {verb} to {named(preset)} from "
            f"another bank, by {listed(map(str, way))}: in "
            f"{listed(songs) if len(songs) <= _SONGS else first_few(songs, _SONGS)}",
            times=len(changes),
            rank=(-len(changes),),
        )


def _way(demand: Demand) -> Presses:
    """The bank steps of a change, and the switch in the bank that they lead to."""
    return tuple(press for press in demand.presses if press.kind in ("bank", "switch"))


def _open_vamp(view: RigView, song: Song) -> Iterator[Hit]:
    for demand in demands(view, song):
        at = demand.to_section
        section, vamp = song.sections[at], song.sections[at - 1]
        if not vamp.until or not (demand.presses or demand.hands.words):
            continue
        if section.cue and not _COUNTS_BARS.search(section.cue):
            continue
        cue = f"counts bars ({quoted(section.cue)})" if section.cue else "has no cue of its own"
        yield Hit(
            section_place(song.id, at),
            f"{visible(vamp.name)} (section {at}) repeats until {quoted(vamp.until)}, so that its "
            f"{number_text(vamp.bars)} {'bar is' if vamp.bars == 1 else 'bars are'} a guess; "
            f"{section_of(song, at)} {cue} for "
            f"{in_words(view, section, demand, with_banks=True)}",
            _cue_fix(song, at, vamp.until),
        )


def _cue_fix(song: Song, at: int, cue: str) -> Fix | None:
    if _COUNTS_BARS.search(cue):
        return None
    return Fix(
        f"set the cue {quoted(cue)} for {section_of(song, at)}",
        partial(set_section, song_id=song.id, at=at, cue=cue),
    )


RULES = (
    Rule(
        "crowded-change", "warning", "song",
        "A change takes more moves on the beat than you allow.",
        "One foot does one thing on a beat. The second press lands in the next section.",
        "common practice; the moves allowed are the player's own figure", _crowded,
    ),
    Rule(
        "late-change", "warning", "song",
        "Feet or hands need more time for a change than there is.",
        "If you can't finish the change in time, the section starts with the wrong sound.",
        "the longer of the player's own times for feet and hands, the first press free, over rest "
        "and lead-in; their defaults are proposals", _late,
    ),
    Rule(
        "bank-hop", "advice", "rig",
        "Changes inside songs go to another bank. It is a warning where one leaves no "
            "time to step the bank.",
        "You must step the bank ahead while you play. If you forget, every switch "
            "recalls the wrong preset.",
        "common practice", _bank_hop,
    ),
    Rule(
        "hand-foot-clash", "advice", "song",
        "A press and the guitar's volume are both due on the same beat.",
        "You look at one, and the other goes wrong. Put a beat between them.",
        "common practice", _clash,
    ),
    Rule(
        "open-vamp", "warning", "song", "A change out of an open repeat has no cue to wait for.",
        "Nobody counts the bars of a vamp: you need a word or a fill as the signal to press.",
        "common practice", _open_vamp,
    ),
)  # fmt: skip
