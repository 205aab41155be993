"""The questions of the board: what a thing is, which loop a pedal goes into, and new things."""

from __future__ import annotations

from typing import Any, get_args

from rigtui.model import EditError, Rig
from rigtui.model.base import Kind
from rigtui.model.edits import (
    add_pedal,
    renumber_loop,
    set_amp,
    set_pedal,
    set_player,
    set_switcher,
    usual_place,
)
from rigtui.model.lookup import lookup
from rigtui.model.rig import Amp, Loop, Pedal, Player, Switcher
from rigtui.model.text import listed, visible
from rigtui.paper.wiring import SIDES, USES
from rigtui.tui.views.base import View
from rigtui.tui.views.board.rows import BoardRow, name_of
from rigtui.tui.widgets.dialogs import Form
from rigtui.tui.widgets.pick import Pick
from rigtui.tui.widgets.table_form import fields_of, table_form

KINDS: dict[Kind, str] = {
    "tuner": "shows the pitch, mutes the rest",
    "volume": "turns the signal down with the foot",
    "wah": "sweeps a peak with the foot",
    "compressor": "evens out loud and soft",
    "pitch": "octaves and harmonies",
    "fuzz": "the roughest gain, close to the guitar",
    "overdrive": "light to medium gain",
    "distortion": "heavy gain",
    "boost": "louder, or more into the next pedal",
    "gate": "shuts when you stop playing",
    "eq": "more or less of bass, middle, treble",
    "modulation": "chorus, flanger, phaser, rotary, vibrato",
    "tremolo": "pulses in loudness",
    "delay": "echoes",
    "reverb": "room, hall, spring",
    "looper": "records and repeats what you play",
    "buffer": "drives long leads, changes nothing else",
    "preamp": "an amp's front end on the floor",
    "other": "anything else",
}
USUAL_FIGURES: dict[Kind, str] = {
    "delay": "typical: delay (ms) 300 to 500, feedback 0.3 for a few repeats",
    "reverb": "typical: decay (s) 1.5 for a room, 3 for a hall",
}
_CHAIN_KEYS = ("id", "side", "pedals")
"""Keys that are set by moving things on the board, and ids, which stay."""


def _kinds() -> tuple[tuple[str, str], ...]:
    """The kinds with a few words each."""
    return tuple((kind, f"{kind}: {KINDS[kind]}") for kind in get_args(Kind))


def edit_form(view: View, rig: Rig, row: BoardRow) -> Form:
    """A form with every key of a thing that is not set by moving it."""
    known = lookup(rig)

    def ask(label: str, edit: Any) -> None:
        edit(rig)  # says what is wrong while the form is still open
        view.request(label, edit)

    title = f"{name_of(rig, row)[:1].upper()}{name_of(rig, row)[1:]}"
    match row.what:
        case "pedal":
            pedal = known.pedals[row.id]
            choices = {"kind": _kinds(), "use": tuple(USES.items())}
            fields = fields_of(Pedal, pedal.model_dump(), _CHAIN_KEYS, choices)
            note = "; ".join(filter(None, (USUAL_FIGURES.get(pedal.kind), f"id: {pedal.id}")))
            return table_form(
                title, fields, Pedal,
                lambda new: ask(f"edit {pedal.label}", lambda r: set_pedal(r, pedal.id, **new)),
                note,
            )  # fmt: skip
        case "loop":
            number = int(row.id)
            fields = fields_of(Loop, known.loops[number].model_dump(), _CHAIN_KEYS)

            def renumber(new: dict[str, Any]) -> None:
                to = new.get("number", number)
                if to is None:
                    raise EditError("number: a loop needs one")
                ask(f"loop {number} is loop {to}", lambda r: renumber_loop(r, number, to))

            note = "Presets follow; if another loop has this number, the two swap."
            return table_form(title, fields, Loop, renumber, note)
        case "amp":
            fields = fields_of(Amp, rig.amp.model_dump())
            note = "Valve amps hold lethal voltage even unplugged: only a technician opens one."
            return table_form(
                title, fields, Amp,
                lambda new: ask("edit the amp", lambda r: set_amp(r, **new)), note,
            )  # fmt: skip
        case "switcher":
            old = rig.switcher.model_dump() if rig.switcher else {}
            return table_form(
                title, fields_of(Switcher, old), Switcher,
                lambda new: ask("edit the switcher", lambda r: set_switcher(r, **new)),
            )  # fmt: skip
        case _:
            fields = fields_of(Player, rig.player.model_dump())
            return table_form(
                "Your own figures", fields, Player,
                lambda new: ask("edit your figures", lambda r: set_player(r, **new)),
                "Measure them all yourself; the defaults are only a starting point.",
            )  # fmt: skip


def add_form(view: View, rig: Rig) -> Form:
    """A form for a new pedal, which goes where its kind usually stands."""
    choices = {"kind": _kinds(), "side": tuple(SIDES.items()), "use": tuple(USES.items())}
    start: dict[str, Any] = {"name": "", "kind": "overdrive", "side": "front", "use": None}
    others = [key for key in Pedal.model_fields if key not in start]
    fields = fields_of(Pedal, start, others, choices)

    def accept(new: dict[str, Any]) -> None:
        values = {**start, **new}
        if not values["name"]:
            raise EditError("name: a pedal needs one")

        def edit(old: Rig) -> Rig:
            return add_pedal(old, **values)

        edit(rig)
        name = visible(values["name"])
        why = usual_place(values["kind"]).reason
        view.request(f"add {name}", edit, done=f"{name} is where its kind usually goes: {why}")

    return table_form("New pedal", fields, Pedal, accept, "K and J move it from there.")


def loop_pick(rig: Rig, row: BoardRow) -> Pick:
    """The loops with what is in them; a pedal goes into one of them."""
    known = lookup(rig)
    choices = []
    for loop in rig.loops:
        inside = listed(known.label(pedal) for pedal in loop.pedals) or "empty"
        side = SIDES[loop.side]
        choices.append((str(loop.number), f"loop {loop.number}, {side}: {inside}"))
    return Pick(f"{visible(name_of(rig, row))} goes into", choices)


def side_pick() -> Pick:
    """The sides of the amp, for a new loop."""
    return Pick("A new loop", list(SIDES.items()))
