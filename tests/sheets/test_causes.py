"""Findings by cause: in which order they come, what is folded, and that none is lost."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from rigs_made import make_rig, preset, section, song, switcher

from rigtui.advice.first import do_first
from rigtui.checks import Finding, check
from rigtui.checks.printed import for_paper
from rigtui.paper.causes import by_cause
from rigtui.paper.content import Table
from rigtui.paper.rehearsal import MOST_NAMED, MOST_TO_MEND, rehearsal_parts
from rigtui.sheets.make import make_sheet
from rigtui.sheets.pdf import pdf
from rigtui.sheets.plain import text
from rigtui.store.demos import demo_paths
from rigtui.store.load import load


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_no_finding_is_lost(path: Path) -> None:
    """Every finding that stands is in just one part, those of repeated changes too."""
    _, rig = load(path)
    standing = [finding for finding in check(rig) if finding.waived is None]
    parts = by_cause(rig, standing)
    sorted_ = [finding for cause in (*parts.cannot, *parts.rest) for finding in cause.remarks]
    sorted_ += [
        finding for change in parts.rehearse for finding in (*change.remarks, *change.repeats)
    ]
    assert sorted(map(id, sorted_)) == sorted(map(id, standing))


def test_a_change_that_repeats_in_its_song_is_named_once() -> None:
    """The same presses into two sections of a song are one change; in another song, another."""
    rig = make_rig(
        switcher=switcher(memories=4, bank_size=4),
        pedals=[{"id": "wah", "kind": "wah", "side": "front"}],
        chain={"front": ["wah"]},
        presets=[preset("clean", memory=1), preset("dirt", memory=2)],
        songs=[
            song(name, section("clean"), *2 * (section("dirt", plus=["wah"]), section("clean")))
            for name in ("low", "tin")
        ],
    )
    where = ("songs.low.sections.1", "songs.low.sections.3", "songs.tin.sections.1")
    remarks = [
        Finding("crowded-change", "warning", place, "busy", "why", rank=(-1, at))
        for at, place in enumerate(where)
    ]
    low, tin = by_cause(rig, remarks).rehearse
    assert (low.where, low.again, low.repeats) == (where[0], (3,), (remarks[1],))
    assert (tin.where, tin.again) == (where[2], ())


def test_the_rest_comes_by_weight_and_then_by_how_often() -> None:
    """A warning comes before advice; one finding of many changes counts for all of them."""
    rig = make_rig()
    remarks = [
        Finding("tail-cut", "advice", "rig", "cut", "why"),
        Finding("tail-cut", "advice", "rig", "cut too", "why"),
        Finding("bank-hop", "advice", "rig", "hops", "why", times=5),
        Finding("set-time", "warning", "rig", "long", "why"),
    ]
    causes = by_cause(rig, remarks).rest
    assert [(cause.rule, cause.times) for cause in causes] == [
        ("set-time", 1), ("bank-hop", 5), ("tail-cut", 2),
    ]  # fmt: skip


def test_the_rehearsal_sheet_counts_what_it_does_not_list() -> None:
    """It lists eight of what can't be played, the others on demand, and says how many are left."""
    rig = make_rig()
    remarks = [
        Finding("unstored-preset", "error", f"presets.p{at}", "not stored", "why", rank=(-1, at))
        for at in range(MOST_NAMED + MOST_TO_MEND + 7)
    ]
    parts, rest = rehearsal_parts(rig, remarks)
    for part, most, left in ((parts[0], MOST_NAMED, MOST_TO_MEND + 7), (rest[0], MOST_TO_MEND, 7)):
        table, more = part.blocks
        assert isinstance(table, Table)
        assert len(table.rows) == most
        assert f"{left} more findings" in str(more)
    parts, rest = rehearsal_parts(rig, remarks[:MOST_NAMED])
    assert len(parts[0].blocks) == 1
    assert not rest


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_the_rehearsal_sheet_is_two_pages(path: Path) -> None:
    """With what to do first; the whole of it has every cause, and the same revision."""
    _, rig = load(path)
    evening, findings = rig.setlists[0], check(rig)
    first = do_first(rig, [evening.id], findings).remedies
    sheet = make_sheet(rig, "rehearsal", evening, findings, date(2027, 3, 5), first)
    assert pdf(sheet).pages <= 2
    assert sheet.whole().revision == sheet.revision
    told = text(sheet.whole())
    for cause in by_cause(rig, for_paper(rig, findings, evening)).rest:
        assert cause.rule in told
