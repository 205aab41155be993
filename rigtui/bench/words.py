"""Words about patch leads, the same on screen, paper and standard output."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from rigtui.bench.cuts import CutPlan, cut_plan
from rigtui.bench.leads import Lead, jack_words, leads_of
from rigtui.bench.plugs import PlugEnd, plug_sizes
from rigtui.bench.typical import PLUG_NAMES
from rigtui.bench.work import SPARES, STEPS, faults_of, minutes_for, passed, plugs_to_buy
from rigtui.model import Rig
from rigtui.model.layout import PatchLead
from rigtui.model.lookup import lookup
from rigtui.model.text import count, listed, number_text

KNOWN_BY = {"hand": "set by hand", "tape": "by tape", "layout": "by layout", "": "not known"}
PASSED = {True: "passed", False: "FAILED", None: "not tested"}
NO_LENGTH = "place both devices on the board, or measure the way from jack to jack with a tape"
"""What to do about a length that is not known."""
_MOST_NAMED = 6
"""Jacks or leads that a sentence names one by one."""
OVER_THE_EDGE = "can only run past the edge of the board"


def mm(length: float) -> str:
    """A length in words: "185 mm", "185.5 mm"."""
    return f"{number_text(round(length, 1))} mm"


def no_room(rig: Rig, box: str, jacks: Sequence[str], plug: PlugEnd) -> str:
    """Say that a plug has no room, and which shape has.

    Args:
        rig: The rig.
        box: Id of the device that the plug is at.
        jacks: Names of the jacks where it is so.
        plug: The plug.
    """
    label = lookup(rig).label
    beside = "the next jack" if plug.trouble == box else label(plug.trouble)
    better = "no plug fits: move one of the devices, or set a wider jack pitch"
    if plug.would_fit is not None:
        better = f"use {PLUG_NAMES[plug.would_fit]} plugs"
    return (
        f"No room for a {PLUG_NAMES[plug.shape]} plug at {label(box)}, {some(jacks)}, "
        f"beside {beside}; {better}"
    )


def some(names: Sequence[str]) -> str:
    """Names of jacks or leads in a sentence, at most a few one by one."""
    more = len(names) - _MOST_NAMED
    return listed([*names[:_MOST_NAMED], f"{more} more"] if more > 0 else names)


def result_of_test(row: PatchLead | None) -> str:
    """How a lead did in its test: "passed", "FAILED: tip to sleeve is closed: a short"."""
    faults = faults_of(row) if row is not None else []
    said = PASSED[passed(row) if row is not None else None]
    return f"{said}: {listed(faults)}" if faults else said


def labels(rig: Rig) -> Iterator[tuple[int, str]]:
    """Yield number and text of the label for each end of each patch lead: the jack it goes into."""
    for lead in leads_of(rig):
        for jack in (lead.start, lead.end):
            yield lead.number, f"{lead.number} {jack_words(rig, jack)}"


class CutRow(NamedTuple):
    """A row of the cutting list."""

    what: Literal["title", "reel", "piece", "note", "plug", "step"]
    text: str
    at: int = 0
    """Of a reel its place in the file; of a plug its place among the shapes."""


def known_leads(rig: Rig) -> list[Lead]:
    """The leads whose length is known."""
    return [lead for lead in leads_of(rig) if lead.length_mm is not None]


def plan_of(rig: Rig) -> CutPlan:
    """The cutting plan of the leads whose length is known, remembered: it may take a second."""
    lengths = tuple((lead.number, lead.length_mm or 0) for lead in known_leads(rig))
    key = (lengths, rig.reels, rig.bench)
    if key not in _plans:
        if len(_plans) >= _MOST_PLANS:
            _plans.clear()
        _plans[key] = cut_plan(rig, lengths)
    return _plans[key]


_MOST_PLANS = 16
_plans: dict[tuple[object, ...], CutPlan] = {}


def cut_rows(rig: Rig) -> Iterator[CutRow]:
    """Yield the cutting list, what to buy, and the work in order; no row is wrapped."""
    leads, plan = known_leads(rig), plan_of(rig)
    yield CutRow("title", f"Cutting list: {count(len(leads), 'lead')}")
    yield from _cuts(rig, plan)
    if plan.missing:
        short = sum(length for _, length in plan.missing)
        named = ", ".join(f"{number} ({mm(length)})" for number, length in plan.missing)
        noun = "lead" if len(plan.missing) == 1 else "leads"
        yield CutRow("note", f"You have no cable for {noun} {named}: {mm(short)} in all.")
    if plan.cuts:
        proof = "the least possible" if plan.proved else f"at least {mm(plan.bound_mm)}"
        yield CutRow("note", f"Waste {mm(plan.waste_mm)}, {proof}.")
    unknown = [str(lead.number) for lead in leads_of(rig) if lead.length_mm is None]
    if unknown:
        noun = "lead" if len(unknown) == 1 else "leads"
        said = f"Not in the list, because their length is not known: {noun} {', '.join(unknown)}."
        yield CutRow("note", f"{said} To get it: {NO_LENGTH}.")
    yield CutRow("title", f"Plugs to buy, with {SPARES} spare of each")
    sizes, shapes = plug_sizes(rig), list(PLUG_NAMES)
    for shape, number in plugs_to_buy(rig, leads_of(rig)).items():
        text = f"{number} {PLUG_NAMES[shape]} (strip {mm(sizes[shape].strip)})"
        yield CutRow("plug", text, shapes.index(shape))
    yield CutRow("title", f"The work, {minutes_for(rig, leads):.0f} minutes at your pace")
    for at, step in enumerate(STEPS, 1):
        yield CutRow("step", f"{at} {step}", at)


def _cuts(rig: Rig, plan: CutPlan) -> Iterator[CutRow]:
    begun = set()
    for cut in plan.cuts:
        begun.add(cut.row)
        yield CutRow("reel", f"{cut.stock}, {mm(cut.length_mm)}:", cut.row)
        for number, length in cut.pieces:
            yield CutRow("piece", f"lead {number}: {mm(length)}")
        rest = f"rest {mm(cut.rest_mm)}, {'keep it' if cut.kept else 'waste'}"
        yield CutRow("piece", rest if cut.rest_mm else "nothing left")
    for at, reel in enumerate(rig.reels):
        if at not in begun:
            name = reel.name or f"cable {at + 1}"
            yield CutRow("reel", f"{name}, {mm(reel.left_mm)}: not needed", at)
