"""The table of sheets and the table of formats: all that offers or makes a sheet follows them."""

from __future__ import annotations

from typing import get_args

import pytest
from rigs_made import make_rig, switcher
from sheets.golden.sheets import DAY, FINDINGS, FOLDER
from sheets.sheets_made import sheet

from rigtui.checks import check
from rigtui.cli.arguments import parser_of
from rigtui.model.base import SheetKind
from rigtui.model.edits import record_printed
from rigtui.model.rig import Printed
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.paper import setlist_for
from rigtui.paper.make import DESCRIBED
from rigtui.sheets.formats import FORMATS, SUFFIXES
from rigtui.sheets.make import file_name, make_sheet, render
from rigtui.sheets.sizes import type_for
from rigtui.store.load import load

_, SMALL = load(FOLDER / "small.toml")


def test_every_kind_is_described_and_none_besides() -> None:
    """A row of the table without a description, or the other way round, is a mistake."""
    assert set(DESCRIBED) == set(SHEET_KINDS) == set(get_args(SheetKind))


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_a_sheet_is_of_the_kind_that_was_asked_for(kind: str) -> None:
    """Its own kind, its setlist or none, and its findings are as the table says."""
    facts, setlist = SHEET_KINDS[kind], setlist_for(SMALL, kind, None)
    assert (setlist is not None) == facts.of_a_setlist
    bare = make_sheet(SMALL, kind, setlist, (), DAY)
    full = make_sheet(SMALL, kind, setlist, FINDINGS, DAY)
    assert bare.kind == full.kind == kind
    assert (bare.revision != full.revision) == facts.prints_findings
    assert type_for(bare).distance_m == facts.distance_m


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_a_kind_is_offered_kept_and_checked_under_its_name(kind: str) -> None:
    """The command takes it and says what is on it; the rig file keeps it; the rule names it."""
    parser = parser_of("sheet")
    assert parser.parse_args([kind, "rig.toml"]).kind == kind
    assert " ".join(SHEET_KINDS[kind].shows.split()) in " ".join(parser.format_help().split())
    noted = record_printed(SMALL, kind, None, "0000000", DAY)
    assert Printed.model_json_schema()["properties"]["sheet"]["enum"] == list(SHEET_KINDS)
    stale = [finding for finding in check(noted) if finding.rule == "stale-sheet"]
    assert len(stale) == 1
    assert f"The {SHEET_KINDS[kind].name}" in stale[0].message


@pytest.mark.parametrize("format", FORMATS)
def test_a_format_writes_and_its_endings_lead_to_it(format: str) -> None:
    """Each has endings of its own, and what it writes is a file."""
    facts, setlist = FORMATS[format], SMALL.setlists[0]
    assert facts.endings
    assert [SUFFIXES[ending] for ending in facts.endings] == [format] * len(facts.endings)
    assert file_name("floor", setlist, format).endswith(facts.endings[0])
    sheet = make_sheet(SMALL, "floor", setlist, (), DAY)
    near, far = (render(sheet, format, distance_m=metres).content for metres in (0.5, 4.0))
    assert near
    assert (near != far) == facts.laid_out


def test_no_two_formats_share_an_ending() -> None:
    """Else the ending of a file would not say which it is."""
    endings = [ending for facts in FORMATS.values() for ending in facts.endings]
    assert len(endings) == len(set(endings)) == len(SUFFIXES)


def test_the_deputy_is_told_where_bank_buttons_stop() -> None:
    """Buttons that do not go round stop at the ends, and a stand-in player has to know."""
    said = {
        wrap: "stop at the first and the last"
        in repr(sheet(make_rig(switcher=switcher(8, 4, bank_wrap=wrap)), "deputy").parts)
        for wrap in (True, False)
    }
    assert said == {True: False, False: True}
