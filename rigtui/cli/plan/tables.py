"""Now and then side by side: presets by loops, presses of each song."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigtui.cli.terminal import Terminal
from rigtui.model.cells import cells, clip, fit
from rigtui.model.rig import Preset, Rig
from rigtui.plan.verdict.compare import SongRow, loops_on, preset_rows

_ON, _OFF, _NONE = "x", ".", " "
_MEMORY = 9


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


def song_table(title: str, rows: Sequence[SongRow], terminal: Terminal) -> Iterator[str]:
    """Presses of each song, in all and those beyond the first on a beat, now and then."""
    most = max((max(row.now, row.then) for row in rows), default=0)
    room = min(38, terminal.width - 50)
    bar = terminal.width - room - 33
    full, light = terminal.show("█"), terminal.show("░")
    heads = fit("played", 7, ">") + fit("presses", 10, ">") + fit("extra", 10, ">")
    yield terminal.paint(fit(title, room + 4), "bold") + terminal.paint(heads, "faint")
    for row in rows:
        scale = min(1.0, bar / most) if most else 0.0
        kept, was = (round(number * scale) for number in (min(row.now, row.then), row.now))
        marks = full * kept + light * max(0, was - kept)
        if row.then > row.now:
            marks += "+" * (round(row.then * scale) - kept)
        name = fit(terminal.show(row.title), room, "<", terminal.ellipsis)
        extra = row.before.extra_presses, row.after.extra_presses
        presses = _becomes(row.now, row.then, terminal)
        figures = fit(f"{row.times}x", 7, ">") + presses + _becomes(*extra, terminal)
        more_stored = row.before.unplayable - row.after.unplayable
        if more_stored > 0:
            marks = f"{more_stored} can't play now"
        yield f"    {name}{figures}  {marks}".rstrip()
    yield ""


def _becomes(now: int, then: int, terminal: Terminal) -> str:
    """Two figures in a column: "12 → 6", or one where they are the same."""
    return fit(terminal.show(f"{now} → {then}") if now != then else str(now), 10, ">")
