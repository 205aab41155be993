"""The bench: devices in each other's way, plugs without room, patch leads that nobody tested."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.bench.layout import Device, layout_of
from rigtui.bench.leads import lead_key, lead_words, plug_ends, unused_records
from rigtui.bench.needed import needed_edges
from rigtui.bench.plugs import PlugEnd
from rigtui.bench.typical import PLUG_NAMES
from rigtui.bench.words import no_room, some
from rigtui.bench.work import faults_of, passed
from rigtui.checks import names
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.guess import Guesser
from rigtui.checks.words import quoted
from rigtui.model import Rig
from rigtui.model.edits import drop_row
from rigtui.model.edits.tables import changed, swapped_in, with_table
from rigtui.model.layout import SWITCHER_DEVICE, PatchLead, PlugShape
from rigtui.model.lookup import lookup
from rigtui.model.places import place_at
from rigtui.model.text import count, listed, number_text, visible


def _overlap(view: RigView) -> Iterator[Hit]:
    for first, second in layout_of(view.rig).overlaps():
        wide, deep = first.outline.shared(second.outline)
        yield Hit(
            _place(view.rig, second),
            f"{_name(view, first)} and {_name(view, second)} overlap by {number_text(wide)} x "
            f"{number_text(deep)} mm",
            about=(_place(view.rig, first),),
        )


def _over_the_edge(view: RigView) -> Iterator[Hit]:
    layout = layout_of(view.rig)
    for device, over in layout.overhanging():
        yield Hit(
            _place(view.rig, device),
            f"{_name(view, device)} hangs {number_text(over)} mm over the edge of the board",
        )
    for at, hole in enumerate(layout.holes):
        if layout.board is not None and not layout.board.holds(hole):
            yield Hit(place_at("holes", at), f"Hole {at + 1} lies outside the board")
        for device in layout.placed:
            if device.outline.holds(hole):
                yield Hit(
                    place_at("holes", at),
                    f"Hole {at + 1} is under {_name(view, device)}, so no lead can go through it",
                )


def _jacks_off_device(view: RigView) -> Iterator[Hit]:
    for device, jack in layout_of(view.rig).rows_too_long():
        if device.place is None:
            continue
        length = device.depth if jack.side in ("left", "right") else device.width
        jacks = [name for name, place in device.jacks.items() if place is jack]
        yield Hit(
            _place(view.rig, device),
            f"{_name(view, device)} is {number_text(length)} mm along its {jack.side}, and its "
            f"jack {visible(listed(jacks))} is {_beyond(jack.along, length)}",
        )


def _beyond(along: float, length: float) -> str:
    over = -along if along < 0 else along - length
    return f"{number_text(round(over, 1))} mm beyond the end"


def _plug_no_room(view: RigView) -> Iterator[Hit]:
    groups: dict[tuple[str, PlugShape, str, PlugShape | None], list[str]] = {}
    for jack, end in plug_ends(view.rig).items():
        if end.trouble:
            key = (jack.box, end.shape, end.trouble, end.would_fit)
            groups.setdefault(key, []).append(jack.name)
    for (box, shape, trouble, fits), jacks in groups.items():
        device = layout_of(view.rig).devices[box]
        at = _place(view.rig, device) if device.place else "bench"
        says = visible(no_room(view.rig, box, jacks, PlugEnd(shape, trouble, would_fit=fits)))
        fix = Fix(f"use {PLUG_NAMES[fits]} plugs too", partial(_use, fits)) if fits else None
        yield Hit(at, says, fix)


def _use(shape: PlugShape, rig: Rig) -> Rig:
    return changed(rig, bench=changed(rig.bench, shapes=(*rig.bench.shapes, shape)))


def _records(rig: Rig) -> dict[tuple[str, str], tuple[int, PatchLead]]:
    """Rows of patch leads with their places; of two of one lead the first counts."""
    rows = reversed(list(enumerate(rig.patch_leads)))
    return {(row.out, row.into): (at, row) for at, row in rows}


def _failed_lead(view: RigView) -> Iterator[Hit]:
    records = _records(view.rig)
    for edge in needed_edges(view.rig) if view.rig.patch_leads else ():
        record = records.get(lead_key(edge))
        if record is None:
            continue
        faults = faults_of(record[1])
        if faults:
            yield Hit(
                place_at("patch_leads", record[0]),
                f"Patch lead {edge.number}, {visible(lead_words(view.rig, edge))}, failed its "
                f"test: {listed(faults)}",
            )


def _untested_lead(view: RigView) -> Iterator[Hit]:
    if not any(row.tip or row.sleeve or row.across for row in view.rig.patch_leads):
        return
    records, needed = _records(view.rig), needed_edges(view.rig)
    missing = [
        edge
        for edge in needed
        if (record := records.get(lead_key(edge))) is None or passed(record[1]) is None
    ]
    if missing:
        leads = [f"{edge.number} ({visible(lead_words(view.rig, edge))})" for edge in missing]
        yield Hit(
            "patch_leads",
            f"{count(len(missing), 'patch lead')} of the {len(needed)} that you need "
            f"{'is' if len(missing) == 1 else 'are'} not fully tested: {some(leads)}",
        )


def _stray_lead(view: RigView) -> Iterator[Hit]:
    strangers = {at for at, _, _ in _unknown_boxes(view)}
    for at in unused_records(view.rig):
        row = view.rig.patch_leads[at]
        if at not in strangers:
            yield Hit(
                place_at("patch_leads", at),
                f"The file lists a patch lead from {quoted(row.out)} to "
                f"{quoted(row.into)}, but the chain has no such lead",
                Fix("delete its entry", partial(_drop_rows, "patch_leads", (at,))),
            )


def _lead_twice(view: RigView) -> Iterator[Hit]:
    keys = [(row.out, row.into) for row in view.rig.patch_leads]
    for key in dict.fromkeys(keys):
        rows = [at for at, other in enumerate(keys) if other == key]
        if len(rows) > 1:
            yield Hit(
                place_at("patch_leads", rows[1]),
                f"The patch lead from {quoted(key[0])} to {quoted(key[1])} is recorded "
                f"{len(rows)} times; only the first record counts",
                Fix("keep the first record", partial(_drop_rows, "patch_leads", tuple(rows[1:]))),
            )


def _drop_rows(table: str, places: tuple[int, ...], rig: Rig) -> Rig:
    for at in sorted(places, reverse=True):
        rig = drop_row(rig, table, at)
    return rig


def _unknown_boxes(view: RigView) -> Iterator[tuple[int, str, str]]:
    """Rows of patch leads that name a device that is not there: place, key, device."""
    for at, row in enumerate(view.rig.patch_leads):
        for key in ("out", "into"):
            box = getattr(row, key).partition(" ")[0]
            if box != SWITCHER_DEVICE and box not in view.known.pedals:
                yield at, key, box


def _unknown_device(view: RigView) -> Iterator[Hit]:
    guess, rig = Guesser(), view.rig
    for at, place in enumerate(rig.places):
        if place.device != SWITCHER_DEVICE and place.device not in view.known.pedals:
            near = _near(guess, rig, place.device)
            free = near if near not in {row.device for row in rig.places} else None
            yield Hit(
                place_at("places", at),
                f"The layout places device {quoted(place.device)}, but there is no "
                f"such device; {_nearest(near)}",
                Fix(f"write {quoted(free)} instead", partial(_rename, at, free))
                if free
                else Fix("remove it from the layout", partial(_drop_rows, "places", (at,))),
            )
    for at, key, box in _unknown_boxes(view):
        near = _near(guess, rig, box)
        yield Hit(
            place_at("patch_leads", at),
            f"A patch lead's {key} is {quoted(getattr(rig.patch_leads[at], key))}, but "
            f"there is no device {quoted(box)}; {_nearest(near)}",
            Fix("delete its entry", partial(_drop_rows, "patch_leads", (at,))),
        )


def _rename(at: int, device: str, rig: Rig) -> Rig:
    rows = swapped_in(rig.places, at, changed(rig.places[at], device=device))
    return with_table(rig, "places", rows)


def _near(guess: Guesser, rig: Rig, word: str) -> str | None:
    return guess.word(word, (SWITCHER_DEVICE,)) or guess.row(word, rig.pedals)


def _nearest(near: str | None) -> str:
    return f"the nearest is {quoted(near)}" if near else "no name in the file comes close"


def _place(rig: Rig, device: Device) -> str:
    return place_at("places", next(at for at, row in enumerate(rig.places) if row is device.place))


def _name(view: RigView, device: Device) -> str:
    return visible(lookup(view.rig).label(device.name))


RULES = (
    Rule(
        id="unknown-name",
        severity="error",
        scope="rig",
        summary="The layout or a patch lead names a device that is not in the file.",
        why=names.RULES[0].why,
        source=names.RULES[0].source,
        check=_unknown_device,
    ),
    Rule(
        id="devices-overlap",
        severity="error",
        scope="rig",
        summary="Two devices overlap in the layout.",
        why="Only one of them can stand there, and the lengths of their leads are wrong.",
        source="arithmetic of their outlines; sizes are yours, or typical of the kind",
        check=_overlap,
    ),
    Rule(
        id="over-the-edge",
        severity="warning",
        scope="rig",
        summary="A device hangs over the board's edge, or a hole in the board can't be used.",
        why="A device that hangs over gets kicked and doesn't fit the case. No lead can "
        "go through a covered hole.",
        source="arithmetic of their outlines",
        check=_over_the_edge,
    ),
    Rule(
        id="jacks-off-device",
        severity="error",
        scope="rig",
        summary="A device's row of jacks is longer than its side.",
        why="The size, the pitch or the jack's place was measured wrong, so every length "
        "from there is wrong too.",
        source="arithmetic: jacks times pitch against the side",
        check=_jacks_off_device,
    ),
    Rule(
        id="plug-no-room",
        severity="warning",
        scope="rig",
        summary="A plug doesn't fit beside its neighbour. The finding names the plug that "
        "would fit.",
        why="You find out after soldering, and a plug forced in bends the jack.",
        source="half of both bodies and the clearance against the pitch; sizes are yours, or "
        "typical (common practice)",
        check=_plug_no_room,
    ),
    Rule(
        id="failed-lead",
        severity="error",
        scope="rig",
        summary="A patch lead that your songs need failed its test.",
        why="The signal stops there, in every sound that goes through the lead.",
        source="common practice: tip and sleeve closed from end to end, open to each other",
        check=_failed_lead,
    ),
    Rule(
        id="untested-lead",
        severity="warning",
        scope="rig",
        summary="You test your patch leads, but some that your songs need are not fully tested.",
        why="The lead nobody tested is the one you search for on stage.",
        source="common practice",
        check=_untested_lead,
    ),
    Rule(
        id="stray-lead",
        severity="advice",
        scope="rig",
        summary="The file has a length or a test for a patch lead that the chain doesn't have.",
        why="The chain has changed, so these measures belong to no lead on the board. The "
        "lead may be a spare.",
        source="Rig file format: a patch lead is known by its two jacks.",
        check=_stray_lead,
    ),
    Rule(
        id="lead-twice",
        severity="warning",
        scope="rig",
        summary="One patch lead has two records of its length or test.",
        why="Only the first record counts, so a newer test in the second is ignored.",
        source="Rig file format: a patch lead is known by its two jacks.",
        check=_lead_twice,
    ),
)
