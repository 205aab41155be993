"""What eye and shoe meet on the floor: names on the display, room between the footswitches."""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.checks.finding import Hit, RigView, Rule
from rigtui.checks.words import named, quoted
from rigtui.model import Preset
from rigtui.model.places import place_at
from rigtui.model.playable import in_range
from rigtui.model.text import number_text

_FIRST = 4
"""Characters that a glance takes in. Source: a default, not measured."""
_CAP_MM = 20
"""Across the cap of a footswitch. Source: common practice, not measured."""
_AIM_MM = 15
"""How far beside a switch a foot lands in the dark. Source: a default, not measured."""


def _name_blur(view: RigView) -> Iterator[Hit]:
    """Names that the display cuts off, and names of one bank that look alike on it."""
    switcher = view.rig.switcher
    shown = switcher.display_chars if switcher else None
    if switcher is None or shown is None:
        return
    first: dict[tuple[int, str], Preset] = {}
    held = {preset.id: in_range(preset, switcher.memories) for preset in view.rig.presets}
    for preset in view.rig.presets:
        where, name = place_at("presets", preset.id), named(preset)
        if len(name) > shown:
            yield Hit(
                where,
                f"{name} has {len(name)} characters, and the display shows {shown}: "
                f"{quoted(name[:shown])}",
            )
        start, others = name[: min(_FIRST, shown)], {}
        for bank in {switcher.spot(memory).bank: None for memory in held[preset.id]}:
            other = first.setdefault((bank, start.casefold()), preset)
            if other is not preset:
                others[other.id] = other
        for other in others.values():
            yield Hit(where, f"{name} starts like {named(other)} in the same bank: {quoted(start)}")


def _switch_gap(view: RigView) -> Iterator[Hit]:
    """A shoe that is put down on the middle of a switch, and beside it, against the next cap."""
    switcher, shoe = view.rig.switcher, view.player.shoe_mm
    gap = switcher.switch_spacing_mm if switcher and switcher.bank_size > 1 else None
    if gap is None or shoe is None:
        return
    reach = (shoe + _CAP_MM) / 2
    if gap >= reach + _AIM_MM:
        return
    on_both = gap < reach
    yield Hit(
        "switcher",
        f"The footswitches are {number_text(gap)} mm apart, and your shoe is "
        f"{number_text(shoe)} mm across: "
        f"{'it presses two of them' if on_both else 'it only just misses the next switch'}",
        severity="warning" if on_both else None,
    )


RULES = (
    Rule(
        id="name-blur",
        severity="advice",
        scope="rig",
        summary="A preset's name doesn't fit the display, or starts like another's in its bank.",
        why="On a dark stage you read the first letters. Two presets that start alike "
        "look the same.",
        source=f"common practice; {_FIRST} characters are a default, not measured",
        check=_name_blur,
    ),
    Rule(
        id="switch-gap",
        severity="advice",
        scope="rig",
        summary="The footswitches stand too close together for your shoe. It is a warning "
        "where one press lands on two.",
        why="A shoe wider than the gap presses two switches, or the wrong one.",
        source="half the shoe and half a cap against the distance; a cap of 20 mm and an aim of "
        "15 mm are defaults, not measured",
        check=_switch_gap,
    ),
)
