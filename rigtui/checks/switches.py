"""What eye and shoe meet on the floor: names on the display, room between the footswitches."""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.checks.finding import Hit, Rule, View
from rigtui.checks.words import named, quoted
from rigtui.model import Preset
from rigtui.model.places import place_at
from rigtui.model.text import number_text

_FIRST = 4
"""Characters that a glance takes in. Source: a default, not measured."""
_TOO_NEAR_MM, _NEAR_MM = 60, 75
"""Source: defaults, not measured; your own shoe decides."""


def _name_blur(view: View) -> Iterator[Hit]:
    switcher = view.rig.switcher
    shown = switcher.display_chars if switcher else None
    first: dict[str, Preset] = {}
    for preset in view.rig.presets:
        where, name = place_at("presets", preset.id), named(preset)
        if shown is not None and len(name) > shown:
            yield Hit(
                where,
                f"{name} has {len(name)} characters, and the display shows {shown}: "
                f"{quoted(name[:shown])}",
            )
        start = name[: min(_FIRST, shown or _FIRST)]
        other = first.setdefault(start.casefold(), preset)
        if other is not preset:
            yield Hit(where, f"{name} starts like {named(other)}: {quoted(start)}")


def _switch_gap(view: View) -> Iterator[Hit]:
    switcher = view.rig.switcher
    gap = switcher.switch_spacing_mm if switcher and switcher.bank_size > 1 else None
    if gap is None or gap >= _NEAR_MM:
        return
    near = gap < _TOO_NEAR_MM
    yield Hit(
        "switcher",
        f"The footswitches are {number_text(gap)} mm apart, less than "
        f"{_TOO_NEAR_MM if near else _NEAR_MM} mm",
        severity="warning" if near else None,
    )


RULES = (
    Rule(
        id="name-blur",
        severity="advice",
        scope="rig",
        summary="A preset's name does not fit the display, or starts like another's.",
        why="On a dark stage a glance takes in the first letters; two presets that share them are "
        "one to the eye.",
        source=f"common practice; {_FIRST} characters are a default, not measured",
        check=_name_blur,
    ),
    Rule(
        id="switch-gap",
        severity="advice",
        scope="rig",
        summary="The footswitches stand close together; closer still it is a warning.",
        why="A shoe that is wider than the gap presses two switches, or the wrong one.",
        source=f"{_TOO_NEAR_MM} and {_NEAR_MM} mm are defaults, not measured: try your own shoe",
        check=_switch_gap,
    ),
)
