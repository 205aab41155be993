"""The questions of the bench: board, places, jacks, holes, leads, cable and plugs."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigtui.bench.layout import Device
from rigtui.bench.leads import Lead, lead_key, lead_words
from rigtui.bench.typical import PLUG_NAMES, PLUGS_MM
from rigtui.chain.graph import SWITCHER
from rigtui.model import EditError
from rigtui.model.edits import (
    add_hole,
    add_reel,
    set_bench,
    set_patch_lead,
    set_place,
    set_plug,
    set_reel,
)
from rigtui.model.edits.tables import made
from rigtui.model.layout import Bench, Hole, JackSpot, PatchLead, Place, PlugKind, PlugShape, Reel
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import number_text, visible
from rigtui.tui.views.base import View
from rigtui.tui.widgets.dialogs import Form
from rigtui.tui.widgets.pick import Pick
from rigtui.tui.widgets.table_form import fields_of, table_form

_SIDES = (("left", "left"), ("right", "right"), ("front", "front"), ("back", "back"),
          ("top", "on top"))  # fmt: skip


def _asker(view: View, rig: Rig) -> Callable[[str, Any], None]:
    """Ask for an edit; what is wrong with it is said while the form is still open."""

    def ask(label: str, edit: Any) -> None:
        edit(rig)
        view.request(label, edit)

    return ask


def bench_form(view: View, rig: Rig) -> Form:
    """The board, the cable, and the player's pace."""
    ask = _asker(view, rig)
    return table_form(
        "Board and cable", fields_of(Bench, rig.bench.model_dump()), Bench,
        lambda new: ask("edit the board and the cable", lambda r: set_bench(r, **new)),
        "Measure your own; the figures shown until then are typical (common practice).",
    )  # fmt: skip


def place_form(view: View, rig: Rig, device: Device) -> Form:
    """Where a device stands, its size and its turn."""
    ask = _asker(view, rig)
    left_out = ("device", "jacks") if device.name == SWITCHER else (
        "device", "jacks", "row", "pitch_mm"
    )  # fmt: skip
    start = device.place.model_dump() if device.place else {}
    name = visible(lookup(rig).label(device.name))
    size = f"{number_text(device.width)} x {number_text(device.depth)} mm"
    typical = "typical of its kind: measure yours" if device.typical else "as you measured it"
    return table_form(
        name, fields_of(Place, start, left_out), Place,
        lambda new: ask(f"place {name}", lambda r: set_place(r, device.name, **new)),
        f"{size}, {typical}. c says where its jacks are.",
    )  # fmt: skip


def jack_pick(rig: Rig, device: Device) -> Pick:
    """The jacks of a device with where each is."""
    choices = [
        (jack, f"{jack}: {spot.side}, {number_text(round(spot.along, 1))} mm along")
        for jack, spot in device.jacks.items()
    ]
    return Pick(f"Jacks of {visible(lookup(rig).label(device.name))}", choices)


def jack_form(view: View, rig: Rig, device: Device, jack: str) -> Form:
    """Where one jack of a device is."""
    ask, spot = _asker(view, rig), device.jacks[jack]
    own = {row.jack: row for row in device.place.jacks} if device.place else {}
    at = own[jack].at_mm if jack in own else None
    start = {"side": spot.side, "at_mm": at}

    def accept(new: dict[str, Any]) -> None:
        values = {"jack": jack, **start, **new}
        row = made(JackSpot, **{key: value for key, value in values.items() if value is not None})
        rows = tuple({**own, jack: row}.values())
        name = visible(lookup(rig).label(device.name))
        ask(f"move jack {jack} of {name}", lambda r: set_place(r, device.name, jacks=rows))

    fields = fields_of(JackSpot, start, ("jack",), {"side": _SIDES})
    return table_form(
        f"Jack {jack}", fields, JackSpot, accept, "Sides of the device when it is not turned."
    )


def hole_pick(rig: Rig) -> Pick:
    """The holes in the board; a new one, or one to fill."""
    choices = [("new", "a new hole")]
    choices += [
        (str(at), f"delete hole {at + 1}, at {number_text(hole.x_mm)}, {number_text(hole.y_mm)}")
        for at, hole in enumerate(rig.holes)
    ]
    return Pick("Holes for leads", choices)


def hole_form(view: View, rig: Rig) -> Form:
    """A new hole."""
    ask = _asker(view, rig)

    def accept(new: dict[str, Any]) -> None:
        x, y = new.get("x_mm") or 0, new.get("y_mm") or 0
        ask("add a hole", lambda r: add_hole(r, x, y))

    note = "A lead runs under the board if that is shorter, and needs two holes for it."
    return table_form("New hole", fields_of(Hole, {}), Hole, accept, note)


def lead_form(view: View, rig: Rig, lead: Lead) -> Form:
    """Everything that is known of a lead; lengths may be typed in centimetres or inches."""
    ask = _asker(view, rig)
    key = lead_key(lead)
    start = lead.record.model_dump() if lead.record else {}
    fields = fields_of(PatchLead, start, ("out", "into", "date"))
    return table_form(
        f"Lead {lead.number}: {visible(lead_words(rig, lead))}", fields, PatchLead,
        lambda new: ask(f"edit lead {lead.number}", lambda r: set_patch_lead(r, *key, **new)),
        "A length set by hand is cut exactly; slack is added to lengths by tape or by layout.",
    )  # fmt: skip


def reel_form(view: View, rig: Rig, at: int | None) -> Form:
    """A reel or offcut: a new one, or one that there is."""
    ask = _asker(view, rig)
    start = rig.reels[at].model_dump() if at is not None else {}
    fields = fields_of(Reel, start)

    def accept(new: dict[str, Any]) -> None:
        if at is not None:
            ask("edit the cable", lambda r: set_reel(r, at, **new))
            return
        if new.get("left_mm") is None:
            raise EditError("left_mm: how many millimetres of cable are there?")
        ask("add cable", lambda r: add_reel(r, **new))

    return table_form("Cable you have", fields, Reel, accept, "A reel of 10 m is 10000 mm.")


def plug_form(view: View, rig: Rig, shape: PlugShape) -> Form:
    """What is known of a shape of plug."""
    ask = _asker(view, rig)
    row = next((row for row in rig.plugs if row.shape == shape), None)
    usual = PLUGS_MM[shape]
    note = (
        f"Typical: {usual.width:g} mm wide, {usual.depth:g} deep, {usual.strip:g} stripped "
        "(common practice). Measure yours."
    )
    return table_form(
        f"Plugs: {PLUG_NAMES[shape]}", fields_of(PlugKind, row.model_dump() if row else {},
                                                 ("shape",)), PlugKind,
        lambda new: ask(f"edit {PLUG_NAMES[shape]} plugs", lambda r: set_plug(r, shape, **new)),
        note,
    )  # fmt: skip
