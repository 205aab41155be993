"""The engine: order, waivers, what is remembered, and which findings touch what."""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.checks import RULES, SEVERITIES, Finding, check, engine, worst
from rigtui.checks.finding import Hit, Rule
from rigtui.model import Rig, edits
from rigtui.model.remembered import Remembered


def small_rig(**parts: Any) -> Rig:
    """Two songs, one of them with an unmapped section, and a spare loop."""
    parts = {
        "switcher": switcher(),
        "pedals": [pedal("drive", "overdrive"), pedal("wah", "wah")],
        "loops": [loop(1, "drive"), loop(2)],
        "chain": {"front": ["wah", 1, 2]},
        "presets": [preset("clean", memory=1), preset("dirty", 1, memory=2)],
        "songs": [song("low-fen", "clean", "dirty"), song("tin-moth", "clean", section())],
        "setlists": [setlist("friday", "low-fen", "tin-moth")],
        **parts,
    }
    return make_rig(**parts)


def places(findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(one.rule, one.where) for one in findings]


def test_errors_come_first_then_warnings_then_advice() -> None:
    """Within a severity the rules' order stays."""
    severities = [one.severity for one in check(small_rig())]
    assert severities == sorted(severities, key=SEVERITIES.index)
    assert set(severities) == {"error", "warning", "advice"}


def test_a_waived_finding_is_still_listed_with_its_reason() -> None:
    """It does not count as the worst any more, and its waiver is not called stale."""
    reason = "drums alone"
    waiver = {"rule": "unmapped", "where": "songs.tin-moth.sections.1", "reason": reason}
    before, after = check(small_rig()), check(small_rig(waivers=[waiver]))
    assert places(after) == places(before)
    assert [one.waived for one in after if one.rule == "unmapped"] == [reason]
    assert (worst(before), worst(after)) == ("error", "warning")


def test_a_waiver_without_a_reason_waives_too() -> None:
    """The reason is free text, and may be empty."""
    rig = small_rig(waivers=[{"rule": "unmapped", "where": "songs.tin-moth.sections.1"}])
    assert [one.waived for one in check(rig) if one.rule == "unmapped"] == [""]


def test_nothing_found_has_no_worst() -> None:
    """A rig of a name alone is clean."""
    assert check(make_rig()) == ()
    assert worst(()) is None


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Rows that a rule of presets and a rule of songs have been called with."""
    seen: list[str] = []

    def note(view: Any, row: Any) -> list[Hit]:
        seen.append(row.id)
        return []

    for scope in ("preset", "song"):
        rule = Rule("noted", "advice", scope, "", "", "", note)  # type: ignore[arg-type]
        monkeypatch.setitem(engine._BY_SCOPE, scope, (rule,))
    monkeypatch.setattr(engine, "_memos", Remembered())
    return seen


@pytest.mark.parametrize(
    ("edit", "again"),
    [
        (lambda rig: edits.set_song(rig, "tin-moth", tempo=90), ["tin-moth"]),
        (lambda rig: edits.move_song(rig, "tin-moth", -1), []),
        (lambda rig: edits.set_setlist(rig, "friday", name="Saturday"), []),
        (lambda rig: edits.waive(rig, "unmapped", "songs.tin-moth.sections.1", ""), []),
        (
            lambda rig: edits.set_preset(rig, "dirty", name="Dirt"),
            ["clean", "dirty", "low-fen", "tin-moth"],
        ),
    ],
)
def test_only_what_an_edit_touched_is_checked_again(
    calls: list[str], edit: Any, again: list[str]
) -> None:
    """A changed song is checked alone; a changed board, whatever stands on it."""
    rig = small_rig()
    check(rig)
    assert calls == ["clean", "dirty", "low-fen", "tin-moth"]
    calls.clear()
    check(edit(rig))
    assert calls == again


def test_every_rule_says_what_why_and_whence() -> None:
    """No rule is without a summary, a reason and a source, each a plain sentence or two."""
    for rule in RULES:
        assert rule.summary.endswith("."), rule.id
        assert rule.why.endswith("."), rule.id
        assert rule.source, rule.id
        assert rule.severity in SEVERITIES


def test_rules_of_one_id_agree() -> None:
    """A rule split over presets and songs has one severity, one reason and one source."""
    for rule in RULES:
        first = next(one for one in RULES if one.id == rule.id)
        assert (rule.severity, rule.why, rule.source) == (first.severity, first.why, first.source)
