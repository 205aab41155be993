"""Changes inside a song: too many presses on one beat, too little time, a bank to cross, no cue."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial

from rigtui.checks.demand import TIGHT, Demand, demands, in_words, say_seconds
from rigtui.checks.finding import Fix, Hit, Rule, View
from rigtui.checks.words import quoted, section_of
from rigtui.model import Song
from rigtui.model.edits import set_section
from rigtui.model.places import section_place
from rigtui.model.text import count, listed, number_text, visible
from rigtui.moves import on_the_beat
from rigtui.moves.clock import tempo_of
from rigtui.moves.words import presses_in_words
from rigtui.paper.words import count_of_beats

HURRIED_BARS = 2
"""Bars of a section in which there is no quiet moment to step the bank ahead (a default)."""
_COUNTS_BARS = re.compile(r"\bbars? \d|\d bars?\b", re.IGNORECASE)


def _change(song: Song, at: int) -> str:
    return f"{visible(song.sections[at - 1].name)} → {section_of(song, at)}"


def _crowded(view: View, song: Song) -> Iterator[Hit]:
    allowed = view.player.moves_allowed
    for demand in demands(view, song):
        if demand.on_the_beat > allowed:
            at = demand.to_section
            presses = on_the_beat(demand.presses)
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


def _is_late(demand: Demand) -> bool:
    """A single thing to do may fill its time: that is one press as the beat comes, every night."""
    if demand.ratio > 1 or demand.whole_ratio > 1:
        return True
    return demand.ratio > TIGHT and demand.on_the_beat + len(demand.hands.words) > 1


def _late(view: View, song: Song) -> Iterator[Hit]:
    for demand in demands(view, song):
        if not _is_late(demand):
            continue
        at = demand.to_section
        section, before = song.sections[at], song.sections[at - 1]
        banks_too = demand.ratio <= 1 < demand.whole_ratio
        if banks_too:
            need = demand.seconds + demand.ahead_seconds
            time = f"{say_seconds(demand.before_seconds)}, all of {visible(before.name)}"
        else:
            need = demand.seconds
            beats = (section.rest_beats or 0) + view.player.lead_in_beats
            time = (
                f"{say_seconds(demand.window_seconds)} ({count_of_beats(beats)} at "
                f"{number_text(tempo_of(song, before))})"
            )
        verdict = "there is only" if banks_too or demand.ratio > 1 else "that is nearly all of"
        yield Hit(
            section_place(song.id, at),
            f"{_change(song, at)} needs {say_seconds(need)} for "
            f"{in_words(view, section, demand, banks_too)}; {verdict} {time}",
            rank=_rank(demand),
        )


def _clash(view: View, song: Song) -> Iterator[Hit]:
    for demand in demands(view, song):
        at = demand.to_section
        section = song.sections[at]
        if demand.on_the_beat and demand.hands.words and not section.rest_beats:
            if _is_late(demand):
                continue
            yield Hit(
                section_place(song.id, at),
                f"{_change(song, at)} wants foot and hand on the same beat: "
                f"{in_words(view, section, demand)}",
            )


def _bank_hop(view: View, song: Song) -> Iterator[Hit]:
    for demand in demands(view, song):
        if not demand.bank_steps:
            continue
        at = demand.to_section
        section = song.sections[at]
        words = listed(presses_in_words(view.rig, section, demand.presses, timed=False))
        hurried = not section.rest_beats and song.sections[at - 1].bars <= HURRIED_BARS
        yield Hit(
            section_place(song.id, at),
            f"{_change(song, at)} crosses to another bank: {words}"
            f"{', with no rest and hardly a bar to do it ahead' if hurried else ''}",
            severity="warning" if hurried else None,
        )


def _open_vamp(view: View, song: Song) -> Iterator[Hit]:
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
        f"write {quoted(cue)} as the cue of {section_of(song, at)}",
        partial(set_section, song_id=song.id, at=at, cue=cue),
    )


RULES = (
    Rule(
        "crowded-change", "warning", "song",
        "A change takes more moves on the beat than you allow.",
        "One foot does one thing on a beat; the second press lands in the next section.",
        "common practice; the moves allowed are the player's own figure", _crowded,
    ),
    Rule(
        "late-change", "warning", "song",
        "Feet and hands need more time for a change than there is.",
        "A change that takes longer than the rest before it starts the section in the old sound.",
        "sum of the player's own times over rest and lead-in; their defaults are proposals", _late,
    ),
    Rule(
        "bank-hop", "advice", "song", "A change inside a song crosses to another bank.",
        "The bank must be stepped ahead, while you play; forgotten, every switch is the wrong one.",
        "common practice", _bank_hop,
    ),
    Rule(
        "hand-foot-clash", "warning", "song", "Foot and hand are both due on the same beat.",
        "You look at one of the two, and the other goes wrong; a beat between them helps both.",
        "common practice", _clash,
    ),
    Rule(
        "open-vamp", "warning", "song", "A change out of an open repeat has no cue to wait for.",
        "Nobody counts the bars of a vamp: the press needs a word or a fill to come on.",
        "common practice", _open_vamp,
    ),
)  # fmt: skip
