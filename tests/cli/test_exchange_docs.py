"""What the pages on MIDI, import and editors show works as shown."""

from __future__ import annotations

import re
import shlex
import tomllib
from pathlib import Path

import pytest

from rigtui.checks import check
from rigtui.cli.arguments import COMMANDS, parser_of
from rigtui.model import rig_from_data
from rigtui.model.wire import preset_messages
from rigtui.store.importing.csv_songs import COLUMNS, read_csv
from rigtui.store.importing.sources import kind_of

DOCS = Path(__file__).parents[2] / "docs"
PAGES = {name: (DOCS / f"{name}.md").read_text("utf-8") for name in ("midi", "import", "editor")}
LINES = [line for page in PAGES.values() for line in re.findall(r"^rigtui .*$", page, re.M)]


@pytest.mark.parametrize("line", LINES)
def test_commands_are_understood(line: str) -> None:
    """Every command line of the pages parses."""
    _, command, *words = shlex.split(line, comments=True)
    assert command in COMMANDS
    parser_of(command).parse_args(words)


def test_the_example_sends_what_the_page_says() -> None:
    """C2 0B and no finding of MIDI."""
    example = re.search(r"```toml\n(.*?)```", PAGES["midi"], re.S)
    assert example is not None
    rig = rig_from_data(tomllib.loads(f'format = 1\nname = "x"\n{example[1]}'))
    first = preset_messages(rig, rig.presets[0])[0]
    assert bytes(first.octets).hex(" ").upper() == "C2 0B"
    assert "`C2 0B`" in PAGES["midi"]
    assert [finding for finding in check(rig) if finding.rule.startswith("midi")] == []


def test_the_columns_are_those_of_the_page() -> None:
    """Each is listed, and the example table is read."""
    assert [column for column in COLUMNS if f"`{column}`" not in PAGES["import"]] == []
    example = re.search(r"```csv\n(.*?)```", PAGES["import"], re.S)
    assert example is not None
    (song,) = read_csv(example[1]).songs
    assert [section.name for section in song.sections] == ["Verse", "Chorus"]


def test_the_endings_are_those_of_the_page() -> None:
    """Each ending is taken for what its row says."""
    rows = {
        "plain list": "list",
        "ChordPro": "chordpro",
        "Standard MIDI File": "midi",
        "CSV": "csv",
        "another rig": "rig",
    }
    for title, kind in rows.items():
        (cells,) = re.findall(rf"^\| {title} \| (.*?) \|", PAGES["import"], re.M)
        for ending in re.findall(r"`(\.\w+)`", cells):
            assert kind_of(Path(f"a{ending}")) == kind


def test_the_editors_example_is_a_rig() -> None:
    """The line for the editor is a comment to TOML."""
    example = re.search(r"```toml\n(.*?)```", PAGES["editor"], re.S)
    assert example is not None
    assert example[1].startswith("#:schema ./rig.schema.json\n")
    assert rig_from_data(tomllib.loads(example[1])).name == "My rig"
