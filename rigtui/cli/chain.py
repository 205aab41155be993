"""`rigtui chain`: the signal path, as a picture and jack by jack."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Callable, Iterator
from typing import Any

from rigtui.chain import graph_of
from rigtui.chain.graph import Edge, WayStep
from rigtui.cli.chosen import NotThereError, named_row, opened
from rigtui.cli.outputs import put_or_write
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain
from rigtui.model.lookup import alone, lookup
from rigtui.model.rig import Rig, Section
from rigtui.model.text import visible
from rigtui.paper.chain_picture import chain_picture
from rigtui.sheets.svg import is_svg_file, svg_file


def run(arguments: Namespace) -> int:
    """Print or write the chain and return the exit status."""
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    try:
        section = _section(read[1], arguments)
    except NotThereError as error:
        complain(f"{arguments.file}: {error}")
        return BAD_USAGE
    text = _MAKERS[arguments.format](read[1], section)
    return put_or_write(text, arguments.output, "such a picture", _is_ours, "rigtui chain")


def _section(rig: Rig, arguments: Namespace) -> Section | None:
    """What sounds: a section of a song, or a preset alone; None where neither is asked for.

    Raises:
        NotThereError: there is no such preset, song or section.
    """
    if arguments.preset is not None:
        return alone(named_row("preset", arguments.preset, rig.presets))
    if arguments.section is None:
        return None
    song_id, dot, number = arguments.section.rpartition(".")
    if not dot or not number.isdecimal():
        raise NotThereError(f"--section takes SONG.NUMBER, as in song.3, not {arguments.section}")
    song = named_row("song", song_id, rig.songs)
    if not 1 <= int(number) <= len(song.sections):
        raise NotThereError(f"{song.id} has {len(song.sections)} sections, but no {number}")
    return song.sections[int(number) - 1]


def _text(rig: Rig, section: Section | None) -> str:
    lines = list(chain_picture(rig, section).lines)
    if section is not None:
        steps = _steps(lookup(rig).label, _way(rig, section))
        lines += ["", f"{visible(section.name)}, jack by jack"]
        lines += [f"  {visible(line)}" for line in steps]
    return "\n".join(lines) + "\n"


def _steps(label: Callable[[str], str], way: tuple[WayStep, ...]) -> Iterator[str]:
    """The way of a sound: each lead with its ends, and what each pedal does on the way."""
    for edge, engaged in way:
        start, end = (f"{label(jack.box)} {jack.name}" for jack in (edge.start, edge.end))
        if edge.kind == "lead":
            yield f"lead {edge.number}: {start} to {end}"
        elif edge.kind == "pedal":
            yield f"through {label(edge.start.box)}, which is {'on' if engaged else 'off'}"
        elif edge.kind == "straight":
            yield f"past loop {edge.number}"
        elif edge.kind == "amp":
            yield "through the amp's own preamp"


def _way(rig: Rig, section: Section) -> tuple[WayStep, ...]:
    sound, loop_of = lookup(rig).sound(section), lookup(rig).loop_of
    return graph_of(rig).way(sound, {loop_of[pedal] for pedal in sound if pedal in loop_of})


def _json(rig: Rig, section: Section | None) -> str:
    def told(edge: Edge) -> dict[str, Any]:
        return {"from": list(edge.start), "to": list(edge.end), "kind": edge.kind,
                "number": edge.number}  # fmt: skip

    data: dict[str, Any] = {"edges": [told(edge) for edge in graph_of(rig).edges]}
    if section is not None:
        way = _way(rig, section)
        data["way"] = [{**told(edge), "engaged": engaged} for edge, engaged in way]
    return json.dumps(data, ensure_ascii=True) + "\n"


def _svg(rig: Rig, section: Section | None) -> str:
    picture = chain_picture(rig, section)
    return svg_file(picture.drawing, picture.lines)


_MAKERS: dict[str, Callable[[Rig, Section | None], str]] = {
    "text": _text,
    "svg": _svg,
    "json": _json,
}


def _is_ours(head: bytes) -> bool:
    return is_svg_file(head) or head.startswith((b'{"edges"', b"Before the amp"))
