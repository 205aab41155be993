"""The questions about sections: everything of one, several at once, its preset, its pedals."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigtui.model import EditError, Rig, Section, Song
from rigtui.model.banks import all_recalled_at
from rigtui.model.base import BY_FOOT
from rigtui.model.edits import add_line, add_section, set_section, set_song_line, song_line
from rigtui.model.edits.songs import mapped_to
from rigtui.model.lookup import lookup
from rigtui.model.song_line.parts import ENDS
from rigtui.tui.views.setlist.form_fields import FormFields
from rigtui.tui.views.setlist.section_line import EXAMPLE, line_field
from rigtui.tui.widgets.dialogs import Form
from rigtui.tui.widgets.pick import Pick

Edit = Callable[[Rig], Rig]
Ask = Callable[[str, Edit], None]


def tried(edit: Edit, rig: Rig) -> str | None:
    """Try an edit; return what is wrong with it, or None."""
    try:
        edit(rig)
    except EditError as error:
        return str(error)
    return None


def asked(label: str, edit: Edit, rig: Rig, ask: Ask) -> str | None:
    """Ask for an edit if it can be done; return what is wrong with it, or None."""
    fault = tried(edit, rig)
    if fault is None:
        ask(label, edit)
    return fault


def _section_fields(rig: Rig, song: Song, section: Section | None) -> FormFields:
    form = FormFields()
    presets = [("", "none: not mapped yet"), *((preset.id, preset.label) for preset in rig.presets)]
    preset = (section.preset if section else None) or ""
    if preset and preset not in lookup(rig).presets:
        presets.append((preset, f"{preset} (unknown)"))

    def of(key: str) -> Any:
        return getattr(section, key) if section else None

    form.add("name", "Name", of("name"), "e.g. Verse")
    form.add("bars", "Bars", of("bars"), "e.g. 8, up to 100000")
    form.add("preset", "Preset", preset, choices=tuple(presets))
    form.add("hands", "Hands", of("hands"), "what the hands do here")
    form.add("guitar_volume", "Guitar volume", of("guitar_volume"), "0 to 10; the preset's if left")
    form.add("pickup", "Pickup", of("pickup"), "the preset's if left out")
    form.add("tempo", "Tempo", of("tempo"), f"the song's if left out: {song.tempo:g}")
    form.add("meter", "Meter", of("meter"), f"the song's if left out: {song.meter}")
    form.add("beat", "Beat", of("beat"), "the note that tempo counts, e.g. 1/4")
    form.add(
        "rest_beats", "Rest before", of("rest_beats") or None, "beats you don't play, 0 to 10000"
    )
    form.add("cue", "Cue", of("cue"), "what you hear just before it")
    form.add("until", "Repeats until", of("until"), "a cue; its bars are then a guess")
    return form


def _values(form: FormFields, given: dict[str, str]) -> dict[str, Any]:
    name = form.text(given, "name")
    if not name:
        raise EditError("a section needs a name")
    return {
        "name": name,
        "bars": form.needed(given, "bars", "bars"),
        "preset": given["preset"] or None,
        "hands": form.text(given, "hands"),
        "guitar_volume": form.number(given, "guitar_volume", "guitar volume"),
        "pickup": form.name(given, "pickup"),
        "tempo": form.number(given, "tempo", "tempo"),
        "meter": form.name(given, "meter"),
        "beat": form.name(given, "beat"),
        "rest_beats": form.number(given, "rest_beats", "rest before") or 0,
        "cue": form.text(given, "cue"),
        "until": form.text(given, "until"),
    }


def section_form(rig: Rig, song: Song, at: int, ask: Ask) -> Form:
    """A form with everything of a section but the pedals stepped on besides."""
    section = song.sections[at]
    form = _section_fields(rig, song, section)

    def submit(given: dict[str, str]) -> str | None:
        try:
            values = _values(form, given)
        except EditError as error:
            return str(error)

        def edit(old: Rig) -> Rig:
            mapped = mapped_to(section, values["preset"])
            return set_section(old, song.id, at, **{**values, **mapped})

        return asked(f"edit {section.name} of {song.label}", edit, rig, ask)

    return Form(f"Section {at + 1} of {song.label}", form.fields, submit)


def new_section_form(rig: Rig, song: Song, at: int, ask: Ask) -> Form:
    """A form for a new section at a place (from 0)."""
    form = _section_fields(rig, song, None)

    def submit(given: dict[str, str]) -> str | None:
        try:
            values = _values(form, given)
        except EditError as error:
            return str(error)
        name, bars = values.pop("name"), values.pop("bars")
        left = {"rest_beats": 0}
        values = {
            key: value for key, value in values.items() if value not in (None, "", left.get(key))
        }

        def edit(old: Rig) -> Rig:
            return add_section(old, song.id, name, bars, at, **values)

        return asked(f"add {name} to {song.label}", edit, rig, ask)

    return Form(f"New section {at + 1} of {song.label}", form.fields, submit)


def several_form(rig: Rig, song: Song, at: int, ask: Ask, line: str = "") -> Form:
    """A form for several new sections in one line, from a place (from 0) on."""

    def submit(given: dict[str, str]) -> str | None:
        line = given["sections"]
        if not line.strip(" " + ENDS):
            return f"write sections with their bars, e.g. {EXAMPLE}"
        return _asked_line(
            rig, f"add sections to {song.label}", lambda old: add_line(old, song.id, line, at), ask
        )

    return Form(f"New sections of {song.label}", [line_field(rig, song, line)], submit)


def line_form(rig: Rig, song: Song, ask: Ask) -> Form:
    """A form with all sections of a song in one line."""
    before = song_line(song)

    def submit(given: dict[str, str]) -> str | None:
        line = given["sections"]
        if line == before:
            return None
        return _asked_line(
            rig, f"write {song.label}", lambda old: set_song_line(old, song.id, line), ask
        )

    note = "Cues, hands and rests stay with the sections that stay."
    return Form(f"{song.label} in one line", [line_field(rig, song, before)], submit, note)


def _asked_line(rig: Rig, label: str, edit: Edit, ask: Ask) -> str | None:
    fault = asked(label, edit, rig, ask)
    return fault and f"sections, {fault}"


def preset_pick(rig: Rig, section: Section) -> Pick:
    """A list of the presets by name, with where each is recalled."""
    size = rig.switcher.bank_size if rig.switcher else 0
    choices = [
        (
            preset.id,
            f"{preset.label}   "
            f"{all_recalled_at(preset.memories, size) if preset.memories else 'not stored'}  "
            f"{preset.role}",
        )
        for preset in rig.presets
    ]
    choices.append(("", "none: not mapped yet"))
    return Pick(f"Preset for {section.name}", choices, section.preset or None)


def pedal_pick(rig: Rig, section: Section, chosen: str | None) -> Pick | None:
    """A list of the pedals that a section can step on or off; None if there are none."""
    known = lookup(rig)
    on = set(known.sound(section))
    choices = []
    for pedal in switchable(rig):
        state = "on here: step it off" if pedal in on else "off here: step it on"
        choices.append((pedal, f"{known.label(pedal)}   {state}"))
    return Pick(f"Step a pedal in {section.name}", choices, chosen) if choices else None


def switchable(rig: Rig) -> tuple[str, ...]:
    """Ids of the pedals that a section can switch on top of its preset, in signal order."""
    known = lookup(rig)
    return tuple(
        pedal
        for pedal in known.order
        if (known.toggling if pedal in known.loop_of else known.pedals[pedal].used in BY_FOOT)
    )
