"""Why no plan of loops can do what is asked, in the player's words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rigtui.model.lookup import Lookup, lookup
from rigtui.model.places import place_at, section_place
from rigtui.model.rig import Rig, Section
from rigtui.model.text import count, listed, visible
from rigtui.plan.ask.channels import ANY_CHANNEL, named
from rigtui.plan.ask.checked import STAYS_OUT
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Clashing, Conflict
from rigtui.plan.loops.costs import cube_of
from rigtui.plan.presets.cubes import Cube, bits_of
from rigtui.plan.ways_out.feasible import Feasibility, Fit
from rigtui.plan.ways_out.relax import Relaxer

_SIDES = {"front": " in front of the amp", "fx": " in the amp's effects loop", "": ""}


def conflict_of(feasibility: Feasibility, question: Question, fit: Fit) -> Conflict:
    """Say why nothing fits, and the smallest changes to the options that help.

    Args:
        feasibility: Answers for the rig and the evening.
        question: The question.
        fit: What they take; not possible, or not known to be.
    """
    rig = feasibility.rig
    relaxer = Relaxer(feasibility, question)
    relaxed = relaxer.relaxations()
    if not fit.wired:
        reasons = [*_barred(rig, question, fit), *_too_few_loops(rig, question, fit)]
        return Conflict("; ".join(reasons), (), relaxed, relaxer.untried)
    sounds = tuple(_sounds(feasibility, fit)) if len(fit.clique) > fit.memories else ()
    return Conflict(_too_many(rig, question, fit), sounds, relaxed, relaxer.untried)


# Loops


def _barred(rig: Rig, question: Question, fit: Fit) -> Iterator[str]:
    """Pedals that must be outside, where no loop can do without them."""
    said = lookup(rig)
    for at in bits_of(fit.barred):
        pedal = fit.needs.pedals[at]
        label = visible(said.label(pedal))
        alone = fit.needs.left_alone >> at & 1
        use = STAYS_OUT[said.pedals[pedal].used] if alone else "must stay outside"
        if fit.needs.on_top >> at & 1:
            stay = [visible(said.presets[preset].label) for preset in _switched_on_top(fit, at)]
            use += f", because sections that stay on {listed(stay)} switch it on top"
        if fit.limits.must >> at & 1:
            keepers = listed(_keepers(rig, question, pedal))
            why = f"{keepers}, which must sound as now, has it in a loop"
            yield f"{label} {use}, but {why if keepers else 'you want it in a loop'}"
            continue
        row = fit.rows[fit.needs.sides[at]]
        ends = [visible(said.label(fit.needs.names(bit)[0])) for bit in (row[0], row[-1])]
        yield (
            f"{label} {use}, but it stands in the chain between {ends[0]} and "
            f"{ends[1]}, which must be in loops: the signal order must stay, and the "
            "switcher has no jack between two of its loops"
        )


def _switched_on_top(fit: Fit, at: int) -> list[str]:
    """Kept presets with sections that want a pedal otherwise than the preset has it."""
    bit = 1 << at
    wanted = {
        sound.channel
        for song in fit.needs.songs
        for sound in song.sounds
        if sound.kept is not None and (sound.on & sound.kept[1] | sound.off & sound.kept[0]) & bit
    }
    return [preset for preset, its in fit.needs.kept.items() if its.channel in wanted]


def _too_few_loops(rig: Rig, question: Question, fit: Fit) -> Iterator[str]:
    said = lookup(rig)
    for side in fit.short:
        rows = [fit.rows[side]] if side else list(fit.rows.values())
        row = [bit for bits in rows for bit in bits]
        needed = fit.fewest[side] if side else sum(fit.fewest.values())
        has = fit.limits.loops[side] if side else fit.limits.total
        must = [bit for bit in row if fit.limits.must & bit]
        noun = f"{side} loop" if side else "loop"
        text = (
            f"{_names(said, fit, must)} must be in {'a loop' if len(must) == 1 else 'loops'}"
            f"{_SIDES[side]}{_because_kept(rig, question, fit, must)}"
        )
        caught = [bit for bit in row if not fit.limits.must & bit]
        if caught:
            text += f", and with them {_names(said, fit, caught)}, caught between them in the chain"
        text += f": that takes {count(needed, noun)}{_shared(question, needed, len(row))}"
        yield f"{text}, but there {'is' if has == 1 else 'are'} {has or 'none'}"


def _shared(question: Question, needed: int, pedals: int) -> str:
    if not question.sharing:
        return ", one pedal each"
    if needed < pedals:
        return ", shared as far as possible"
    if pedals == 2:
        return ", because the two can't share one"
    return ", because no two of them can share one" if pedals > 1 else ""


def _because_kept(rig: Rig, question: Question, fit: Fit, must: Sequence[int]) -> str:
    """Say which presets want pedals in loops that were not asked for by name."""
    keepers: dict[str, None] = {}
    for bit in must:
        pedal = fit.needs.names(bit)[0]
        if pedal not in question.pin_in:
            keepers |= dict.fromkeys(_keepers(rig, question, pedal))
    if not keepers:
        return ""
    labels = list(keepers)
    return f" (for {listed(labels)}, which must sound as now)"


def _keepers(rig: Rig, question: Question, pedal: str) -> list[str]:
    """Kept presets that switch a pedal in."""
    said = lookup(rig)
    presets = [said.presets[preset] for preset in dict.fromkeys(question.keep)]
    return [visible(preset.label) for preset in presets if pedal in said.preset_pedals(preset)]


def _names(said: Lookup, fit: Fit, bits: Sequence[int]) -> str:
    return listed([visible(said.label(fit.needs.names(bit)[0])) for bit in bits])


# Presets


def _too_many(rig: Rig, question: Question, fit: Fit) -> str:
    """Why there are more presets than memories."""
    room = f"there is room for {fit.memories}"
    many = len(fit.clique)
    where = _where(rig, question, fit)
    if many > fit.memories:
        return (
            f"{where}, no two of these {many} sounds can share a preset, so at least "
            f"{count(many, 'preset')} are needed, but {room}"
        )
    if fit.least > fit.memories:
        shared = ", whichever pedals share a loop" if fit.groups != fit.apart else ""
        return (
            f"{where}, at least {count(fit.least, 'preset')} are needed{shared} (all "
            f"ways to share presets between sounds were checked), but {room}"
        )
    return (
        f"{where}, no way was found to manage with {count(fit.memories, 'preset')}, "
        f"and no proof that there is none: at least {fit.least} are needed"
    )


def _where(rig: Rig, question: Question, fit: Fit) -> str:
    if fit.toggling:
        kept = " and the presets that must sound as now" if fit.needs.kept else ""
        return f"With a preset for each channel{kept}, and all else switched on top"
    if not fit.apart:
        return "Even with every pedal outside the loops"
    said = lookup(rig)
    must = [bit for bit in fit.apart if fit.limits.must & bit]
    text = f"With {_names(said, fit, must)} in {'a loop' if len(must) == 1 else 'loops'}"
    text += _because_kept(rig, question, fit, must)
    caught = [bit for bit in fit.apart if not fit.limits.must & bit]
    return text + (f" (and {_names(said, fit, caught)} between them)" if caught else "")


def _sounds(feasibility: Feasibility, fit: Fit) -> Iterator[Clashing]:
    """The sounds of the clique, each with all its places."""
    rig, needs = feasibility.rig, fit.needs
    songs = {song.id: song for song in rig.songs}
    over = () if fit.toggling else fit.apart
    split = _splits(fit.clique)
    by_cube: dict[Cube, dict[tuple[object, ...], Clashing]] = {cube: {} for cube in fit.clique}
    for preset, sound in needs.kept.items():
        cube = cube_of(sound, fit.apart)
        if cube in by_cube:
            label = visible(lookup(rig).presets[preset].label)
            stays = "must sound as now, in a memory of its own"
            kept = Clashing(label, stays, (place_at("presets", preset),))
            by_cube[cube] = {(): kept}
    for song in needs.played:
        for sound in song.sounds:
            same = by_cube.get(cube_of(sound, over))
            if same is None or () in same:
                continue
            section = songs[song.song].sections[sound.section]
            key = (section.preset, section.plus, section.minus)
            before = same.get(key) or Clashing(_sound_name(rig, section), "", ())
            place = section_place(song.song, sound.section)
            same[key] = replace(before, places=(*before.places, place))
    for cube, same in by_cube.items():
        most = max(same.values(), key=lambda clashing: len(clashing.places))
        wants = ", ".join(filter(None, (most.wants, _wants(rig, fit, cube, split))))
        yield replace(most, wants=wants)


def _sound_name(rig: Rig, section: Section) -> str:
    said = lookup(rig)
    assert section.preset is not None
    text = said.presets[section.preset].label
    if section.plus:
        text += f" with {listed([said.label(pedal) for pedal in section.plus])}"
    if section.minus:
        text += f" without {listed([said.label(pedal) for pedal in section.minus])}"
    return visible(text)


def _splits(cubes: Sequence[Cube]) -> int:
    """Loops that some cubes want on and others off."""
    on = off = 0
    for cube in cubes:
        on |= cube.on
        off |= cube.off
    return on & off


def _wants(rig: Rig, fit: Fit, cube: Cube, split: int) -> str:
    """What tells a sound from the others: "Delay on, Chorus off, channel drive"."""
    said = lookup(rig)
    on, off = ([fit.apart[at] for at in bits_of(mask & split)] for mask in (cube.on, cube.off))
    words = [f"{_names(said, fit, on)} on"] if on else []
    if any(split & ~(its.on | its.off) for its in fit.clique):  # others may be on or off
        words += [f"{_names(said, fit, off)} off"] if off else []
    elif split and not on:
        words.append("none of them on")
    any_ = cube.channel == ANY_CHANNEL
    channel = fit.needs.channel_name(cube.channel)
    if len({named(its.channel) for its in fit.clique}) > 1:
        words.append("any channel" if any_ else f"channel {visible(channel)}" if channel else "no "
                     "channel named")  # fmt: skip
    sent = {fit.needs.messages(its.channel) for its in fit.clique}
    if len(sent) > 1:
        own = fit.needs.messages(cube.channel)
        words.append(f"MIDI to {listed(dict.fromkeys(visible(send.device) for send in own))}" if own
                     else "no MIDI")  # fmt: skip
    return ", ".join(words)
