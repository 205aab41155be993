"""The questions of the presets view: everything of a preset, its memory, what replaces it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, get_args

from rigtui.model import EditError, Preset, Rig
from rigtui.model.base import Role
from rigtui.model.edits import (
    add_preset,
    first_free_memory,
    set_preset,
    take_copies,
    take_memory,
)
from rigtui.model.text import count, number_text
from rigtui.tui.views.base import View
from rigtui.tui.widgets.dialogs import Field, Form
from rigtui.tui.widgets.pick import Pick


def number_or_none(text: str, what: str) -> float | None:
    """Read a number that may be left out.

    Raises:
        EditError: it is no number.
    """
    text = text.strip().replace(",", ".")
    if not text:
        return None
    try:
        return float(text)
    except ValueError:
        raise EditError(f"{what} must be a number, not {text}") from None


def whole_or_none(text: str, what: str) -> int | None:
    """Read a whole number that may be left out.

    Raises:
        EditError: it is no whole number.
    """
    number = number_or_none(text, what)
    if number is None:
        return None
    if not number.is_integer():
        raise EditError(f"{what} must be a whole number, not {text.strip()}")
    return int(number)


def _memories(text: str) -> list[int]:
    """Read the memories of copies as they are typed: "9, 17" or "9 17".

    Raises:
        EditError: one is no whole number.
    """
    typed = (whole_or_none(word, "copies") for word in text.replace(",", " ").split())
    return [memory for memory in typed if memory is not None]


def _stored(rig: Rig, preset_id: str, memory: int | None, copies: list[int]) -> Rig:
    """Store a preset in the memories that a form gives."""
    return take_copies(take_memory(rig, preset_id, memory), preset_id, copies)


def _values(given: dict[str, str]) -> dict[str, Any]:
    return {
        "name": given["name"].strip(),
        "role": given["role"],
        "channel": given["channel"].strip() or None,
        "guitar_volume": number_or_none(given["guitar_volume"], "guitar volume"),
        "pickup": given["pickup"].strip() or None,
        "hands": given["hands"].strip(),
        "note": given["note"].strip(),
    }


def _fields(rig: Rig, preset: Preset | None) -> list[Field]:
    channels = [("", "none"), *((name, name) for name in rig.amp.channels)]
    channel = (preset.channel if preset else None) or ""
    if channel and channel not in rig.amp.channels:
        channels.append((channel, f"{channel} (unknown)"))
    volume = preset.guitar_volume if preset else None
    memory = preset.memories[0] if preset and preset.memories else None
    return [
        Field("name", "Name", preset.label if preset else "", hint="e.g. Verse clean"),
        Field("role", "Role", preset.role if preset else "other", _roles()),
        Field("memory", "Memory", str(memory) if memory else "", hint="none: not stored yet"),
        Field("copies", "Copies in", _listed(preset), hint="more memories: 9, 17"),
        Field("channel", "Amp channel", channel, tuple(channels)),
        Field(
            "guitar_volume",
            "Guitar volume",
            "" if volume is None else number_text(volume),
            hint="0 to 10, or nothing",
        ),
        Field("pickup", "Pickup", (preset.pickup if preset else "") or ""),
        Field("hands", "Hands", preset.hands if preset else "", hint="what the hands do"),
        Field("note", "Note", preset.note if preset else ""),
    ]


def _listed(preset: Preset | None) -> str:
    return ", ".join(map(str, preset.memories[1:])) if preset else ""


def _roles() -> tuple[tuple[str, str], ...]:
    return tuple((role, role) for role in get_args(Role))


def edit_form(view: View, rig: Rig, preset: Preset) -> Form:
    """A form with everything that belongs to a preset but its loops."""

    def submit(given: dict[str, str]) -> str | None:
        try:
            values, memory = _values(given), whole_or_none(given["memory"], "memory")
            copies = _memories(given["copies"])
            held = tuple(copies if memory is None else [memory, *copies])

            def edit(old: Rig) -> Rig:
                new = set_preset(old, preset.id, **values)
                return new if held == preset.memories else _stored(new, preset.id, memory, copies)

            edit(rig)
        except EditError as error:
            return str(error)
        view.request(f"edit {preset.label}", edit)
        return None

    note = f"Sections use its id: {preset.id}"
    return Form(f"Preset {preset.label}", _fields(rig, preset), submit, note)


def add_form(view: View, rig: Rig, adding: Callable[[], None]) -> Form:
    """A form for a new preset, stored in the first free memory; `adding` hears of it first."""
    free = first_free_memory(rig)
    fields = [
        Field("memory", "Memory", str(free) if free else "", hint="none: not stored yet")
        if field.key == "memory"
        else field
        for field in _fields(rig, None)
    ]

    def submit(given: dict[str, str]) -> str | None:
        if not given["name"].strip():
            return "a preset needs a name"
        try:
            values, memory = _values(given), whole_or_none(given["memory"], "memory")
            copies = _memories(given["copies"])
            name = values.pop("name")
            values = {key: value for key, value in values.items() if value not in (None, "")}

            def edit(old: Rig) -> Rig:
                new = add_preset(old, name, **values)
                return _stored(new, new.presets[-1].id, memory, copies)

            edit(rig)
        except EditError as error:
            return str(error)
        adding()
        view.request(f"add {name}", edit)
        return None

    return Form("New preset", fields, submit)


def memory_pick(rig: Rig, preset: Preset) -> Pick:
    """A list of the memories with what they hold; choosing a full one swaps the two."""
    held = {memory: holder for holder in reversed(rig.presets) for memory in holder.memories}
    choices = [("0", "none: planned, not stored yet")]
    for memory in range(1, (rig.switcher.memories if rig.switcher else 0) + 1):
        assert rig.switcher is not None
        holder = held.get(memory)
        content = holder.label if holder else "free"
        if holder is not None and holder.id != preset.id:
            content += " (they swap)"
        elif holder is not None and memory != holder.memories[0]:
            content += " (a copy)"
        choices.append((str(memory), f"{memory}: {rig.switcher.spot(memory).words}: {content}"))
    return Pick(f"Memory for {preset.label}", choices, str(preset.memory or 0))


def instead_pick(rig: Rig, preset: Preset, uses: int) -> Pick:
    """What the sections of a preset get that is about to be deleted."""
    choices = [("", "leave them without a preset, to map later")]
    choices += [(other.id, other.label) for other in rig.presets if other.id != preset.id]
    use, get = ("uses", "it gets") if uses == 1 else ("use", "they get")
    return Pick(f"{count(uses, 'section')} {use} {preset.label}; {get}", choices)
