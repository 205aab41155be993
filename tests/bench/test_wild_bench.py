"""Whatever the tables of the bench hold, everything that is made of them is made."""

from __future__ import annotations

from datetime import date

from checks.rigs_wild import wild_rigs
from examples import examples
from hypothesis import given
from moves.rigs_drawn import Data

from rigtui.bench.first_layout import place_all
from rigtui.bench.layout import layout_of
from rigtui.bench.leads import leads_of
from rigtui.bench.plan_view import BoardDrawing, scale_for
from rigtui.bench.words import cut_rows
from rigtui.checks import check
from rigtui.model import rig_from_data
from rigtui.paper.wiring import wiring_sheet


@examples(25)
@given(wild_rigs())
def test_nothing_raises(data: Data) -> None:
    """Leads, cuts, plan, rules and sheet; then the same with a place for every device."""
    rig = rig_from_data(data)
    for each in (rig, place_all(rig)):
        leads = leads_of(each)
        assert all(lead.length_mm is None or lead.length_mm > 0 for lead in leads)
        assert [row for row in cut_rows(each) if row.what == "step"]
        layout = layout_of(each)
        for columns, lines in ((78, 20), (20, 5)):
            plan = BoardDrawing(layout, {}, scale_for(layout, columns, lines), "p1a", *leads[:1])
            assert len(plan.lines) <= lines
            assert all(len(line) <= columns for line in plan.lines)
        wiring_sheet(each, None, date(2027, 3, 5))
        check(each)
    assert len(layout_of(place_all(rig)).placed) == len(layout_of(rig).devices)
