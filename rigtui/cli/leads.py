"""`rigtui leads`: every patch lead with its jacks, its length, how that is known, and its plugs."""

from __future__ import annotations

import json
from argparse import Namespace
from typing import Any

from rigtui.bench.leads import Lead, jack_key, lead_words, leads_of
from rigtui.bench.typical import PLUG_NAMES
from rigtui.bench.words import (
    KNOWN_BY,
    NO_LENGTH,
    OVER_THE_EDGE,
    labels,
    mm,
    no_room,
    result_of_test,
)
from rigtui.bench.work import tested
from rigtui.cli.bench_text import csv_text, is_bench
from rigtui.cli.chosen import opened
from rigtui.cli.outputs import put_or_write
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain
from rigtui.model.cells import wrap
from rigtui.model.rig import Rig
from rigtui.model.text import count, visible
from rigtui.paper.layout_picture import layout_picture
from rigtui.sheets.svg import svg_file

HEAD = ("lead", "out", "into", "length_mm", "known_by", "plug_out", "plug_into", "test")


def run(arguments: Namespace) -> int:
    """Print or write the leads and return the exit status."""
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    text = _board(read[1], arguments) if arguments.board or arguments.svg else _list(
        read[1], arguments
    )  # fmt: skip
    if text is None:
        complain(f"{arguments.file}: no device has a place yet (screen 6, or [[places]])")
        return BAD_USAGE
    return put_or_write(text, arguments.output, "such a list", is_bench, "rigtui leads")


def _board(rig: Rig, arguments: Namespace) -> str | None:
    """The board from above; None where nothing has a place."""
    picture = layout_picture(rig)
    if picture is None:
        return None
    if arguments.svg:
        return svg_file(picture.drawing, picture.lines)
    return "\n".join(visible(line) for line in picture.lines) + "\n"


def _list(rig: Rig, arguments: Namespace) -> str:
    """The leads or their labels, in the form asked for."""
    if arguments.labels:
        if arguments.csv:
            return csv_text(("lead", "label"), list(labels(rig)))
        if arguments.json:
            rows = [{"lead": number, "label": label} for number, label in labels(rig)]
            return json.dumps({"labels": rows}, ensure_ascii=True) + "\n"
        return _labels(rig)
    leads = leads_of(rig)
    if arguments.json:
        return json.dumps({"leads": [as_data(lead) for lead in leads]}, ensure_ascii=True) + "\n"
    if arguments.csv:
        return csv_text(HEAD, ([row[column] for column in HEAD] for row in map(as_data, leads)))
    return _text(rig, leads)


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
        lines.append(f"      {length}{known}; {plugs}; {result_of_test(lead.record)}")
        if lead.over_the_edge:
            lines.append(f"      {OVER_THE_EDGE}")
        for plug, jack in zip(lead.plugs, (lead.start, lead.end)):
            if plug.trouble:
                told = no_room(rig, jack.box, [jack.name], plug)
                lines += wrap(visible(told), 74, "      ")
    unknown = sum(lead.length_mm is None for lead in leads)
    if unknown:
        said = f"{count(unknown, 'length')} not known: {NO_LENGTH} (screen 6, or the rig file)."
        lines += ["", *wrap(said, 78)]
    return "\n".join(lines) + "\n"


def _labels(rig: Rig) -> str:
    texts = [visible(text) for _, text in labels(rig)]
    return "\n".join([f"Labels: {len(texts)}, for both ends of each lead", *texts]) + "\n"
