"""`rigtui cuts`: the cutting list, what to buy, and the work in order."""

from __future__ import annotations

import json
import textwrap
from argparse import Namespace
from collections.abc import Iterator

from rigtui.bench.cuts import CutPlan
from rigtui.bench.leads import leads_of
from rigtui.bench.words import cut_rows, known_leads, plan_of
from rigtui.bench.work import SOLDERING, minutes_for, plugs_to_buy
from rigtui.cli.bench_text import csv_text, is_bench
from rigtui.cli.chosen import opened
from rigtui.cli.outputs import put_or_write
from rigtui.cli.parser import BAD_USAGE
from rigtui.model.rig import Rig
from rigtui.model.text import visible

HEAD = ("from", "lead", "length_mm")


def run(arguments: Namespace) -> int:
    """Print or write the cutting list and return the exit status."""
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    rig = read[1]
    plan = plan_of(rig)
    if arguments.json:
        text = json.dumps(_data(rig, plan), ensure_ascii=True) + "\n"
    elif arguments.csv:
        text = csv_text(HEAD, [(cut.stock, *piece) for cut in plan.cuts for piece in cut.pieces])
    else:
        text = "\n".join(_lines(rig)) + "\n"
    return put_or_write(text, arguments.output, "such a list", is_bench, "rigtui cuts")


def _data(rig: Rig, plan: CutPlan) -> dict[str, object]:
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
        "minutes": minutes_for(rig, known_leads(rig)),
    }  # fmt: skip


def _lines(rig: Rig) -> Iterator[str]:
    for at, row in enumerate(cut_rows(rig)):
        text = visible(row.text)
        if row.what == "title":
            yield from ("", text) if at else (text,)
        elif row.what == "piece":
            yield f"        {text}"
        elif row.what == "note":
            yield from textwrap.wrap(text, 78, initial_indent="  ", subsequent_indent="  ")
        else:
            yield from textwrap.wrap(
                text, 76, initial_indent="  [ ] ", subsequent_indent="        "
            )
    yield ""
    yield from textwrap.wrap(SOLDERING, 78)
