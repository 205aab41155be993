"""`rigtui leads`: every patch lead with its jacks, its length, how that is known, and its plugs."""

from __future__ import annotations

import json
from argparse import Namespace
from typing import Any

from rigtui.bench.leads import Lead, jack_key, lead_words, leads_of
from rigtui.bench.typical import PLUG_NAMES
from rigtui.bench.words import KNOWN_BY, NO_LENGTH, PASSED, labels, mm, no_room
from rigtui.bench.work import tested
from rigtui.cli.bench_text import csv_text, is_bench
from rigtui.cli.chosen import opened
from rigtui.cli.outputs import put_or_write
from rigtui.cli.parser import BAD_USAGE
from rigtui.model.cells import wrap
from rigtui.model.rig import Rig
from rigtui.model.text import count, visible

HEAD = ("lead", "out", "into", "length_mm", "known_by", "plug_out", "plug_into", "test")


def run(arguments: Namespace) -> int:
    """Print or write the leads and return the exit status."""
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    rig = read[1]
    leads = leads_of(rig)
    if arguments.labels and arguments.csv:
        text = csv_text(("lead", "label"), list(labels(rig)))
    elif arguments.labels and arguments.json:
        rows = [{"lead": number, "label": label} for number, label in labels(rig)]
        text = json.dumps({"labels": rows}, ensure_ascii=True) + "\n"
    elif arguments.labels:
        text = _labels(rig)
    elif arguments.json:
        text = json.dumps({"leads": [as_data(lead) for lead in leads]}, ensure_ascii=True) + "\n"
    elif arguments.csv:
        text = csv_text(HEAD, ([row[column] for column in HEAD] for row in map(as_data, leads)))
    else:
        text = _text(rig, leads)
    return put_or_write(text, arguments.output, "such a list", is_bench, "rigtui leads")


def as_data(lead: Lead) -> dict[str, Any]:
    """A lead as plain data; lengths in millimetres, null where not known."""
    return {
        "lead": lead.number,
        "out": jack_key(lead.start),
        "into": jack_key(lead.end),
        "length_mm": lead.length_mm,
        "known_by": lead.how or None,
        "plug_out": lead.plugs[0].shape,
        "plug_into": lead.plugs[1].shape,
        "test": {True: "passed", False: "failed", None: None}[tested(lead)],
        "no_room_beside": [plug.trouble or None for plug in lead.plugs],
        "would_fit": [plug.would_fit for plug in lead.plugs],
    }


def _text(rig: Rig, leads: tuple[Lead, ...]) -> str:
    lines = [f"Patch leads: {len(leads)}"]
    for lead in leads:
        length = "length not known" if lead.length_mm is None else mm(lead.length_mm)
        lines.append(f"{lead.number:4}  {visible(lead_words(rig, lead))}")
        plugs = " to ".join(PLUG_NAMES[plug.shape] for plug in lead.plugs)
        known = f" ({KNOWN_BY[lead.how]})" if lead.how else ""
        lines.append(f"      {length}{known}; {plugs}; {PASSED[tested(lead)]}")
        if lead.over_the_edge:
            lines.append("      finds its way only beyond the edge of the board")
        for plug, jack in zip(lead.plugs, (lead.start, lead.end)):
            if plug.trouble:
                lines += wrap(visible(no_room(rig, jack, plug)), 74, "      ")
    unknown = sum(lead.length_mm is None for lead in leads)
    if unknown:
        said = f"{count(unknown, 'length')} not known: {NO_LENGTH} (screen 6, or the rig file)."
        lines += ["", *wrap(said, 78)]
    return "\n".join(lines) + "\n"


def _labels(rig: Rig) -> str:
    texts = [visible(text) for _, text in labels(rig)]
    return "\n".join([f"Labels: {len(texts)}, for both ends of each lead", *texts]) + "\n"
