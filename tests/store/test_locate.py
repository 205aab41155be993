"""Where a place of a rig stands in its file."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigtui.store.load import BOM, read_plain
from rigtui.store.locate import locate

TEXT = """\
format = 1
name = "Lines"

[switcher]
memories = 4
bank_size = 4
bank_buttons = "none"

[chain]
front = ["wah", 1]
fx = []

[[pedals]]
id = "wah"
kind = "wah"
side = "front"

[[pedals]]
id = "drive"
kind = "overdrive"
side = "front"

[[loops]]
number = 3
side = "front"

[[loops]]
number = 1
side = "front"
pedals = ["drive"]

[[songs]]
id = "low-fen"
tempo = 118
sections = [
  { name = "Intro", bars = 4 },
  { name = "Verse", bars = 8 },
]

[[songs]]
id = "tin-moth"
tempo = 96
[[songs.sections]]
name = "Intro"
bars = 4

[[setlists]]
id = "friday"
sets = [
  { name = "First", songs = ["low-fen"] },
  { name = "Second", songs = [
    "low-fen",
    "tin-moth",
  ] },
]

[[waivers]]
rule = "empty-loop"
where = "loops.3"

[[printed]]
sheet = "wiring"
revision = "3f09c2a"
"""


def line(words: str, after: str = "") -> int:
    """The line in which some words stand, looked for from others on."""
    return TEXT[: TEXT.index(words, TEXT.index(after))].count("\n") + 1


@pytest.mark.parametrize(
    ("where", "expected"),
    [
        ("", 1),
        ("name", line("name =")),
        ("switcher", line("[switcher]")),
        ("switcher.bank_buttons", line("bank_buttons")),
        ("switcher.loop_switches", line("[switcher]")),
        ("chain", line("[chain]")),
        ("chain.front", line("front = [")),
        ("pedals.drive", line("[[pedals]]", 'kind = "wah"')),
        ("pedals.drive.kind", line('kind = "overdrive"')),
        ("loops.1", line("[[loops]]", "number = 3")),
        ("loops.3", line("[[loops]]")),
        ("songs.low-fen.sections.1", line('{ name = "Verse"')),
        ("songs.tin-moth.sections.0", line("[[songs.sections]]")),
        ("songs.low-fen.tempo", line("tempo = 118")),
        ("setlists.friday.sets.1", line('{ name = "Second"')),
        ("setlists.friday.sets.1.songs.1", line('"tin-moth",')),
        ("waivers.0", line("[[waivers]]")),
        ("printed.0", line("[[printed]]")),
        ("amp", 1),
        ("presets.gone", None),
        ("songs.gone.sections.0", None),
        ("loops.7", None),
        ("waivers.4", None),
        ("printed.1", None),
        ("waivers.first", None),
    ],
)
@pytest.mark.parametrize("mark", ["", BOM])
def test_line_of_a_place(tmp_path: Path, where: str, expected: int | None, mark: str) -> None:
    """A place is at the line where it stands, else at its nearest table, else nowhere."""
    path = tmp_path / "lines.toml"
    path.write_bytes((mark + TEXT).encode())
    assert locate(read_plain(path), where) == expected


def test_every_row_of_the_demos() -> None:
    """Each preset, song and section of the demo rigs is found at the line that names it."""
    for path in sorted((Path(__file__).parents[2] / "rigs").glob("*.toml")):
        source = read_plain(path)
        lines = source.text.splitlines()
        for table in ("presets", "songs", "setlists", "pedals"):
            for row in source.data.get(table, []):
                at = locate(source, f"{table}.{row['id']}.id")
                assert at is not None
                assert row["id"] in lines[at - 1]
        for song in source.data["songs"]:
            for place, section in enumerate(song["sections"]):
                at = locate(source, f"songs.{song['id']}.sections.{place}")
                assert at is not None
                assert section["name"] in lines[at - 1]
