"""What the docs say is what the program does."""

from __future__ import annotations

import pkgutil
import re
import tomllib
from pathlib import Path
from typing import get_args

import pytest

from rigtui.checks import check
from rigtui.cli.arguments import COMMANDS
from rigtui.model import rig_from_data
from rigtui.model.base import Kind
from rigtui.model.edits import usual_place
from rigtui.model.reference import keys_markdown
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.model.text import listed
from rigtui.sheets.formats import FORMATS
from rigtui.tui.views.all_views import VIEWS, ViewFacts

ROOT = Path(__file__).parents[1]


def test_rig_file_reference_lists_every_key_as_the_models_have_it() -> None:
    """docs/rig-file.md ends in the tables that the models give."""
    text = (ROOT / "docs" / "rig-file.md").read_text(encoding="utf-8")
    assert text.rstrip().endswith(keys_markdown().rstrip()), (
        "regenerate the tables: python -m rigtui.model.reference"
    )


def test_the_page_of_sheets_has_every_sheet_and_every_format() -> None:
    """docs/sheets.md has a row for each kind of sheet, and names each format with its ending."""
    text = (ROOT / "docs" / "sheets.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `([a-z]+)` \| ", text, re.M)
    assert rows == list(SHEET_KINDS)
    of_one, whole = (
        listed(f"`{kind}`" for kind, facts in SHEET_KINDS.items() if facts.of_a_setlist is wanted)
        for wanted in (True, False)
    )
    prose = " ".join(text.split())
    assert f"{of_one} are of one setlist" in prose
    assert f"{whole} are of the whole rig" in prose
    for facts in FORMATS.values():
        assert f"`{facts.endings[0]}`" in text
        assert f"- **{facts.name.capitalize() if facts.name.islower() else facts.name}**" in text


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_in_the_docs(command: str) -> None:
    """Somewhere in the README or in docs/ each is called by its name."""
    pages = [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]
    assert any(f"rigtui {command} " in page.read_text(encoding="utf-8") for page in pages)


def test_the_example_in_the_rig_file_reference_is_a_good_rig() -> None:
    """The example that people will copy loads and has no error."""
    text = (ROOT / "docs" / "rig-file.md").read_text(encoding="utf-8")
    example = re.search(r"```toml\n(.*?)```", text, re.S)
    assert example is not None
    rig = rig_from_data(tomllib.loads(example[1]))
    assert [finding for finding in check(rig) if finding.severity == "error"] == []


def test_ci_runs_the_very_test_command_of_the_readme() -> None:
    """The README gives two commands; the checks take the second out of it."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"^python3 -m venv .*$", readme, re.M)
    assert len(commands) == 2
    assert commands[0].endswith("rigs/quay-street.toml")
    assert commands[1].endswith("python -m pytest")
    assert "python -m pytest$" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_the_page_on_the_board_gives_the_reasons_that_the_program_gives() -> None:
    """A row for each kind of pedal, with what is said when one is added."""
    text = (ROOT / "docs" / "board.md").read_text(encoding="utf-8")
    for kind in get_args(Kind):
        row = rf"^\| (.*, )?{kind}(, .*)? \| {re.escape(usual_place(kind).reason)} \|$"
        assert re.search(row, text, re.M), kind


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: view.id)
def test_the_guide_says_what_each_screen_is_for(view: ViewFacts) -> None:
    """Under a heading with the key that goes to it."""
    guide = (ROOT / "docs" / "guide.md").read_text(encoding="utf-8")
    assert re.search(rf"^## {view.key} {view.title}: ", guide, re.M)


def test_the_developers_page_names_only_what_is_there() -> None:
    """Whoever adds something by that page alone finds each file and each name."""
    named = set(re.findall(r"`([^`\s]+)`", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")))
    files = {name for name in named if re.fullmatch(r"\.?[\w/-]+(/|/[\w-]+|\.(py|md|toml))", name)}
    objects = {name for name in named if name.startswith("rigtui.") and name not in files}
    assert len(files) > 20
    assert len(objects) > 10
    assert [name for name in sorted(files) if not (ROOT / name).exists()] == []
    for name in sorted(objects):
        pkgutil.resolve_name(name)
