"""A rig without an editor: five short steps from nothing to a board that can be played.

Each step is one step of undo. Left at any step the rig keeps what was done, and the steps can be
taken up again: they begin with what the rig holds.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, get_args

from rigtui.model import EditError, Rig
from rigtui.model.base import Kind, Role, Side
from rigtui.model.edits import (
    add_loop,
    add_pedal,
    add_preset,
    delete_pedal,
    delete_preset,
    first_free_memory,
    set_amp,
    set_pedal,
    set_preset,
    set_switcher,
    take_memory,
)
from rigtui.model.edits.first_board import Place, placed, places_now, places_proposed
from rigtui.model.kind_words import FX_KINDS, kind_of_name, role_of_name
from rigtui.model.lookup import lookup
from rigtui.model.rig import Amp
from rigtui.model.text import listed, visible
from rigtui.paper.wiring import SIDES
from rigtui.tui.widgets.dialogs import Field, Form
from rigtui.tui.widgets.entries import Entries, Entry
from rigtui.tui.widgets.table_form import fields_of, table_form

if TYPE_CHECKING:
    from rigtui.tui.document_app import DocumentApp

Edit = Callable[[Rig], Rig]
_LABELS = ("the amp", "the switcher", "the pedals", "where each pedal goes", "the sounds")
"""What undo calls each step."""
MOST_LOOPS = 20
"""That can be asked for in one go; the Board adds more."""


_NOTHING_TYPED: Mapping[int, str] = MappingProxyType({})


def set_up(app: DocumentApp, step: int = 0, typed: Mapping[int, str] = _NOTHING_TYPED) -> None:
    """Ask the steps from one on, each with what the rig holds by then.

    Args:
        app: The program.
        step: The first step to ask.
        typed: By step, lines that were being typed when the player went back.
    """
    steps = (_amp, _switcher, _pedals, _places, _sounds)
    if app.document is None or step == len(steps):
        app.say_in_place("The board is ready: 2 shows its sounds, 3 takes your songs.", seconds=8)
        return
    screen, edit_of = steps[step](app, app.document.rig)
    if isinstance(screen, Entries):
        screen.typed = typed.get(step, "")

    def answered(answer: object) -> None:
        if isinstance(answer, list):
            app.apply(_LABELS[step], edit_of(answer))
        if isinstance(screen, Entries) and screen.back:
            set_up(app, step - 1, {**typed, step: screen.typed})
            return
        if answer in (None, False) or (isinstance(screen, Entries) and screen.left):
            app.say_in_place(
                "You left the steps here; w on the Board goes on with them.", seconds=8
            )
            return
        set_up(app, step + 1, typed)

    app.ask(screen, answered)


def _no_entries(entries: list[Entry]) -> Edit:
    return lambda rig: rig


def _title(step: int, text: str) -> str:
    return f"Step {step} of 5: {text}"


def _amp(app: DocumentApp, rig: Rig) -> tuple[Any, Callable[[list[Entry]], Edit]]:
    asked = ("name", "fx_loop", "channels", "channel_switch")
    left_out = [key for key in Amp.model_fields if key not in asked]
    form = table_form(
        _title(1, "the amp"),
        fields_of(Amp, rig.amp.model_dump(), left_out),
        Amp,
        lambda new: _apply(app, "the amp", lambda r: set_amp(r, **new)),
        "Channels by name, with commas between; nothing if it has only one. Does the "
        "switcher change them with the preset, or do you step on the amp's own "
        "footswitch?",
    )
    return form, _no_entries


def _apply(app: DocumentApp, label: str, edit: Edit) -> None:
    """Do an edit.

    Raises:
        EditError: it cannot be done; nothing has changed.
    """
    assert app.document is not None
    edit(app.document.rig)  # says what is wrong while the form is still open
    app.apply(label, edit)


def _switcher(app: DocumentApp, rig: Rig) -> tuple[Any, Callable[[list[Entry]], Edit]]:
    old = rig.switcher
    loops = {side: sum(loop.side == side for loop in rig.loops) for side in SIDES}
    fx = loops["fx"] if rig.loops or not rig.amp.fx_loop else 2
    fields = [
        Field("name", "Name", old.name if old else "", help="What you call it."),
        Field("front", "Loops before amp", str(loops["front"] or 4),
              help="Send and return pairs between guitar and amp."),
        Field("fx", "Loops in fx loop", str(fx),
              help="Send and return pairs in the amp's effects loop."),
        Field("memories", "Memories", str(old.memories if old else 8),
              help="How many presets it stores."),
        Field("bank_size", "Switches per bank", str(old.bank_size if old else 4),
              help="How many footswitches recall presets."),
    ]  # fmt: skip

    def submit(given: dict[str, str]) -> str | None:
        try:
            numbers = {key: _whole(key, given[key]) for key in given if key != "name"}

            def edit(r: Rig) -> Rig:
                r = set_switcher(r, name=given["name"].strip(), memories=numbers["memories"],
                                 bank_size=numbers["bank_size"])  # fmt: skip
                return _with_loops(_with_loops(r, "front", numbers["front"]), "fx", numbers["fx"])

            _apply(app, "the switcher", edit)
        except EditError as error:
            return str(error)
        return None

    note = "To have fewer loops, delete them on the Board."
    return Form(_title(2, "the switcher"), fields, submit, note if rig.loops else ""), _no_entries


def _whole(key: str, text: str) -> int:
    if not text.strip().isdecimal() or len(text.strip()) > 4:
        raise EditError(f"{key.replace('_', ' ')} must be a whole number, not {text.strip()}")
    return int(text)


def _with_loops(rig: Rig, side: Side, wanted: int) -> Rig:
    """Add loops to a side until there are so many."""
    if wanted > MOST_LOOPS:
        raise EditError(f"{side}: at most {MOST_LOOPS} loops at once; the Board adds more")
    while sum(loop.side == side for loop in rig.loops) < wanted:
        rig = add_loop(rig, side)
    return rig


def _pedals(app: DocumentApp, rig: Rig) -> tuple[Any, Callable[[list[Entry]], Edit]]:
    kinds = [(kind, kind) for kind in get_args(Kind)]
    there = [Entry(pedal.label, pedal.kind, pedal.id) for pedal in rig.pedals]
    screen = Entries(
        _title(3, "your pedals"), there, kinds, _pedal_typed,
        "rigtui guesses the kind from the name. Correct it with left and right, or "
            "type it after a colon: Old faithful: fuzz", "a pedal's name",
    )  # fmt: skip

    def edit_of(entries: list[Entry]) -> Edit:
        def edit(r: Rig) -> Rig:
            kept = {entry.key for entry in entries}
            for pedal in rig.pedals:
                if pedal.id not in kept:
                    r = delete_pedal(r, pedal.id)
            for entry in entries:
                if entry.key:
                    r = set_pedal(r, entry.key, kind=entry.choice)
                else:
                    fx = entry.choice in FX_KINDS and r.amp.fx_loop
                    r = add_pedal(r, entry.text, entry.choice, "fx" if fx else "front")  # type: ignore[arg-type]
            return r

        return edit

    return screen, edit_of


def _pedal_typed(text: str) -> Entry | str:
    """A pedal by name; behind a colon may stand its kind."""
    name, colon, kind = (part.strip() for part in text.rpartition(":"))
    if not colon:
        return Entry(text, kind_of_name(text))
    if not name:
        return "a pedal needs a name before the colon"
    if kind.casefold() in get_args(Kind):
        return Entry(name, kind.casefold())
    guess = kind_of_name(kind)
    return Entry(text, kind_of_name(text)) if guess == "other" else Entry(name, guess)


def _places(app: DocumentApp, rig: Rig) -> tuple[Any, Callable[[list[Entry]], Edit]]:
    now = places_now(rig)
    new = not lookup(rig).loop_of  # nothing is in a loop yet: propose
    places = places_proposed(rig) if new else now
    choices: list[tuple[str, str]] = [
        ("foot", "outside, own footswitch"), ("always", "outside, left on"),
        ("home", "at home"),
        *((str(loop.number), f"loop {loop.number}, {SIDES[loop.side]}") for loop in rig.loops),
    ]  # fmt: skip
    known = lookup(rig).pedals
    entries = [
        Entry(f"{known[name].label} ({known[name].kind})", str(places[name]), name)
        for name in lookup(rig).order
    ]
    note = (
        "A proposal: pedals that suit any sound stay outside the loops, the others get a loop "
        "each. Left and right put a pedal elsewhere."
        if new
        else "Where each pedal stands now."
    )

    def edit_of(entries: list[Entry]) -> Edit:
        chosen: dict[str, Place] = {
            entry.key: int(entry.choice) if entry.choice.isdecimal() else entry.choice  # type: ignore[misc]
            for entry in entries
        }
        return lambda r: placed(r, chosen)

    return Entries(_title(4, "where each goes"), entries, choices, None, note), edit_of


def _sounds(app: DocumentApp, rig: Rig) -> tuple[Any, Callable[[list[Entry]], Edit]]:
    roles = [(role, f"role: {role}") for role in get_args(Role)]
    known = lookup(rig)

    def line_of(name: str, loops: Collection[int], channel: str | None) -> str:
        inside = [known.label(pedal) for pedal in known.order if known.loop_of.get(pedal) in loops]
        amp = f"; amp {channel}" if channel else ""
        return f"{name}: {listed(inside) or 'no pedal'}{amp}"

    there = [
        Entry(line_of(preset.label, preset.loops, preset.channel), preset.role, preset.id)
        for preset in rig.presets
    ]

    def made(text: str) -> Entry | str:
        name, _, pedals = text.partition(":")
        if not name.strip():
            return "a sound needs a name before the colon"
        try:
            loops, channel = _typed_sound(rig, pedals)
        except EditError as error:
            return str(error)
        understood = line_of(name.strip(), loops, channel)
        return Entry(text, role_of_name(name), understood=understood)

    def edit_of(entries: list[Entry]) -> Edit:
        def edit(r: Rig) -> Rig:
            kept = {entry.key for entry in entries}
            for preset in rig.presets:
                if preset.id not in kept:
                    r = delete_preset(r, preset.id)
            for entry in entries:
                if entry.key:
                    r = set_preset(r, entry.key, role=entry.choice)
                    continue
                name, _, pedals = entry.text.partition(":")
                loops, channel = _typed_sound(r, pedals)
                r = add_preset(r, name.strip(), role=entry.choice, loops=loops)
                made_id = r.presets[-1].id
                if channel:
                    r = set_preset(r, made_id, channel=channel)
                free = first_free_memory(r)
                r = r if free is None else take_memory(r, made_id, free)
            return r

        return edit

    channel = f", {rig.amp.channels[-1]}" if rig.amp.channels else ""
    hint = f"a name, a colon and its pedals, like Lead: drive, echo{channel}"
    return Entries(
        _title(5, "your first sounds"), there, roles, made, _to_choose(rig), hint
    ), edit_of


def _to_choose(rig: Rig) -> str:
    """What a sound can be made of."""
    known = lookup(rig)
    inside = listed(known.label(pedal) for pedal in known.order if pedal in known.loop_of)
    said = f"In the loops: {inside or 'nothing yet'}. Part of a name is enough."
    if rig.amp.channels:
        names = listed((visible(name) for name in rig.amp.channels), "or")
        said += (
            f" You can name the amp's channel too: {names}. "
            f"Without one it is {visible(rig.amp.channels[0])}."
        )
    return said


def _typed_sound(rig: Rig, text: str) -> tuple[tuple[int, ...], str | None]:
    """The loops of the pedals that a line names, by a part of their names, and its channel.

    Raises:
        EditError: no pedal is called so, two are, or one is in no loop.
    """
    loops = set()
    channel = rig.amp.channels[0] if rig.amp.channels else None
    channels = {name.casefold(): name for name in rig.amp.channels}
    for word in filter(None, (part.strip() for part in text.split(","))):
        if word.casefold() in channels:
            channel = channels[word.casefold()]
            continue
        called = [pedal for pedal in rig.pedals if word.casefold() in pedal.label.casefold()]
        exact = [pedal for pedal in called if word.casefold() == pedal.label.casefold()]
        begun = [pedal for pedal in called if f" {word}".casefold() in f" {pedal.label}".casefold()]
        called = exact or begun or called
        if len(called) != 1:
            names = listed(visible(pedal.label) for pedal in called or rig.pedals)
            what = (
                f"{word} fits {names}" if called else f"there is no pedal {word}; there are {names}"
            )
            raise EditError(what)
        number = lookup(rig).loop_of.get(called[0].id)
        if number is None:
            raise EditError(
                f"{visible(called[0].label)} stands outside the loops: you step on it "
                "in a section, so it can't be part of a sound. Shift+Tab goes back to step 4, "
                "where you can give it a loop"
            )
        loops.add(number)
    return tuple(sorted(loops)), channel
