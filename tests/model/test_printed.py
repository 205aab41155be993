"""The record of sheets that are on paper: what is noted, replaced, renamed and forgotten."""

from __future__ import annotations

from datetime import date

from rigs_made import make_rig, setlist, song

from rigtui.model import Rig, rig_from_data, rig_to_data
from rigtui.model.edits import (
    delete_setlist,
    forget_printed,
    record_printed,
    set_setlist_id,
)

DAY = date(2027, 3, 5)


def two_nights(**more: object) -> Rig:
    """A rig of one song that is played on two nights."""
    return make_rig(
        songs=[song("low-fen")],
        setlists=[setlist("friday", "low-fen"), setlist("sunday", "low-fen")],
        **more,
    )


def recorded(rig: Rig) -> list[tuple[str, str | None, str]]:
    """Sheet, setlist and revision of each row."""
    return [(row.sheet, row.setlist, row.revision) for row in rig.printed]


def test_each_sheet_of_each_setlist_is_noted_once() -> None:
    """Another print of a sheet takes the place of the older one, and of its doubles."""
    rig = two_nights(
        printed=[
            {"sheet": "floor", "setlist": "friday", "revision": "1"},
            {"sheet": "wiring", "revision": "2"},
            {"sheet": "floor", "setlist": "friday", "revision": "3"},
        ]
    )
    rig = record_printed(rig, "floor", "friday", "4", DAY)
    assert recorded(rig) == [("floor", "friday", "4"), ("wiring", None, "2")]
    rig = record_printed(rig, "floor", "sunday", "5", DAY)
    assert recorded(rig)[2:] == [("floor", "sunday", "5")]
    rig = record_printed(rig, "wiring", None, "6", DAY)
    assert recorded(rig)[1] == ("wiring", None, "6")
    assert rig.printed[1].date == DAY


def test_the_record_reads_back() -> None:
    """What was noted is written without empty keys, and reads back as it was."""
    rig = record_printed(two_nights(), "program", None, "3f09c2a", DAY)
    data = rig_to_data(rig)
    assert data["printed"] == [{"sheet": "program", "revision": "3f09c2a", "date": DAY}]
    assert rig_from_data(data) == rig


def test_a_sheet_is_forgotten() -> None:
    """A sheet that is thrown away goes off the record, the others stay."""
    rig = record_printed(two_nights(), "floor", "friday", "1", DAY)
    rig = record_printed(rig, "deputy", "friday", "2", DAY)
    assert recorded(forget_printed(rig, "floor", "friday")) == [("deputy", "friday", "2")]
    assert "printed" not in rig_to_data(forget_printed(two_nights(), "floor", "friday"))


def test_the_record_follows_its_setlist() -> None:
    """A setlist of another id takes its sheets along; one that is deleted takes them with it."""
    rig = record_printed(two_nights(), "floor", "friday", "1", DAY)
    rig = record_printed(rig, "floor", "sunday", "2", DAY)
    assert recorded(set_setlist_id(rig, "friday", "fri"))[0] == ("floor", "fri", "1")
    assert recorded(delete_setlist(rig, "friday")) == [("floor", "sunday", "2")]
