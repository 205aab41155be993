"""Rigs drawn at random, and their text in any of the ways in which a person may spell it.

Every comment carries the name of its owner, so that a test can tell afterwards which comments had
to stay: `# 17 songs/song-2`. `Speller.chunks` holds the whole text of each row of each table.
"""

from __future__ import annotations

import copy
from datetime import date
from random import Random
from typing import Any

Data = dict[str, Any]
ROWS = ("pedals", "loops", "presets", "songs", "setlists", "waivers")
TEXTS = (
    "plain", "", "it's", 'say "so"', "back\\slash", "[[songs]]", "# no comment", "a = 1",
    "tab\there", "über-Größe", "two\nlines", "\x1b[31m", 'ends in quote"', "{ x = 1 }, # y",
    "\n# led by a line",
)  # fmt: skip


def identity(row: Data) -> str:
    """What a row is known by."""
    return str(row.get("id", row.get("number", f"{row.get('rule')}@{row.get('where')}")))


def draw_rig(rng: Random) -> Data:
    """A rig with some of everything; its names are right, its sense does not matter."""
    text = lambda: rng.choice(TEXTS)  # noqa: E731
    maybe = lambda **pair: pair if rng.random() < 0.5 else {}  # noqa: E731
    pedals = [f"pedal-{n}" for n in range(rng.randrange(5))]
    presets = [f"preset-{n}" for n in range(rng.randrange(4))]
    songs = [f"song-{n}" for n in range(rng.randrange(5))]
    rig: Data = {"format": 1, "name": text(), **maybe(note=text())}
    rig |= maybe(amp={"name": text(), **maybe(channels=["clean", "drive"]), **maybe(fx_loop=False)})
    rig |= maybe(switcher={"memories": rng.randrange(1, 9), "bank_size": 4, **maybe(name=text())})
    rig["pedals"] = [
        {"id": id, "kind": "delay", "side": "front", **maybe(name=text()), **maybe(feedback=0.25)}
        for id in pedals
    ]
    rig["loops"] = [
        {
            "number": n + 1,
            "side": "fx",
            "pedals": rng.sample(pedals, rng.randrange(len(pedals) + 1)),
        }
        for n in range(rng.randrange(4))
    ]
    rig |= maybe(chain={"front": [*pedals[:2], 1, 2], **maybe(fx=[3])})
    rig["presets"] = [
        {"id": id, **maybe(name=text()), "loops": sorted(rng.sample(range(9), rng.randrange(4)))}
        for id in presets
    ]
    rig["songs"] = [
        {
            "id": id, **maybe(title=text()), "tempo": rng.choice([90, 118, 92.5, 120.0]),
            **maybe(sections=[draw_section(rng, presets) for _ in range(rng.randrange(6))]),
            **maybe(note=text()),
        }
        for id in songs
    ]  # fmt: skip
    rig["setlists"] = [
        {
            "id": f"list-{n}", **maybe(date=date(2027, 3, 1 + n)),
            "sets": [
                {**maybe(name=text()), "songs": rng.sample(songs, rng.randrange(len(songs) + 1))}
                for _ in range(rng.randrange(3))
            ],
        }
        for n in range(rng.randrange(3))
    ]  # fmt: skip
    rig["waivers"] = [
        {"rule": "tail-cut", "where": f"songs.song-{n}", "reason": text()} for n in range(2)
    ][: rng.randrange(3)]
    return {key: value for key, value in rig.items() if value != []}


def draw_section(rng: Random, presets: list[str]) -> Data:
    """A section of a song."""
    section: Data = {"name": rng.choice(["Verse", "Chorus", "Solo"]), "bars": rng.randrange(1, 17)}
    if presets and rng.random() < 0.8:
        section["preset"] = rng.choice(presets)
    if rng.random() < 0.3:
        section["plus"] = ["pedal-0", "pedal-1"][: rng.randrange(3)]
    return section


class Speller:
    """Writes a rig as a person might, with a comment wherever one can stand."""

    def __init__(self, rng: Random, rig: Data) -> None:
        self.rng, self.rig = rng, rig
        self.eol = rng.choice(["\n", "\r\n"])
        self.comments: list[tuple[str, str]] = []  # (comment, owner), in the order of the text
        self.chunks: dict[str, str] = {}  # owner -> its text, comments above included
        self.often = rng.choice([0.0, 0.3, 0.9])
        self.nested = rng.random() < 0.3
        self.apart = rng.random() < 0.8
        self.equals = rng.choice([" = ", "=", "   =  "])
        self.text = self._file()

    def _comment(self, owner: str) -> str:
        comment = f"# {len(self.comments)} {owner}"
        self.comments.append((comment, owner))
        return comment

    def _end(self, owner: str) -> str:
        if self.rng.random() < self.often:
            return self.rng.choice([" ", "  ", ""]) + self._comment(owner) + self.eol
        return self.rng.choice(["", "", " "]) + self.eol

    def _above(self, owner: str, indent: str = "") -> str:
        if self.rng.random() < self.often:
            lines = range(self.rng.randrange(1, 3))
            return "".join(indent + self._comment(owner) + self.eol for _ in lines)
        return ""

    def _file(self) -> str:
        rng = self.rng
        parts = [self._comment("top") + self.eol + self.eol] if rng.random() < 0.5 else []
        inline = {key for key in self.rig if key in ("pedals", "amp") and rng.random() < 0.2}
        dotted = {key for key in ("chain", "switcher") if key in self.rig and rng.random() < 0.2}
        for key, value in self.rig.items():
            if key in inline:
                owner = key if key == "amp" else f"array {key}"  # goes when the last row goes
                parts.append(self._pair(key, value, owner, rows_of=key))
            elif key in dotted:
                parts += [self._pair(f"{key}.{inner}", v, key) for inner, v in value.items()]
            elif not isinstance(value, dict) and key not in ROWS:
                parts.append(self._above("top") + self._pair(key, value, f"top {key}"))
        kinds = [
            k
            for k, v in self.rig.items()
            if k not in inline | dotted and isinstance(v, list | dict)
        ]
        rng.shuffle(kinds)
        for kind in kinds:
            parts += self._kind(kind)
        if rng.random() < 0.5:
            parts.append(self.eol + self._comment("foot") + self.eol)
        text = "".join(parts)
        return text.rstrip("\r\n") if rng.random() < 0.1 else text

    def _kind(self, kind: str) -> list[str]:
        value, parts = self.rig[kind], []
        if isinstance(value, list) and self.apart and self.rng.random() < self.often:
            parts.append(self.eol + self._comment(f"heading {kind}") + self.eol)
        if isinstance(value, dict):
            parts.append(self._table(f"[{kind}]", value, kind, kind))
            self.chunks[kind] = parts[-1]
            return parts
        for row in value:
            owner = f"{kind}/{identity(row)}"
            parts.append(self._table(f"[[{kind}]]", row, owner, kind))
            self.chunks[owner] = parts[-1]
        return parts

    def _table(self, header: str, table: Data, owner: str, kind: str) -> str:
        indent = self.rng.choice(["", "", "  "])
        parts = [
            self.eol if self.apart else "",
            self._above(owner),
            indent,
            header,
            self._end(owner),
        ]
        for key, value in table.items():
            if key in ("sections", "sets") and value and self.nested:
                continue
            parts += [self._above(owner, indent), indent, self._pair(key, value, owner)]
        for key in ("sections", "sets"):
            if table.get(key) and self.nested:
                parts += [
                    self._table(f"[[{kind}.{key}]]", row, owner, f"{kind}.{key}")
                    for row in table[key]
                ]
        return "".join(parts)

    def _pair(self, key: str, value: Any, owner: str, rows_of: str = "") -> str:
        if self.rng.random() < 0.1 and "." not in key:
            key = self.rng.choice([f'"{key}"', f"'{key}'"])
        return f"{key}{self.equals}{self._value(value, owner, rows_of)}" + self._end(owner)

    def _value(self, value: Any, owner: str, rows_of: str = "", tall: bool = True) -> str:
        rng = self.rng
        if isinstance(value, bool):
            return "true" if value else "false"
        if isinstance(value, str):
            return self._string(value)
        if isinstance(value, dict):
            space, comma = rng.choice([(" ", ", "), ("", ","), (" ", ",  ")])
            pairs = [
                f"{k}{self.equals}{self._value(v, owner, tall=False)}" for k, v in value.items()
            ]
            return "{" + space + comma.join(pairs) + space + "}"
        if isinstance(value, list):
            if tall and value and (rows_of or rng.random() < 0.7):
                return self._tall(value, owner, rows_of)
            return (
                "["
                + rng.choice([", ", ","]).join(self._value(v, owner, tall=False) for v in value)
                + "]"
            )
        if isinstance(value, int):
            return rng.choice(
                [str(value), f"+{value}", f"{value:#x}", f"0b{value:b}", f"{value}.0"]
            )
        return str(value)

    def _tall(self, items: list[Any], owner: str, rows_of: str) -> str:
        indent, parts = self.rng.choice(["", "  ", "\t"]), ["[", self._end(owner)]
        for number, item in enumerate(items):
            mine = f"{rows_of}/{identity(item)}" if rows_of else owner
            comma = "," if number < len(items) - 1 or self.rng.random() < 0.5 else ""
            parts += [self._above(mine, indent), indent, self._value(item, mine, tall=False), comma]
            parts.append(self._end(mine))
        return "".join([*parts, self._above(owner, indent), "]"])

    def _string(self, value: str) -> str:
        plain = value.isprintable() and "'" not in value
        if plain and self.rng.random() < 0.3:
            return f"'{value}'"
        escaped = value.replace("\\", "\\\\").replace('"', '\\"').replace("\x1b", "\\u001b")
        if self.rng.random() < 0.3:
            return '"""' + self.eol + escaped.replace("\n", self.eol) + '"""'
        return '"' + escaped.replace("\n", "\\n").replace("\t", "\\t") + '"'


class RigSpeller(Speller):
    """Spells whole numbers as such, as a rig file needs them."""

    def _value(self, value: Any, *arguments: Any, **more: Any) -> str:
        spelled = super()._value(value, *arguments, **more)
        whole = isinstance(value, int) and not isinstance(value, bool)
        return spelled.removesuffix(".0") if whole else spelled


def draw_edits(rng: Random, rig: Data) -> Data:
    """The rig after some edits of all sorts."""
    new = copy.deepcopy(rig)
    for _ in range(rng.choice([1, 1, 2, 5])):
        kinds = [kind for kind in ROWS if kind in new]
        if kinds and rng.random() < 0.8:
            kind = rng.choice(kinds)
            _edit_rows(rng, new[kind], fresh=f"new-{rng.randrange(10**6)}")
            if not new[kind] and rng.random() < 0.5:
                del new[kind]
        else:
            _edit_table(rng, new)
    return new


def _edit_rows(rng: Random, rows: list[Any], fresh: str) -> None:
    """Change, move, add, double or take out a row of a table, or an item of a list."""
    what = rng.randrange(6)
    if not rows:
        rows.append({"id": fresh, "name": "first", "sections": [{"name": "Intro", "bars": 4}]})
    elif what <= 1 and isinstance(rows[0], dict):
        _edit_table(rng, rng.choice(rows))
    elif what == 2:
        rows.insert(rng.randrange(len(rows)), rows.pop(rng.randrange(len(rows))))
    elif what == 3:
        rows.pop(rng.randrange(len(rows)))
    else:
        row = copy.deepcopy(rng.choice(rows))
        if isinstance(row, dict):
            for key in ("id", "number", "where"):
                if key in row:
                    row[key] = rng.randrange(20, 10**6) if key == "number" else fresh
            if what == 5:
                _edit_table(rng, row)
        rows.insert(rng.randrange(len(rows) + 1), row)


def _edit_table(rng: Random, table: Data) -> None:
    """Change, add or take out a key of a table."""
    fixed = ("format", "number", "rule", "where")
    keys = [key for key in table if key not in fixed and key not in ROWS]
    what = rng.randrange(5)
    key = rng.choice(keys) if keys else "note"
    value = table.get(key)
    if what == 0:
        table[rng.choice(["note", "hands", "capo", "odd key", "plus"])] = rng.choice(
            ["new", 7, 0.5, True, ["x"], "line\nline", date(2028, 1, 2), {}, []]
        )
    elif what == 1 and keys and key != "id":
        del table[key]
    elif isinstance(value, list):
        _edit_rows(rng, value, "fresh") if value else value.append("one")
    elif isinstance(value, dict):
        _edit_table(rng, value)
    elif isinstance(value, str):
        table[key] = f"other-{rng.randrange(10**6)}" if key == "id" else rng.choice(TEXTS)
    else:
        table[key] = rng.randrange(1, 100)
