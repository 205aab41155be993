"""Say in sentences what is given up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple, Protocol

from rigtui.advice.giving_up.answer import JointFrontier
from rigtui.advice.giving_up.point import Compromise, FrontierPoint
from rigtui.model.lookup import lookup
from rigtui.model.playable import lost_sections
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.words.steps import Tick, ticks


class Given(NamedTuple):
    """Sections that give up the same, in a sentence, and where they are."""

    text: str
    """"Leave Wide chorus off in 5 sections of 2 songs"."""
    places: str
    """"Paper Harbour (sections 3 and 5), Tide Table (section 4)"."""


def given_up(rig: Rig, compromises: Sequence[Compromise]) -> list[Given]:
    """Say what is given up, most sections first."""
    groups: dict[tuple[tuple[str, ...], tuple[str, ...], str | None], list[Compromise]] = {}
    for each in compromises:
        wanted = _channel(rig, each) if each.other_channel else None
        groups.setdefault((each.left_off, each.put_on, wanted), []).append(each)
    rows = sorted(groups.items(), key=lambda row: -len(row[1]))
    return [
        Given(f"{_what(rig, *key)} in {_how_many(rows_of)}", places_in_words(rig, rows_of))
        for key, rows_of in rows
    ]


def _what(rig: Rig, left_off: tuple[str, ...], put_on: tuple[str, ...], channel: str | None) -> str:
    label = lookup(rig).label
    off, on = listed(map(label, left_off)), listed(map(label, put_on))
    if off and on:
        text = f"Play with {on} instead of {off}"
    elif off:
        text = f"Leave {off} off"
    elif on:
        text = f"Switch {on} on as well"
    else:
        return f"Stay off the {channel} channel" if channel else "Send other MIDI messages"
    return f"{text} and stay off the {channel} channel" if channel else text


def _channel(rig: Rig, each: Compromise) -> str:
    song = lookup(rig).songs[each.song]
    wanted = song.sections[each.at].wanted
    return (wanted.channel if wanted is not None else None) or ""


def _how_many(compromises: Sequence[Compromise]) -> str:
    songs = {each.song for each in compromises}
    of = f" of {count(len(songs), 'song')}" if len(compromises) > 1 else ""
    return f"{count(len(compromises), 'section')}{of}"


class Placed(Protocol):
    """Whatever is at a section."""

    @property
    def song(self) -> str:
        """The song's id."""
        ...

    @property
    def at(self) -> int:
        """The section, from 0."""
        ...


def places_in_words(rig: Rig, compromises: Iterable[Placed]) -> str:
    """Say where: "Paper Harbour (sections 3 and 5), Tide Table (section 4)"."""
    songs: dict[str, list[int]] = {}
    for each in compromises:
        songs.setdefault(each.song, []).append(each.at + 1)
    known = lookup(rig).songs
    return ", ".join(
        f"{known[song].label} ({'section' if len(at) == 1 else 'sections'} {listed(map(str, at))})"
        for song, at in songs.items()
    )


def sentences(rig: Rig, point: FrontierPoint, board: str = "") -> Iterator[str]:
    """Say what a point asks of the player, a sentence each.

    Args:
        rig: The rig that it was worked out for.
        point: The point.
        board: What is different about its board.
    """
    if board:
        yield f"The board: {board}"
        plugs = [tick.text for tick in ticks(rig, point.rig, evening_of(rig, ())) if _plugs(tick)]
        if plugs:
            yield f"Re-plug: {'; '.join(plugs)}"
    if not point.compromises:
        yield "Every sound stays"
    for given in given_up(point.rig, point.compromises):
        yield f"{given.text}: {given.places}"
    if not board:
        label = {preset.id: preset.label for preset in rig.presets}
        for preset in point.rig.presets:
            if preset.id in point.stored:
                yield f"Store {preset.label} in memory {preset.memory}"
        for preset_id in point.not_stored:
            yield f"{label[preset_id]} loses its memory"


def _plugs(tick: Tick) -> bool:
    return tick.kind == "plug"


def stored_in_words(point: FrontierPoint) -> str:
    """Say what a point stores anew: "Store Stack in memory 8 in place of Crunch Wide"."""
    stored = [preset for preset in point.rig.presets if preset.id in point.stored]
    gone = [preset.label for preset in point.rig.presets if preset.id in point.not_stored]
    return (
        "Store "
        + listed(f"{preset.label} in memory {preset.memory}" for preset in stored)
        + (f" instead of {listed(gone)}" if gone else "")
    )


def ends_in_words(answer: JointFrontier) -> str:
    """Say what the two ends of a frontier are."""
    first, last = answer.steps[0][1].level, answer.steps[-1][1].level
    return (
        f"Every sound kept: {count(first.unplayable, 'section')} can't be played, "
        f"{count(first.extra_presses, 'extra press', 'extra presses')}. At the far end: "
        f"{last.unplayable} and {last.extra_presses}."
    )


def proof_in_words(answer: JointFrontier) -> str:
    """Say whether any other choice of sounds could be better, and what was not tried."""
    looked = sum(board.frontier.looked_at for board in answer.boards)
    boards = f" on {len(answer.boards)} boards" if len(answer.boards) > 1 else ""
    choices = f"{count(looked, 'choice')} of sounds to keep checked{boards}"
    if answer.proved:
        text = f"Proved: {choices}, none better at any price"
    else:
        text = f"Not proved: {choices}, of {sum(b.frontier.choices for b in answer.boards)}"
    if answer.untried:
        text += f"; no time for {count(answer.untried, 'more board')}"
    return text


def lost_again(now: Rig, then: Rig) -> str | None:
    """Say how many sections can't be played once sounds are given back; None where none is new."""
    lost = lost_sections(then) - lost_sections(now)
    if lost <= 0:
        return None
    return (
        f"{count(lost, 'more section')} can't be played then: memories stay as they "
        "are, and none stores the sound"
    )
