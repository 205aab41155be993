"""Names in the file that name nothing, and sections that name no preset."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial

from rigtui.checks.choices import Swap, which_preset, which_song
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.guess import Guesser
from rigtui.checks.words import named, quoted, section_of
from rigtui.model import Rig, Song
from rigtui.model.base import BY_FOOT, SIDES, Side
from rigtui.model.edits import (
    map_section,
    set_amp,
    set_chain,
    set_loop,
    set_preset,
    set_section,
    set_set,
    unwaive,
)
from rigtui.model.edits.tables import changed, with_table
from rigtui.model.place_words import set_title
from rigtui.model.places import place_at, section_place
from rigtui.model.text import listed, visible


def _unknown_name(view: RigView) -> Iterator[Hit]:
    guess = Guesser()
    yield from _in_amp(view, guess)
    yield from _in_loops(view, guess)
    yield from _in_chain(view, guess)
    yield from _in_presets(view, guess)
    for song in view.rig.songs:
        yield from _in_song(view, guess, song)
    yield from _in_setlists(view, guess)
    yield from _in_waivers(view, guess)


def _hit(where: str, says: str, near: str | None, swap: Swap, word: str, write: bool = True) -> Hit:
    """A finding about one word: what it should have been, and the edit that writes that.

    Args:
        where: Place of the finding.
        says: The message up to what would be right.
        near: The nearest known word, if there is one.
        swap: Edit of the word.
        word: The unknown word as the file spells it.
        write: Whether the nearest word may stand here; else the unknown one is taken out.
    """
    guess = (
        f"the nearest is {quoted(near)}"
        if near is not None
        else ("no name in the file comes close")
    )
    new = near if write else None
    label = f"delete {quoted(word)}" if new is None else f"write {quoted(new)} instead"
    return Hit(where, f"{says}; {guess}", Fix(label, partial(swap, new)))


def _swapped(items: tuple[str, ...], old: str, new: str | None) -> tuple[str, ...]:
    """The items with a word replaced, or taken out where the new one is there already."""
    if new is None or new in items:
        return tuple(item for item in items if item != old)
    return tuple(dict.fromkeys(new if item == old else item for item in items))


def _strangers(items: Iterable[str], known: Iterable[str]) -> tuple[str, ...]:
    """Items that are not known, each once."""
    return tuple(dict.fromkeys(item for item in items if item not in known))


def _loops_there(view: RigView) -> str:
    numbers = sorted(view.known.loops)
    if not numbers:
        return "the switcher has no loops"
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"the loops are {numbers[0]} to {numbers[-1]}"
    noun = "loops are" if len(numbers) > 1 else "only loop is"
    return f"the {noun} {listed(str(number) for number in numbers)}"


def _in_amp(view: RigView, guess: Guesser) -> Iterator[Hit]:
    amp = view.rig.amp
    for word in _strangers(amp.drive_channels, amp.channels) if amp.channels else ():
        near = guess.word(word, amp.channels)
        says = f"The amp's drive channels include {quoted(word)}, but the amp has no such channel"
        yield _hit("amp", says, near, partial(_swap_drive_channel, word), word)


def _placed(view: RigView) -> set[int | str]:
    """What already has a place: it is not what was meant, for nothing can stand in two."""
    return {*view.known.loop_of, *view.rig.chain.front, *view.rig.chain.fx}


def _in_loops(view: RigView, guess: Guesser) -> Iterator[Hit]:
    rig, pedals, placed = view.rig, view.known.pedals, _placed(view)
    for loop in rig.loops:
        for word in _strangers(loop.pedals, pedals):
            near = guess.row(word, [p for p in rig.pedals if p.side == loop.side])
            yield _hit(
                place_at("loops", loop.number),
                f"Loop {loop.number} lists pedal {quoted(word)}, but there is no such pedal",
                near or guess.row(word, rig.pedals),
                partial(_swap_in_loop, loop.number, word),
                word,
                write=near is not None and near not in placed,
            )


def _in_chain(view: RigView, guess: Guesser) -> Iterator[Hit]:
    rig, pedals, placed = view.rig, view.known.pedals, _placed(view)
    for side in SIDES:
        for item in dict.fromkeys(getattr(rig.chain, side)):
            if isinstance(item, int) and item not in view.known.loops:
                yield Hit(
                    place_at("chain", side),
                    f"The {side} chain lists loop {item}, but there is no such loop; "
                    f"{_loops_there(view)}",
                    Fix(
                        f"take loop {item} out of the chain",
                        partial(_swap_in_chain, side, item, None),
                    ),
                )
            elif isinstance(item, str) and item not in pedals:
                near = guess.row(item, [p for p in rig.pedals if p.side == side])
                yield _hit(
                    place_at("chain", side),
                    f"The {side} chain lists pedal {quoted(item)}, but there is no such pedal",
                    near or guess.row(item, rig.pedals),
                    partial(_swap_in_chain, side, item),
                    item,
                    write=near is not None and near not in placed,
                )


def _swap_in_loop(number: int, old: str, new: str | None, rig: Rig) -> Rig:
    loop = next(loop for loop in rig.loops if loop.number == number)
    return set_loop(rig, number, pedals=_swapped(loop.pedals, old, new))


def _swap_in_chain(side: Side, old: int | str, new: str | None, rig: Rig) -> Rig:
    items: tuple[int | str, ...] = getattr(rig.chain, side)
    kept = [new if item == old else item for item in items]
    return set_chain(rig, side, tuple(dict.fromkeys(item for item in kept if item is not None)))


def _swap_drive_channel(old: str, new: str | None, rig: Rig) -> Rig:
    return set_amp(rig, drive_channels=_swapped(rig.amp.drive_channels, old, new))


def _in_presets(view: RigView, guess: Guesser) -> Iterator[Hit]:
    channels = view.rig.amp.channels
    for preset in view.rig.presets:
        where = place_at("presets", preset.id)
        for number in dict.fromkeys(preset.loops):
            if number not in view.known.loops:
                yield Hit(
                    where,
                    f"{named(preset)} switches in loop {number}, but there is no such "
                    f"loop; {_loops_there(view)}",
                    Fix(f"take loop {number} out", partial(_without_loop, preset.id, number)),
                )
        # An amp that lists no channels leaves their names to the presets.
        if channels and preset.channel and preset.channel not in channels:
            word = preset.channel
            says = f"{named(preset)} names channel {quoted(word)}, but the amp has no such channel"
            swap = partial(_swap_channel, preset.id)
            yield _hit(where, says, guess.word(word, channels), swap, word)


def _without_loop(preset_id: str, number: int, rig: Rig) -> Rig:
    preset = next(preset for preset in rig.presets if preset.id == preset_id)
    return set_preset(rig, preset_id, loops=tuple(n for n in preset.loops if n != number))


def _swap_channel(preset_id: str, new: str | None, rig: Rig) -> Rig:
    return set_preset(rig, preset_id, channel=new)


def _in_song(view: RigView, guess: Guesser, song: Song) -> Iterator[Hit]:
    pedals, presets = view.known.pedals, view.known.presets
    for at, section in enumerate(song.sections):
        if section.preset is not None and section.preset not in presets:
            yield _unknown_preset(view, guess, song, at, section.preset)
        if not (section.plus or section.minus or section.may or section.early):
            continue
        for key in ("plus", "minus", "may", "early"):
            for word in _strangers(getattr(section, key), pedals):
                says = (
                    f"{section_of(song, at)} names pedal {quoted(word)} in {key}, but "
                    "there is no such pedal"
                )
                near = guess.row(word, view.rig.pedals)
                swap = partial(_swap_in_section, song.id, at, key, word)
                # The nearest one may be right in "may" only: there, every pedal can stand.
                write = near is not None and _fits(view, key, near)
                yield _hit(section_place(song.id, at), says, near, swap, word, write)


def _unknown_preset(view: RigView, guess: Guesser, song: Song, at: int, word: str) -> Hit:
    near = guess.row(word, view.rig.presets)
    says = f"{section_of(song, at)} names preset {quoted(word)}, but there is no such preset"
    choices = which_preset(song, at, near) if view.rig.presets else None
    if near is None:  # without a guess, an unmapped section would be no better
        says = f"{says}; no name in the file comes close"
        return Hit(section_place(song.id, at), says, choices=choices)
    hit = _hit(section_place(song.id, at), says, near, partial(_map_to, song.id, at), word)
    return replace(hit, choices=choices)


def _fits(view: RigView, key: str, pedal_id: str) -> bool:
    """Whether a section can name a pedal under a key."""
    if key == "may":
        return True
    if pedal_id in view.known.loop_of:
        return view.known.toggling and key != "early"
    return key in ("plus", "early") and view.known.pedals[pedal_id].used in BY_FOOT


def _map_to(song_id: str, at: int, preset_id: str | None, rig: Rig) -> Rig:
    return map_section(rig, song_id, at, preset_id)


def _swap_in_section(song_id: str, at: int, key: str, old: str, new: str | None, rig: Rig) -> Rig:
    song = next(song for song in rig.songs if song.id == song_id)
    items = _swapped(getattr(song.sections[at], key), old, new)
    return set_section(rig, song_id, at, **{key: items})


def _in_setlists(view: RigView, guess: Guesser) -> Iterator[Hit]:
    for setlist in view.rig.setlists:
        for place, part in enumerate(setlist.sets):
            for word in _strangers(part.songs, view.known.songs):
                says = (
                    f"{visible(set_title(part, place))} of {named(setlist)} lists song "
                    f"{quoted(word)}, but there is no such song"
                )
                swap = partial(_swap_song, setlist.id, place, word)
                near = guess.row(word, view.rig.songs)
                hit = _hit(place_at("setlists", setlist.id), says, near, swap, word)
                asked = f"Song for {quoted(word)} in {named(setlist)}"
                choices = which_song(asked, near, swap) if near else None
                yield replace(hit, choices=choices, about=(place_at("songs", word),))


def _swap_song(setlist_id: str, place: int, old: str, new: str | None, rig: Rig) -> Rig:
    setlist = next(setlist for setlist in rig.setlists if setlist.id == setlist_id)
    ids = (new if song == old else song for song in setlist.sets[place].songs)
    return set_set(rig, setlist_id, place, songs=tuple(song for song in ids if song is not None))


def _in_waivers(view: RigView, guess: Guesser) -> Iterator[Hit]:
    for at, waiver in enumerate(view.rig.waivers):
        rule, where = waiver.rule, waiver.where
        if rule not in view.rule_ids:
            says = (
                f"Waiver {at + 1}, at {visible(where)}, names rule {quoted(rule)}, but "
                "there is no such rule"
            )
            near = guess.word(rule, view.rule_ids)
            swap = partial(_swap_rule, rule, where)
            hit = _hit(place_at("waivers", at), says, near, swap, rule)
            yield hit if near else replace(hit, fix=Fix("delete the waiver", partial(swap, None)))


def _swap_rule(old: str, where: str, new: str | None, rig: Rig) -> Rig:
    if new is None or any((waiver.rule, waiver.where) == (new, where) for waiver in rig.waivers):
        return unwaive(rig, old, where)
    rows = [
        changed(waiver, rule=new) if (waiver.rule, waiver.where) == (old, where) else waiver
        for waiver in rig.waivers
    ]
    return with_table(rig, "waivers", rows)


RULES = (
    Rule(
        id="unknown-name",
        severity="error",
        scope="rig",
        summary="A loop, preset, section, setlist, chain or waiver names something that is not "
        "in the file.",
        why="Every count and every sheet leaves the name out, so what you play won't "
        "match the sheet.",
        source="Rig file format: every name is an id of its table.",
        check=_unknown_name,
    ),
)
