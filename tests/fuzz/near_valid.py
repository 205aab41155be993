"""Rigs that are nearly good: demo rigs and drawn ones with something odd put into them."""

from __future__ import annotations

import copy
import math
from datetime import date, datetime, time
from pathlib import Path
from random import Random
from typing import Any

from store.spelling import Data, RigSpeller, draw_rig

from rigtui.store.load import parse
from rigtui.store.toml_write import dump

RIGS = sorted((Path(__file__).parents[2] / "rigs").glob("*.toml"))
DEMOS = [file.read_bytes() for file in RIGS]

NUMBERS: tuple[Any, ...] = (
    0, -1, 1, 2**31, 2**63 - 1, -(2**63), 10**400, 9999, 10_000, math.nan, math.inf, -math.inf,
    -0.0, 5e-324, 1e-300, 0.0005, 0.001, 1e308, 999.999, 1000, 1000.5,
)  # fmt: skip
TEXTS = (
    "", " ", "con", "nul", "aux", "..", "../../etc/passwd", "/etc/passwd", "C:\\x", "a/b", "~",
    "__proto__", "__class__", "constructor", "true", "none", "null", "nan", "0", "-", "a" * 32,
    "a" * 33, "x" * 200, "x" * 201, "[/]", "[bold]", "[@click=app.quit]x[/]", "\x1b[2J", "\x00",
    "\u202e", "\u2028", "\ufeff", "e\u0301" * 50, "\U0001f3b8", "4/4", "0/4", "7/0", "99999/4",
    "$(id)", "`id`", "{{7*7}}", "%s%n", "'; drop table songs", "format", "songs", "songs.a",
    "=cmd|' /C calc'!A0", "http://x.invalid/", "rigtui", "\r\n", "\t",
)  # fmt: skip
OTHERS: tuple[Any, ...] = (
    True, False, [], {}, [[]], [{}], [1, "a", True], {"a": {"b": {}}}, date(1, 1, 1),
    date(9999, 12, 31), datetime(2027, 3, 5, 1), time(1, 2),
)  # fmt: skip


def near_valid(rng: Random) -> bytes:
    """A rig file with some odd things in it; some are good all the same."""
    data = parse(rng.choice(DEMOS).decode()) if rng.random() < 0.5 else draw_rig(rng)
    for _ in range(rng.choice((1, 1, 2, 4))):
        rng.choice(_MUTATIONS)(rng, data)
    if rng.random() < 0.3 and data and not _has_none(data):
        try:
            return RigSpeller(rng, data).text.encode("utf-8", "surrogatepass")
        except (TypeError, KeyError, AttributeError, ValueError, IndexError):
            pass  # too odd for the speller
    return dump(data).encode("utf-8", "surrogatepass")


def _has_none(data: Any) -> bool:
    return any(isinstance(value, float) and not math.isfinite(value) for value in _leaves(data))


def _leaves(value: Any) -> list[Any]:
    if isinstance(value, dict):
        return [leaf for inner in value.values() for leaf in _leaves(inner)]
    if isinstance(value, list):
        return [leaf for inner in value for leaf in _leaves(inner)]
    return [value]


def odd(rng: Random) -> Any:
    """Something that a rig seldom holds."""
    return copy.deepcopy(rng.choice(rng.choice((NUMBERS, TEXTS, TEXTS, OTHERS))))


def _holders(data: Any) -> list[tuple[Any, Any]]:
    """Every table or list with each key or place in it."""
    holders: list[tuple[Any, Any]] = []
    steps = data.items() if isinstance(data, dict) else enumerate(data)
    for step, value in steps:
        holders.append((data, step))
        if isinstance(value, dict | list):
            holders += _holders(value)
    return holders


def _replace(rng: Random, data: Data) -> None:
    holder, step = rng.choice(_holders(data) or [({"": 0}, "")])
    holder[step] = odd(rng)


def _take_out(rng: Random, data: Data) -> None:
    holder, step = rng.choice(_holders(data) or [({"": 0}, "")])
    del holder[step]


def _put_in(rng: Random, data: Data) -> None:
    holder, _ = rng.choice(_holders(data) or [({"": 0}, "")])
    if isinstance(holder, list):
        holder.insert(rng.randrange(len(holder) + 1), odd(rng))
    else:
        holder[rng.choice((*TEXTS, "note", "id", "tempo", "beat", "loops"))] = odd(rng)


def _double(rng: Random, data: Data) -> None:
    """A row twice, its id and all; or many times."""
    lists = [h[s] for h, s in _holders(data) if isinstance(h[s], list) and h[s]]
    if lists:
        rows = rng.choice(lists)
        rows += [copy.deepcopy(rng.choice(rows)) for _ in range(rng.choice((1, 1, 3, 300)))]


def _swap(rng: Random, data: Data) -> None:
    """Two things in each other's place: references that dangle, or go in a circle."""
    holders = _holders(data)
    if holders:
        (holder, a), (other, b) = rng.choice(holders), rng.choice(holders)
        holder[a], other[b] = copy.deepcopy(other[b]), copy.deepcopy(holder[a])


def _deepen(rng: Random, data: Data) -> None:
    """Something inside many lists or tables."""
    holder, step = rng.choice(_holders(data) or [({"": 0}, "")])
    inner = holder[step]
    for _ in range(rng.choice((5, 30, 40, 80))):
        inner = rng.choice(([inner], {"a": inner}))
    holder[step] = inner


def _cross(rng: Random, data: Data) -> None:
    """A name in place of another, or a number: what it leads to is somewhere else, or nowhere."""
    holders = _holders(data)
    for kind in rng.sample((str, int), 2):
        places = [(h, s) for h, s in holders if type(h[s]) is kind]
        if places:
            (holder, a), (other, b) = rng.choice(places), rng.choice(places)
            holder[a] = other[b]
            return


_MUTATIONS = (_replace, _replace, _take_out, _put_in, _double, _swap, _deepen, *[_cross] * 9)


def mutated(rng: Random) -> bytes:
    """A demo rig, or a drawn one, with bytes of it spoiled."""
    whole = (
        rng.choice(DEMOS) if rng.random() < 0.6 else RigSpeller(rng, draw_rig(rng)).text.encode()
    )
    content = bytearray(whole)
    for _ in range(rng.choice((1, 1, 2, 5, 20))):
        at = rng.randrange(len(content) + 1)
        what = rng.randrange(7)
        if what == 0 and content:
            content[at % len(content)] ^= 1 << rng.randrange(8)
        elif what == 1:
            content[at:at] = bytes([rng.randrange(256)])
        elif what == 2:
            content[at:at] = rng.choice(_TOKENS)
        elif what == 3:
            del content[at : at + rng.choice((1, 1, 10, 200))]
        elif what == 4:
            start = rng.randrange(len(content) + 1)
            content[at:at] = content[start : start + rng.randrange(300)]
        elif what == 5:
            del content[at:]
        else:
            lines = bytes(content).split(b"\n")
            rng.choice(lines)
            place = rng.randrange(len(lines))
            lines.insert(place, rng.choice(lines))
            content = bytearray(b"\n".join(lines))
    return bytes(content)


_TOKENS = (
    b"[", b"]", b"[[", b"]]", b"{", b"}", b'"', b"'", b'"""', b"'''", b"\\", b"\\u0000", b"\\ud800",
    b"\\U0010FFFF", b"#", b"=", b".", b",", b"\n", b"\r", b"\r\n", b"\x00", b"\x1b", b"\xff",
    b"nan", b"-inf", b"1e999", b"0x", b"0xffffffffffffffffff", b"1_0", b"_", b"2027-02-30",
    b"25:00:00", b"true", b"[[songs]]", b"[songs]", b"[[songs.sections]]", b"[chain]", b"id = ",
    b"tempo = 0", b"format = 2\n", b"a.b.c.d", b'"songs"', b"\xef\xbb\xbf",
    b"\xc2\x85", b"\xe2\x80\xae",
)  # fmt: skip
