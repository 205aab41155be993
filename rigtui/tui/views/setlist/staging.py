"""One key that switches a section's pedal early, or back on the beat."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.advice.stages import (
    could_be_early,
    stage_in_words,
    staged,
    stages,
    stages_into,
    taken_back,
)
from rigtui.model.lookup import lookup
from rigtui.model.text import listed
from rigtui.tui.views.setlist.panes import SectionsPane
from rigtui.tui.widgets.pick import Pick

if TYPE_CHECKING:
    from rigtui.advice.stages import Stage
    from rigtui.model.rig import Rig, Section, Song


def early(pane: SectionsPane) -> None:
    """Stage what nobody would hear; take it back where it is staged; else let the player choose."""
    song, section, at, rig = pane.song, pane.section, pane.section_at, pane.rig
    if song is None or section is None or rig is None:
        return
    fitting = [stage for stage in stages_into(rig, song, at) if stage.fits]
    if fitting:
        _stage(pane, rig, song, section, fitting)
    elif section.early:
        names = listed(map(lookup(rig).label, section.early))
        label = f"switch {names} at the change into {section.name} of {song.label}"
        done = f"{names}: back on the beat"
        pane.ask(label, lambda rig: taken_back(rig, song.id, at), done=done)
    else:
        _choose(pane, rig, song, section)


def _stage(pane: SectionsPane, rig: Rig, song: Song, section: Section, chosen: list[Stage]) -> None:
    names = listed(lookup(rig).label(stage.pedal) for stage in chosen)
    pane.ask(
        f"switch {names} early before {section.name} of {song.label}",
        lambda rig: staged(rig, chosen),
        done="; ".join(stage_in_words(rig, stage) for stage in chosen),
    )


def _choose(pane: SectionsPane, rig: Rig, song: Song, section: Section) -> None:
    """Have the player choose among pedals of which somebody might hear it."""
    choices = {stage.pedal: stage for stage in could_be_early(rig, song, pane.section_at)}
    if not choices:
        pane.say(_nothing(rig, song))
        return

    def chosen(answer: str | None) -> None:
        if answer is not None:
            _stage(pane, rig, song, section, [choices[answer]])

    words = [(pedal, stage_in_words(rig, stage)) for pedal, stage in choices.items()]
    pane.app.push_screen(Pick(f"Switch which pedal early, before {section.name}?", words), chosen)


def _nothing(rig: Rig, song: Song) -> str:
    said = "Switching a pedal early takes no press off the beat here"
    places = [str(stage.at + 1) for stage in stages(rig, song) if stage.fits]
    return f"{said}; it does in section {listed(dict.fromkeys(places))}" if places else said
