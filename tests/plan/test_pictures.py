"""The board drawn in text: what is where, what is marked, and that no line is too wide."""

from __future__ import annotations

from typing import Any

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import loop, make_rig, pedal, preset, song, switcher

from rigtui.cli.terminal import Terminal
from rigtui.model.cells import cells
from rigtui.model.rig import Rig
from rigtui.plan.verdict.memories import stored_anew
from rigtui.plan.words.pictures import banks_picture, loops_picture

PEDALS = [
    pedal("comp", name="Slow squash compressor"),
    pedal("od", name="Low drive"),
    pedal("gate", name="Noise gate"),
    pedal("chorus", name="Wide chorus", side="fx"),
    pedal("echo", name="Echo", side="fx"),
    pedal("wah", name="Rocker wah"),
    pedal("vol", name="Volume", use="always"),
]
NOW: dict[str, Any] = {
    "switcher": switcher(7, 4),
    "pedals": PEDALS,
    "loops": [loop(1, "comp"), loop(2, "od", "gate"), loop(3, "chorus", side="fx"),
              loop(4, "echo", side="fx")],
    "chain": {"front": ["wah", "vol", 1, 2], "fx": [3, 4]},
    "presets": [preset("clean", 1, 3, name="Clean", memory=1, copies=[6]),
                preset("crunch", 2, name="Crunch", memory=2),
                preset("lead", 1, 2, name="Lead", memory=5),
                preset("stack", 2, 4, name="Stack")],
    "songs": [song("x", "clean", "crunch", "lead")],
}  # fmt: skip
THEN = {
    **NOW,
    "loops": [loop(1, "comp"), loop(2, "od", "gate"), loop(3, side="fx"),
              loop(4, "echo", side="fx")],
    "chain": {"front": ["wah", "vol", 1, 2], "fx": [3, 4, "chorus"]},
    "presets": [preset("clean", 1, name="Clean", memory=1, copies=[3, 7]),
                preset("crunch", 2, name="Crunch", memory=2),
                preset("lead", 1, 2, name="Lead", memory=6),
                preset("stack", 2, 4, name="Stack", memory=5)],
}  # fmt: skip


def drawn(now: Rig, then: Rig, width: int, **more: Any) -> list[str]:
    """Both pictures as text."""
    lines = [*loops_picture(now, then, width), *banks_picture(now, then, width, **more)]
    return [line.text for line in lines]


def test_both_pictures_at_80_columns() -> None:
    """Loop 3 is emptied; clean is stored as well in 3 and 7, lead in 6, stack in 5."""
    assert drawn(make_rig(**NOW), make_rig(**THEN), 80) == [
        "         1               2                   3               4",
        "  now   │Slow squash    │Low drive,     │amp│Wide chorus    │Echo           │",
        "        │compressor     │Noise gate     │   │               │               │",
        "  then  │Slow squash co…│Low drive, Noi…│amp│*(empty)       │Echo           │",
        "  outside: *Wide chorus, Rocker wah; left on: Volume",
        "                switch 1        switch 2        switch 3        switch 4",
        "  bank 1 now   │Clean          │Crunch         │-              │-              │",
        "         then  │*Clean         │Crunch         │*Clean         │-              │",
        "  bank 2 now   │Lead           │Clean          │-              │",
        "         then  │*Stack         │*Lead          │*Clean         │",
    ]


def test_what_is_marked_is_what_is_to_be_stored() -> None:
    """As many marks under the footswitches as memories to program, each a different one."""
    now, then = make_rig(**NOW), make_rig(**THEN)
    anew = [(memory, held.id) for memory, held in stored_anew(now, then)]
    assert anew == [(1, "clean"), (3, "clean"), (5, "stack"), (6, "lead"), (7, "clean")]
    marks = sum(line.text.count("*") for line in banks_picture(now, then, 80))
    assert marks == len(anew)


def test_what_stays_is_drawn_once() -> None:
    """A plan that plugs nothing otherwise has one row of loops, and each bank once."""
    now = make_rig(**NOW)
    lines = drawn(now, now, 80)
    assert not any("then" in line or "*" in line for line in lines)
    assert sum("Echo" in line for line in lines) == 1
    assert sum("Crunch" in line for line in lines) == 1


def test_banks_that_change_come_before_others() -> None:
    """Where not all banks are drawn, those that change are, and how many are left out is said."""
    banks = [preset(f"p{at}", name=f"Sound {at}", memory=2 * at + 1) for at in range(6)]
    now = make_rig(switcher=switcher(12, 2), presets=banks, songs=[song("x", "p0")])
    moved = [*banks[:5], preset("p5", name="Sound 5", memory=12)]
    then = make_rig(switcher=switcher(12, 2), presets=moved, songs=[song("x", "p0")])
    lines = [line.text for line in banks_picture(now, then, 80, most=2)]
    assert [line[2:8] for line in lines if "bank" in line[:8]] == ["bank 1", "bank 6"]
    assert lines[-1] == "  and 4 more banks"


NAMES = st.text(st.sampled_from("aé 弦音器🎸e\u0301"), min_size=1, max_size=40).filter(str.strip)


@examples(30)
@given(NAMES, st.integers(1, 12), st.integers(1, 12), st.integers(40, 140))
def test_no_line_is_too_wide_and_all_edges_stand_below_each_other(
    name: str, loops: int, size: int, width: int
) -> None:
    """Long and wide names (two cells a character) are cut and filled by cells, at any width.

    Source of the widths: Unicode Standard Annex 11, through wcwidth.
    """
    rig = make_rig(
        switcher=switcher(2 * size, size),
        pedals=[pedal(f"p{at}", name=name) for at in range(loops)],
        loops=[loop(at + 1, f"p{at}") for at in range(loops)],
        chain={"front": list(range(1, loops + 1))},
        presets=[preset(f"s{at}", name=name, memory=at + 1) for at in range(size)],
        songs=[song("x", "s0")],
    )
    for lines in (loops_picture(rig, rig, width), banks_picture(rig, rig, width)):
        for line in lines:
            assert cells(line.text) <= width
        full = [line.text for line in lines if line.text.endswith("│")]
        edges = {cells(text[: text.index("│")]) for text in full}
        assert len(edges) <= 1
        assert len({cells(text) for text in full}) <= 2  # the last row may have fewer boxes


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
def test_a_terminal_without_block_characters(encoding: str) -> None:
    """Edges and cut names have characters that every terminal has."""
    now, then = make_rig(**NOW), make_rig(**THEN)
    show = Terminal(encoding=encoding, blocks=False).show
    lines = [*loops_picture(now, then, 80, show), *banks_picture(now, then, 80, show)]
    text = "\n".join(line.text for line in lines)
    assert text.isascii()
    assert "|Slow squash " in text
    assert max(cells(line.text) for line in lines) <= 80


@pytest.mark.parametrize(
    ("width", "rows"), [(63, [3, 3, 1]), (64, [4, 3]), (99, [4, 3]), (100, [7])]
)
def test_a_bank_that_is_too_wide_is_drawn_in_rows_as_even_as_they_can_be(
    width: int, rows: list[int]
) -> None:
    """As few rows as names still have room in, none fuller than it must be."""
    rig = make_rig(
        switcher=switcher(7, 7),
        presets=[preset(f"s{at}", name=f"Sound {at}", memory=at + 1) for at in range(7)],
        songs=[song("x", "s0")],
    )
    lines = [line.text for line in banks_picture(rig, rig, width)]
    assert [line.count("switch") for line in lines if "switch" in line] == rows
