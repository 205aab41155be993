"""The rows of the board: what stands where from the guitar to the amp, a row for each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from textual.content import Content

from rigtui.chain import graph_of
from rigtui.chain.graph import AMP, GUITAR
from rigtui.chain.line import LineStop, LoopStop, signal_line
from rigtui.model.base import SIDES
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.rig import Pedal, Preset, Rig
from rigtui.model.text import count, listed
from rigtui.paper.chain_picture import SIDES as SIDE_TITLES
from rigtui.paper.wiring import SIDES as SIDE_WORDS
from rigtui.paper.wiring import USES
from rigtui.tui.text import fit, plain
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow

_NOWHERE = "Not in the signal"
_NAME, _KIND, _USE, _STATE = 32, 12, 20, 14
_WIDE = 110
PEDAL_TRAITS = {
    "tap": "tap tempo",
    "trails": "trails",
    "buffered": "buffered",
    "low_impedance": "wants the guitar straight",
    "line_level": "takes line level",
}
"""What is so of a pedal, by its key in the rig file."""


class BoardRow(NamedTuple):
    """What a row is about."""

    what: Literal["player", "pedal", "loop", "amp", "switcher", "title"]
    id: str = ""
    """A pedal's id or a loop's number; of a title what it says."""
    inside: bool = False
    """Whether it is a pedal in a loop."""


def rows_on(rig: Rig) -> list[BoardRow]:
    """Return what the board has, in signal order; what stands nowhere comes last."""
    rows = [*_in_line(rig), BoardRow("switcher")]
    there = {(row.what, row.id) for row in rows}
    rest = [BoardRow("loop", str(loop.number)) for loop in rig.loops]
    rest += [BoardRow("pedal", pedal.id) for pedal in rig.pedals]
    lost = [row for row in rest if (row.what, row.id) not in there]
    return [*rows, BoardRow("title", _NOWHERE), *lost] if lost else rows


def _in_line(rig: Rig) -> Iterator[BoardRow]:
    known, line = lookup(rig), signal_line(graph_of(rig))
    for stop in line["front"]:
        yield from _rows_of(stop, known)
    fx = line.get("fx", ())
    if fx:
        yield BoardRow("title", SIDE_TITLES["fx"])
    for stop in fx:
        if stop not in (fx[0], fx[-1]):  # its send and return: the amp has its row already
            yield from _rows_of(stop, known)


def _rows_of(stop: LineStop | LoopStop, known: Lookup) -> Iterator[BoardRow]:
    if isinstance(stop, LoopStop):
        if stop.number in known.loops:
            yield BoardRow("loop", str(stop.number))
        yield from (BoardRow("pedal", pedal.box, inside=True) for pedal in stop.pedals)
    elif stop.box == GUITAR:
        yield BoardRow("player")
    elif stop.box == AMP:
        yield BoardRow("amp")
    else:
        yield BoardRow("pedal", stop.box)


def name_of(rig: Rig, row: BoardRow) -> str:
    """What a thing is called in a sentence."""
    match row.what:
        case "player":
            return "you and your guitar"
        case "pedal":
            return lookup(rig).label(row.id)
        case "loop":
            return f"loop {row.id}"
        case "amp":
            return rig.amp.name or "the amp"
        case "switcher":
            return (rig.switcher.name if rig.switcher else "") or "the switcher"
        case _:
            return row.id


def facts_of(rig: Rig, row: BoardRow) -> Iterator[str]:
    """Say what a thing does on this board, in a line or two."""
    known = lookup(rig)
    if row.what == "loop":
        on = sum(int(row.id) in preset.loops for preset in rig.presets)
        side = SIDE_WORDS[known.loops[int(row.id)].side]
        yield f"{side}; on in {on} of {count(len(rig.presets), 'preset')}; e changes its number"
    elif row.what == "pedal":
        pedal, number = known.pedals[row.id], known.loop_of.get(row.id)
        if number is None:
            sections = sum(
                pedal.id in section.plus for song in rig.songs for section in song.sections
            )
            yield f"outside, {SIDE_WORDS[pedal.side]}; stepped on in {count(sections, 'section')}"
        else:
            on = sum(number in preset.loops for preset in rig.presets)
            yield f"in loop {number}, {SIDE_WORDS[pedal.side]}; on in {count(on, 'preset')}"
        yield listed(filter(None, (*_figures(pedal), pedal.note)))
    elif row.what == "player":
        yield "how long your presses and hands take, and how much you allow: e changes them"
    elif row.what == "amp":
        loop = "with an effects loop" if rig.amp.fx_loop else "without an effects loop"
        yield f"{loop}; channels: {listed(rig.amp.channels) or 'none named'}"
    elif rig.switcher is not None:
        banks = f"{count(rig.switcher.banks, 'bank')} of {rig.switcher.bank_size}"
        yield f"{rig.switcher.memories} memories in {banks}"


class BoardList(NamedTuple):
    """What the list of the board shows."""

    columns: list[GridColumn]
    rows: list[GridRow]


def board_list(rig: Rig, rows: list[BoardRow], preset: Preset | None, width: int) -> BoardList:
    """Return the rows of the board; with a preset also what of it is on."""
    known = lookup(rig)
    on = frozenset(known.preset_sound(preset)) if preset is not None else None
    loops = frozenset(preset.loops) if preset is not None else frozenset()
    with_note = width >= _WIDE
    # A sound that is lit must be seen on a narrow screen too: the use of each is told below.
    with_use = preset is None or width >= _NAME + _KIND + _USE + _STATE
    columns = [
        GridColumn(("Signal, from the guitar on",), _NAME + 8 if with_note else _NAME),
        GridColumn(("Kind",), _KIND, pick=False),
    ]
    if with_use:
        columns.append(GridColumn(("Use",), _USE, pick=False))
    if preset is not None:
        columns.append(GridColumn((f"{fit(preset.label, _STATE - 1)} ",), _STATE, pick=False))
    if with_note:
        columns.append(GridColumn(("Note",), width - sum(c.width for c in columns), pick=False))
    shown = []
    for row in rows:
        if row.what == "title":
            shown.append(GridRow(note=f" {row.id}"))
            continue
        state = _state(known, row, on, loops)
        lit = "grid--on" if state == "on" else "grid--dim" if state in ("off", "past") else ""
        name, kind, use = _cells(rig, known, row)
        cells = [(name, lit or ("grid--strong" if row.what != "pedal" else "")), (kind, "")]
        cells += [(use, "")] if with_use else []
        cells += [(state, lit)] if preset is not None else []
        cells += [(_note(rig, known, row), "")] if with_note else []
        texts, looks = zip(*cells)
        shown.append(GridRow(texts, looks))
    return BoardList(columns, shown)


def _state(known: Lookup, row: BoardRow, on: frozenset[str] | None, loops: frozenset[int]) -> str:
    """Whether a thing is on with the preset: a loop that is off is passed by."""
    if on is None or row.what not in ("pedal", "loop"):
        return ""
    if row.what == "loop":
        return "on" if int(row.id) in loops else "past"
    return "on" if row.id in on else "off"


def _cells(rig: Rig, known: Lookup, row: BoardRow) -> tuple[str, str, str]:
    match row.what:
        case "player":
            return " Guitar", "you", "your own figures"
        case "amp":
            channels = len(rig.amp.channels)
            kind = f"{channels} channels" if channels > 1 else "amp"
            return f" Amp: {rig.amp.name}".rstrip(": "), kind, ""
        case "switcher":
            if rig.switcher is None:
                return " No switcher yet", "switcher", "e sets one up"
            memories = f"{rig.switcher.memories} memories"
            return f" Switcher: {rig.switcher.name}".rstrip(": "), memories, ""
        case "loop":
            loop = known.loops[int(row.id)]
            return f" Loop {row.id}", "loop", "" if loop.pedals else "empty"
        case _:
            pedal = known.pedals[row.id]
            indent = "     " if row.inside else " "
            return f"{indent}{pedal.label}", pedal.kind, "" if row.inside else USES[pedal.used]


def _note(rig: Rig, known: Lookup, row: BoardRow) -> str:
    if row.what == "pedal":
        pedal = known.pedals[row.id]
        return listed(filter(None, (*_figures(pedal), pedal.note)))
    if row.what == "switcher" and rig.switcher is not None:
        return f"{rig.switcher.banks} banks of {rig.switcher.bank_size}"
    if row.what == "amp":
        return listed(rig.amp.channels)
    return ""


def _figures(pedal: Pedal) -> Iterable[str]:
    if pedal.delay_ms is not None:
        yield f"{pedal.delay_ms:g} ms"
    if pedal.decay_seconds is not None:
        yield f"{pedal.decay_seconds:g} s of reverb"
    yield from (words for key, words in PEDAL_TRAITS.items() if getattr(pedal, key))


def signal_words(rig: Rig, preset: Preset | None, at: BoardRow | None, width: int) -> Content:
    """The signal as one line to read, broken between two things; the cursor's thing marked.

    With a preset what is on stands bold, what is off dim and in brackets of its own.
    """
    known = lookup(rig)
    on = frozenset(known.preset_sound(preset)) if preset is not None else None
    line = signal_line(graph_of(rig))
    words: list[Content] = []
    for side in SIDES:
        for stop in line.get(side, ()):
            if isinstance(stop, LoopStop):
                inside = [_pedal_words(known, pedal.box, on, at) for pedal in stop.pedals]
                inside = inside or [Content("empty")]
                inside[0] = Content(f"[{stop.number} ") + inside[0]
                inside[-1] += Content("]")
                words += inside
            elif stop.box in known.pedals:
                words.append(_pedal_words(known, stop.box, on, at))
            else:
                words.append(Content(stop.box if stop.box == GUITAR else f"amp {stop.jack}"))
    return _broken(words, width)


def _broken(words: list[Content], width: int) -> Content:
    """Things with an arrow between them, in lines that no name is broken over."""
    lines: list[Content] = []
    for at, word in enumerate(words):
        text = word + Content(" >") if at < len(words) - 1 else word
        if lines and lines[-1].cell_length + 1 + text.cell_length <= width:
            lines[-1] += Content(" ") + text
        else:
            lines.append(text)
    return Content("\n").join(lines)


def _pedal_words(
    known: Lookup, pedal: str, on: frozenset[str] | None, at: BoardRow | None
) -> Content:
    text = plain(known.label(pedal))
    if on is not None:
        text = text.stylize("bold $text-success" if pedal in on else "$text-muted")
        text = text if pedal in on else Content("(") + text + Content(")")
    if at is not None and at.what == "pedal" and at.id == pedal:
        text = text.stylize("reverse")
    return text
