"""`rigtui cuts`: the cutting list, what to buy, and the work in order."""

from __future__ import annotations

import json
import textwrap
from argparse import Namespace
from collections.abc import Iterator

from rigtui.bench.cuts import CutPlan, cut_plan
from rigtui.bench.leads import Lead, leads_of
from rigtui.bench.plugs import plug_sizes
from rigtui.bench.typical import PLUG_NAMES
from rigtui.bench.work import SOLDERING, SPARES, STEPS, minutes_for, plugs_to_buy
from rigtui.cli.bench_text import csv_text, is_bench, mm
from rigtui.cli.chosen import opened
from rigtui.cli.outputs import put_or_write
from rigtui.cli.parser import BAD_USAGE
from rigtui.model.rig import Rig
from rigtui.model.text import count, visible

HEAD = ("from", "lead", "length_mm")


def run(arguments: Namespace) -> int:
    """Print or write the cutting list and return the exit status."""
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    rig = read[1]
    leads = [lead for lead in leads_of(rig) if lead.length_mm is not None]
    plan = cut_plan(rig, [(lead.number, lead.length_mm or 0) for lead in leads])
    if arguments.json:
        text = json.dumps(_data(rig, leads, plan), ensure_ascii=True) + "\n"
    elif arguments.csv:
        text = csv_text(HEAD, [(cut.stock, *piece) for cut in plan.cuts for piece in cut.pieces])
    else:
        text = "\n".join(_lines(rig, leads, plan)) + "\n"
    return put_or_write(text, arguments.output, "such a list", is_bench, "rigtui cuts")


def _data(rig: Rig, leads: list[Lead], plan: CutPlan) -> dict[str, object]:
    def pieces(rows: tuple[tuple[int, float], ...]) -> list[dict[str, float]]:
        return [{"lead": number, "length_mm": length} for number, length in rows]

    return {
        "cuts": [
            {"from": cut.stock, "length_mm": cut.length_mm, "pieces": pieces(cut.pieces),
             "rest_mm": cut.rest_mm, "kept": cut.kept}
            for cut in plan.cuts
        ],
        "missing": pieces(plan.missing),
        "waste_mm": plan.waste_mm, "bound_mm": plan.bound_mm, "proved": plan.proved,
        "unknown": [lead.number for lead in leads_of(rig) if lead.length_mm is None],
        "plugs_to_buy": plugs_to_buy(rig, leads_of(rig)),
        "minutes": minutes_for(rig, leads),
    }  # fmt: skip


def _lines(rig: Rig, leads: list[Lead], plan: CutPlan) -> Iterator[str]:
    every = leads_of(rig)
    yield f"Cutting list: {count(len(leads), 'lead')}"
    for cut in plan.cuts:
        yield f"  [ ] {visible(cut.stock)}, {mm(cut.length_mm)}:"
        for number, length in cut.pieces:
            yield f"        lead {number}: {mm(length)}"
        yield f"        rest {mm(cut.rest_mm)}, {'keep it' if cut.kept else 'waste'}"
    if plan.missing:
        short = sum(length for _, length in plan.missing)
        named = ", ".join(f"{number} ({mm(length)})" for number, length in plan.missing)
        yield from _wrapped(f"No cable at hand for leads {named}: {mm(short)} in all.")
    if plan.cuts:
        proof = "the least there can be" if plan.proved else f"at least {mm(plan.bound_mm)}"
        yield f"  Waste {mm(plan.waste_mm)}, {proof}."
    unknown = [lead.number for lead in every if lead.length_mm is None]
    if unknown:
        yield from _wrapped(
            f"Not in the list, length not known: leads {', '.join(map(str, unknown))}. "
            "`rigtui leads` says how to give them one."
        )
    yield from ("", f"Plugs to buy, with {SPARES} spare of each")
    for shape, number in plugs_to_buy(rig, every).items():
        strip = plug_sizes(rig)[shape].strip
        yield f"  [ ] {number} {PLUG_NAMES[shape]} (strip {mm(strip)})"
    yield from ("", f"The work, {minutes_for(rig, leads):.0f} minutes at your pace")
    for at, step in enumerate(STEPS, 1):
        yield from textwrap.wrap(
            f"{at} {step}", 76, initial_indent="  [ ] ", subsequent_indent="        "
        )
    yield ""
    yield from textwrap.wrap(SOLDERING, 78)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, 78, initial_indent="  ", subsequent_indent="  ")
