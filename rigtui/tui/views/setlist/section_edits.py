"""The keys of a song's sections: each asks for one edit, decided when it is made.

Keys may come faster than edits are shown, so what a toggle does is settled inside the edit, from
the rig that it gets, not from the one in sight.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from rigtui.model.edits import (
    map_section,
    move_sections,
    set_section,
    step_pedal,
)
from rigtui.model.edits.mapping import delete_sections, put_sections
from rigtui.model.edits.several import moved_together
from rigtui.model.edits.tables import in_range, place_of
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.text import count
from rigtui.tui.views.setlist.panes import SectionsPane
from rigtui.tui.views.setlist.section_forms import (
    line_form,
    new_section_form,
    pedal_pick,
    preset_pick,
    section_form,
    several_form,
    switchable,
)

if TYPE_CHECKING:
    from rigtui.model.rig import Preset, Rig, Section


def _section(rig: Rig, song_id: str, at: int) -> Section:
    sections = rig.songs[place_of(rig.songs, song_id, "song")].sections
    in_range(sections, at, "section")
    return sections[at]


def map_to(pane: SectionsPane, preset: Preset | None, *, unmap: bool) -> None:
    """Map the section to a preset; with `unmap`, a section that has it already loses it."""
    song, section, places = pane.song, pane.section, pane.places
    if song is None or section is None or preset is None:
        return

    def edit(rig: Rig) -> Rig:
        again = all(_section(rig, song.id, at).preset == preset.id for at in places)
        for at in places:
            rig = map_section(rig, song.id, at, None if again and unmap else preset.id)
        return rig

    pane.ask(f"map {_named(pane)} of {song.label}", edit)


def _named(pane: SectionsPane) -> str:
    """The sections that a key acts on, in words."""
    if len(pane.places) > 1:
        return count(len(pane.places), "section")
    return pane.section.name if pane.section is not None else ""


def _each(rig: Rig, places: list[int], edit: Callable[[Rig, int], Rig]) -> Rig:
    for at in places:
        rig = edit(rig, at)
    return rig


def map_by_name(pane: SectionsPane) -> None:
    """Choose the preset from a list, and map; the cursor stays on the section."""
    song, section, places, rig = pane.song, pane.section, pane.places, pane.rig
    if song is None or section is None or rig is None:
        return

    def chosen(answer: str | None) -> None:
        if answer is not None:
            pane.ask(
                f"map {_named(pane)} of {song.label}",
                lambda rig: _each(
                    rig, places, lambda rig, at: map_section(rig, song.id, at, answer or None)
                ),
            )

    pane.app.push_screen(preset_pick(rig, section), chosen)


def choose_pedal(pane: SectionsPane) -> None:
    """Choose a pedal from a list, and step it."""
    rig, section = pane.rig, pane.section
    if rig is None or section is None:
        return

    def chosen(answer: str | None) -> None:
        if answer is not None:
            _step(pane, answer)

    pick = pedal_pick(rig, section, pane.last_pedal)
    if pick is None:
        _no_pedal(pane)
    else:
        pane.app.push_screen(pick, chosen)


def step_again(pane: SectionsPane) -> None:
    """Step the pedal that was stepped last; the only one, if there is but one."""
    pedals = switchable(pane.rig) if pane.rig else ()
    if not pedals:
        _no_pedal(pane)
    elif pane.last_pedal in pedals:
        _step(pane, pane.last_pedal)
    elif len(pedals) == 1:
        _step(pane, pedals[0])
    else:
        choose_pedal(pane)


def _no_pedal(pane: SectionsPane) -> None:
    pane.notify(
        "No section can step on a pedal: none outside the loops has its own "
        "footswitch, and the switcher can't toggle single loops.",
        markup=False,
    )


def _step(pane: SectionsPane, pedal: str) -> None:
    song, section, places, rig = pane.song, pane.section, pane.places, pane.rig
    if song is None or section is None or rig is None:
        return
    pane.last_pedal = pedal
    label = f"step {lookup(rig).label(pedal)} in {_named(pane)} of {song.label}"
    pane.ask(
        label,
        lambda rig: _each(rig, places, lambda rig, at: step_pedal(rig, song.id, at, pedal)),
    )


def _next(pane: SectionsPane) -> int:
    return pane.section_at + 1 if pane.section is not None else 0


def add(pane: SectionsPane) -> None:
    """Ask for a new section behind this one."""
    if pane.rig is not None and pane.song is not None:
        at = _next(pane)
        asked = partial(pane.ask, stand=lambda _: at)
        form = new_section_form(pane.rig, pane.song, at, asked)
        pane.app.push_screen(form)


def add_several(pane: SectionsPane) -> None:
    """Ask for several new sections behind this one."""
    if pane.rig is not None and pane.song is not None:
        at = _next(pane)
        form = several_form(
            pane.rig, pane.song, at, lambda label, edit: pane.ask(label, edit, lambda _: at)
        )
        pane.app.push_screen(form)


def write_line(pane: SectionsPane) -> None:
    """Open all sections of the song in one line."""
    if pane.rig is not None and pane.song is not None:
        pane.app.push_screen(line_form(pane.rig, pane.song, pane.ask))


def edit(pane: SectionsPane) -> None:
    """Open the form of the section."""
    if pane.rig is not None and pane.song is not None and pane.section is not None:
        pane.app.push_screen(section_form(pane.rig, pane.song, pane.section_at, pane.ask))


def duplicate(pane: SectionsPane) -> None:
    """Put a copy behind the section; copies of those ticked behind the last of them."""
    song, section, places = pane.song, pane.section, pane.places
    if song is not None and section is not None:
        behind = places[-1] + 1

        def edit(rig: Rig) -> Rig:
            rows = [_section(rig, song.id, at) for at in places]
            return put_sections(rig, song.id, rows, behind)

        pane.ask(f"copy {_named(pane)} of {song.label}", edit, lambda _: behind)


def delete(pane: SectionsPane) -> None:
    """Delete the section, or those ticked; undo brings them back."""
    song, section, places = pane.song, pane.section, pane.places
    if song is not None and section is not None:
        label = f"delete {_named(pane)} of {song.label}"
        pane.ask(label, lambda rig: delete_sections(rig, song.id, places), lambda _: places[0])
        pane.ticks.clear()


def shift(pane: SectionsPane, by: int) -> None:
    """Move the section, or those ticked, by one place; the cursor stays on its section."""
    song, section, at, places = pane.song, pane.section, pane.section_at, pane.places
    if song is not None and section is not None:
        order = moved_together(len(song.sections), places, by)
        label = f"move {_named(pane)} of {song.label}"
        pane.ask(
            label, lambda rig: move_sections(rig, song.id, places, by), lambda _: order.index(at)
        )


def add_bars(pane: SectionsPane, by: int) -> None:
    """Make the section longer or shorter by whole bars; something is always left of it."""
    song, section, places = pane.song, pane.section, pane.places
    if song is None or section is None:
        return

    def longer(rig: Rig, at: int) -> Rig:
        now = _section(rig, song.id, at)
        if now.bars + by <= 0:
            raise EditError(f"{now.name} would have no bars left: delete it with x instead")
        return set_section(rig, song.id, at, bars=now.bars + by)

    pane.ask(f"bars of {_named(pane)} of {song.label}", lambda rig: _each(rig, places, longer))


def turn_volume(pane: SectionsPane, by: int) -> None:
    """Turn the guitar's volume for the section; past 10 it is the preset's again."""
    song, section, places = pane.song, pane.section, pane.places
    if song is None or section is None:
        return

    def turned(rig: Rig, at: int) -> Rig:
        now = _section(rig, song.id, at)
        preset = lookup(rig).presets.get(now.preset or "")
        old = now.guitar_volume
        if old is None:
            old = preset.guitar_volume if preset else None
        new = (10 if by < 0 else None) if old is None else old + by
        volume = None if new is None or new > 10 else max(0, new)
        return set_section(rig, song.id, at, guitar_volume=volume)

    label = f"guitar volume of {_named(pane)} of {song.label}"
    pane.ask(label, lambda rig: _each(rig, places, turned))
