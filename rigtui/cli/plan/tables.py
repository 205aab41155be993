"""Now and then side by side: loops, presets by loops, moves of each song."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigtui.cli.terminal import Terminal
from rigtui.model.cells import cells, clip, fit, wrap
from rigtui.model.lookup import lookup
from rigtui.model.rig import Loop, Preset, Rig
from rigtui.plan.ask.evening import Evening
from rigtui.plan.verdict.compare import (
    loop_rows,
    loops_on,
    outside_of,
    preset_rows,
    signal_order,
    song_rows,
)

_HEAD = 14
_ON, _OFF, _NONE = "x", ".", " "
_MEMORY = 9


def loop_table(now: Rig, then: Rig, terminal: Terminal) -> Iterator[str]:
    """Which pedals are in which loop, and which are outside, now and then."""
    width = (terminal.width - _HEAD - 2) // 2
    yield _titles("Loops", _HEAD, width, terminal)
    for row in loop_rows(now, then):
        side = row.side
        head = f"  {row.number:2} {side}"
        yield from _pair(head, _inside(now, row.now), _inside(then, row.then), width, terminal)
    (outside, left_on), (outside_then, left_on_then) = outside_of(now), outside_of(then)
    for head, here, there in (
        ("  outside", outside, outside_then),
        ("  left on", left_on, left_on_then),
    ):
        if here or there:
            yield from _pair(head, _named(now, here), _named(then, there), width, terminal)
    orders = signal_order(now), signal_order(then)
    for side in orders[0]:
        if orders[0][side] != orders[1][side]:
            before, after = (_named(rig, order[side]) for rig, order in zip((now, then), orders))
            yield from _pair(f"  {side} order", before, after, width, terminal)
    yield ""


def _inside(rig: Rig, loop: Loop | None) -> str:
    if loop is None:
        return "(no such loop)"
    return _named(rig, loop.pedals) if loop.pedals else "(empty)"


def _named(rig: Rig, pedals: Sequence[str]) -> str:
    return ", ".join(lookup(rig).label(pedal) for pedal in pedals) or "none"


def _titles(title: str, head: int, width: int, terminal: Terminal) -> str:
    names = f"{fit('now', width)} {terminal.paint('as planned', 'faint')}"
    return terminal.paint(fit(title, head), "bold") + names


def _pair(head: str, now: str, then: str, width: int, terminal: Terminal) -> Iterator[str]:
    """One row of two texts, each broken into as many lines as it needs."""
    left, right = wrap(terminal.show(now), width), wrap(terminal.show(then), width)
    for at in range(max(len(left), len(right))):
        first, second = (texts[at] if at < len(texts) else "" for texts in (left, right))
        mark = "*" if at == 0 and now != then else " "
        start = fit(head if at == 0 else "", _HEAD - 2) + f"{mark} "
        yield f"{start}{fit(first, width)} {second}".rstrip()


def preset_table(now: Rig, then: Rig, terminal: Terminal) -> Iterator[str]:
    """The matrix of presets and loops, now and then."""
    before, after = [loop.number for loop in now.loops], [loop.number for loop in then.loops]
    each = 3 if max((*before, *after, 0)) > 9 else 2
    both = before != after or any(
        row.now is None or row.then is None or row.now.loops != row.then.loops
        for row in preset_rows(now, then)
    )
    room = terminal.width - _MEMORY - 2 - each * len(after)
    left = both and room - each * len(before) - 2 >= 16
    room -= each * len(before) + 2 if left else 0
    name = max(8, min(30, room))
    heads = "".join(fit(str(number), each, ">") for number in before) + "  " if left else ""
    heads += "".join(fit(str(number), each, ">") for number in after)
    if left:
        titles = fit("now", each * len(before) + 2) + "as planned"
        yield fit(terminal.show("Presets"), name + _MEMORY + 2) + terminal.paint(titles, "faint")
    yield (
        terminal.paint(fit("" if left else "Presets", name + 2) + fit("memory", _MEMORY), "bold")
        + heads
    )
    for row in preset_rows(now, then):
        gone = " (goes)" if row.then is None else " (new)" if row.now is None else ""
        label = clip(terminal.show(row.label), name - cells(gone) - 1, terminal.ellipsis) + gone
        line = "  " + fit(label, name) + fit(_memory(row.now, row.then, terminal), _MEMORY)
        if left:
            line += _marks(row.now, before, each) + "  "
        yield (line + _marks(row.then, after, each)).rstrip()
    yield ""


def _memory(now: Preset | None, then: Preset | None, terminal: Terminal) -> str:
    old, new = (str(p.memory) if p and p.memory else "-" for p in (now, then))
    if then is None:
        return old
    return new if old == new or now is None else terminal.show(f"{old}→{new}")


def _marks(preset: Preset | None, numbers: Sequence[int], each: int) -> str:
    if preset is None:
        return _NONE * each * len(numbers)
    return "".join(fit(_ON if on else _OFF, each, ">") for on in loops_on(preset, numbers))


def song_table(now: Rig, then: Rig, evening: Evening, terminal: Terminal) -> Iterator[str]:
    """Moves of each song, now and then."""
    rows = song_rows(now, then, evening)
    most = max((max(row.now, row.then) for row in rows), default=0)
    title = min(38, terminal.width - 44)
    bar = terminal.width - title - 24
    full, light = terminal.show("█"), terminal.show("░")
    yield terminal.paint(fit("Moves of each song", title + 4), "bold") + terminal.paint(
        fit("played", 7, ">") + fit("now", 5, ">") + fit("then", 6, ">"), "faint"
    )
    for row in rows:
        scale = min(1.0, bar / most) if most else 0.0
        kept, was = (round(number * scale) for number in (min(row.now, row.then), row.now))
        marks = full * kept + light * max(0, was - kept)
        if row.then > row.now:
            marks += "+" * (round(row.then * scale) - kept)
        label = fit(terminal.show(row.title), title, "<", terminal.ellipsis)
        figures = (
            fit(f"{row.times}x", 7, ">") + fit(str(row.now), 5, ">") + fit(str(row.then), 6, ">")
        )
        yield f"    {label}{figures}  {marks}".rstrip()
    yield ""
