"""Rigs whose names, notes and cues hold whatever a text can hold."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st
from rigs_made import Data

NASTY = (
    "<b>&amp;</b>", "</td></table><script>x()</script>", "[/] [bold]x[/bold]", "| a | b |", "\\",
    "**bold** _it_ `c`", "1. item", "# no heading", "- no item", "+ no", "=====", "a\nb\n\nc",
    "www.x.org http://a.b/c a@b.org", "&copy; &#65;", "~~gone~~", "[x](y) ![z](w)",
    "<https://a.b>", "漢字", "שלום", "مرحبا", "ไทย", "a\u202eb", "\x1b[31mred", "e\u0301 o\u0308",
    "\U0001f468\u200d\U0001f467 \u2764\ufe0f", "x" * 60, "  two  blanks ", "\t", "½ ♯ ♭ → ①",
    "\ufffe\uffff", "a\u00ad\u200bb", "[ ]", "\u2028\u0085", "",
)  # fmt: skip
ANY = st.one_of(
    st.sampled_from(NASTY),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=20),
    st.text("ab cd <&*_|", max_size=60),
)
NAMED = ANY.filter(bool)
SIDES = st.sampled_from(("front", "fx"))


@st.composite
def rigs(draw: st.DrawFn) -> Data:
    """Plain data of a rig of which every text may be anything, and most names lead somewhere."""
    pedals = [
        {"id": f"p{at}", "name": draw(ANY), "kind": draw(st.sampled_from(("wah", "delay", "gate"))),
         "side": draw(SIDES)}
        for at in range(draw(st.integers(0, 5)))
    ]  # fmt: skip
    n_loops = draw(st.integers(0, 12))
    loops = [
        {"number": at + 1, "side": draw(SIDES), "pedals": [f"p{at}"] if at < len(pedals) else []}
        for at in range(n_loops)
    ]
    presets: list[Data] = [
        {"id": f"s{at}", "name": draw(ANY), "loops": draw(_some(range(1, n_loops + 2))),
         "hands": draw(ANY), "note": draw(ANY), **draw(_more(memory=st.integers(1, 12),
         channel=ANY, pickup=ANY, guitar_volume=st.sampled_from((0, 4.5, 10))))}
        for at in range(draw(st.integers(0, 4)))
    ]  # fmt: skip
    known = [row["id"] for row in presets]
    songs = [
        {"id": f"song{at}", "title": draw(ANY), "tempo": draw(st.sampled_from((60, 119.5))),
         "note": draw(ANY), "sections": draw(st.lists(_sections(known), max_size=5)),
         **draw(_more(guitar=ANY, tuning=ANY, capo=st.integers(0, 5),
                      meter=st.sampled_from(("4/4", "6/8"))))}
        for at in range(draw(st.integers(0, 3)))
    ]  # fmt: skip
    ids = st.sampled_from(["song0", "song1", "song2", "lost"])
    sets = st.fixed_dictionaries({"songs": st.lists(ids, max_size=3)}, optional={"name": ANY})
    setlists = [
        {"id": f"n{at}", "name": draw(ANY), "note": draw(ANY),
         "sets": draw(st.lists(sets, max_size=2)), **draw(_more(date=st.dates()))}
        for at in range(draw(st.integers(0, 2)))
    ]  # fmt: skip
    size = draw(st.integers(1, 4))
    parts: Data = {
        "format": 1, "name": draw(ANY), "note": draw(ANY), "pedals": pedals, "loops": loops,
        "presets": presets, "songs": songs, "setlists": setlists,
        "amp": {"name": draw(ANY)},
        "chain": {"front": [row["id"] for row in pedals if row["side"] == "front"]},
    }  # fmt: skip
    if draw(st.booleans()):
        board = {"memories": draw(st.integers(1, 9)), "bank_size": size, "name": draw(ANY)}
        parts["switcher"] = {**board, **draw(_more(display_chars=st.integers(1, 9)))}
    return parts


def _more(**values: st.SearchStrategy[Any]) -> st.SearchStrategy[Data]:
    return st.fixed_dictionaries({}, optional=values)


def _some(values: range) -> st.SearchStrategy[list[int]]:
    return st.lists(st.sampled_from(values), max_size=4, unique=True)


def _sections(presets: list[str]) -> st.SearchStrategy[Data]:
    return st.fixed_dictionaries(
        {"name": ANY, "bars": st.sampled_from((1, 8, 2.5))},
        optional={
            "preset": st.sampled_from([*presets, "gone"]),
            "plus": st.lists(st.sampled_from(("p0", "p1", "ghost")), max_size=2, unique=True),
            "hands": ANY, "cue": ANY, "until": ANY, "pickup": ANY,
            "tempo": st.sampled_from((60, 90)), "rest_beats": st.sampled_from((0, 1, 2.5)),
        },
    )  # fmt: skip
