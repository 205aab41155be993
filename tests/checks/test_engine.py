"""The engine: order, waivers, what is remembered, and which findings touch what."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterator
from pathlib import Path
from pkgutil import iter_modules
from typing import Any

import pytest
from checks.case_files import files, rig_of
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui import checks
from rigtui.checks import RULES, SEVERITIES, Finding, check, engine, worst
from rigtui.checks.finding import Hit, RigView, Rule
from rigtui.model import Rig, edits
from rigtui.model.place_words import place_in_words
from rigtui.model.remembered import Remembered
from rigtui.store.demos import demo_paths


def small_rig(**parts: Any) -> Rig:
    """Two songs, one with a crowded change, one with an unmapped section, and a spare loop."""
    parts = {
        "switcher": switcher(),
        "pedals": [pedal("drive", "overdrive"), pedal("wah", "wah")],
        "loops": [loop(1, "drive"), loop(2)],
        "chain": {"front": ["wah", 1, 2]},
        "presets": [preset("clean", memory=1), preset("dirty", 1, memory=2)],
        "songs": [
            song("low-fen", "clean", section("dirty", plus=["wah"])),
            song("tin-moth", "clean", section()),
        ],
        "setlists": [setlist("friday", "low-fen", "tin-moth")],
        **parts,
    }
    return make_rig(**parts)


def places(findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(finding.rule, finding.where) for finding in findings]


def test_errors_come_first_then_warnings_then_advice() -> None:
    """Within a severity the rules' order stays."""
    severities = [finding.severity for finding in check(small_rig())]
    assert severities == sorted(severities, key=SEVERITIES.index)
    assert set(severities) == {"error", "warning", "advice"}


def test_a_waiver_of_a_misspelt_rule_is_put_right_beside_other_waivers() -> None:
    """The fix renames the rule; only where the right waiver is there already does this one go."""
    place = "songs.low-fen.sections.0"
    misspelt = {"rule": "unmaped", "where": place, "reason": "drums alone"}
    others = {
        "elsewhere": {"rule": "unmapped", "where": "songs.low-fen", "reason": "all of it"},
        "same place": {"rule": "unmapped", "where": place, "reason": "drums alone"},
    }
    left = {}
    for name, other in others.items():
        rig = make_rig(songs=[song("low-fen", section())], waivers=[other, misspelt])
        (fix,) = (
            finding.fix for finding in check(rig) if "there is no such rule" in finding.message
        )
        assert fix is not None
        left[name] = [(waiver.rule, waiver.where) for waiver in fix.edit(rig).waivers]
    assert left == {
        "elsewhere": [("unmapped", "songs.low-fen"), ("unmapped", place)],
        "same place": [("unmapped", place)],
    }


def test_a_waived_finding_is_still_listed_with_its_reason() -> None:
    """It does not count as the worst any more, and its waiver is not called stale."""
    reason = "drums alone"
    waiver = {"rule": "unmapped", "where": "songs.tin-moth.sections.1", "reason": reason}
    before, after = check(small_rig()), check(small_rig(waivers=[waiver]))
    assert places(after) == places(before)
    assert [finding.waived for finding in after if finding.rule == "unmapped"] == [reason]
    assert (worst(before), worst(after)) == ("error", "warning")


@pytest.mark.parametrize(
    "where",
    ["songs.tin-moth.sections.1", "songs.tin-moth.sections", "songs.tin-moth", "songs", "rig"],
)
def test_a_waiver_covers_what_is_in_its_place(where: str) -> None:
    """One of a song, of all songs or of the rig is as good as one of the section, and not stale."""
    waiver = {"rule": "unmapped", "where": where, "reason": "so"}
    near = {"rule": "unmapped", "where": "songs.tin-moth.sections.1", "reason": "the nearest"}
    after = check(small_rig(waivers=[waiver]))
    assert [finding.waived for finding in after if finding.rule == "unmapped"] == ["so"]
    assert not [finding for finding in after if finding.rule == "stale-waiver"]
    both = check(small_rig(waivers=[waiver, near]))
    said = "so" if where == near["where"] else "the nearest"
    assert [finding.waived for finding in both if finding.rule == "unmapped"] == [said]


@pytest.mark.parametrize(
    "where", ["songs.tin", "songs.low-fen", "presets", "songs.tin-moth.sections.0"]
)
def test_a_waiver_elsewhere_waives_nothing(where: str) -> None:
    """Another place, and one whose name only begins alike, leave the finding as it is."""
    waiver = {"rule": "unmapped", "where": where, "reason": "so"}
    after = check(small_rig(waivers=[waiver]))
    assert [finding.waived for finding in after if finding.rule == "unmapped"] == [None]
    assert [finding for finding in after if finding.rule == "stale-waiver"]


def test_a_waiver_without_a_reason_waives_too() -> None:
    """The reason is free text, and may be empty."""
    rig = small_rig(waivers=[{"rule": "unmapped", "where": "songs.tin-moth.sections.1"}])
    assert [finding.waived for finding in check(rig) if finding.rule == "unmapped"] == [""]


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
        first = next(known_rule for known_rule in RULES if known_rule.id == rule.id)
        assert (rule.severity, rule.why, rule.source) == (first.severity, first.why, first.source)


def failing(view: Any, *row: Any) -> Iterator[Hit]:
    """A rule that finds one thing and then breaks."""
    yield Hit("presets.clean", "found in time")
    raise ValueError("gone\x1b[2J")


SCOPES = {
    "pedal": ["pedals.drive", "pedals.wah"],
    "preset": ["presets.clean", "presets.dirty"],
    "song": ["songs.low-fen", "songs.tin-moth"],
    "setlist": ["setlists.friday"],
    "rig": ["rig"],
    "findings": ["rig"],
}


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Rule]:
    """Add a rule of some scope that breaks."""
    monkeypatch.setattr(engine, "_memos", Remembered())

    def add(scope: str) -> Rule:
        rule = Rule("breaks", "warning", scope, "", "", "", failing)  # type: ignore[arg-type]
        monkeypatch.setitem(engine._BY_SCOPE, scope, (*engine._BY_SCOPE[scope], rule))
        return rule

    return add


@pytest.mark.parametrize("scope", SCOPES)
def test_a_rule_that_raises_is_one_finding_a_place_and_the_rest_stands(
    broken: Callable[[str], Rule], monkeypatch: pytest.MonkeyPatch, scope: str
) -> None:
    """The report says which rule, where, and what to report; it weighs what the rule would."""
    monkeypatch.setattr(engine, "FAIL_LOUDLY", False)
    rig = small_rig()
    before = check(rig)
    engine._memos = Remembered()
    broken(scope)
    after = check(rig)
    failed = [finding for finding in after if finding.rule == "rule-failed"]
    assert [finding.where for finding in failed] == SCOPES[scope]
    for finding in failed:
        assert finding.severity == "warning"
        assert finding.message.startswith(
            "Rule breaks failed here, so its findings are missing: "
            f"ValueError: gone␛[2J ({__name__}, line "
        )
        assert finding.why.startswith("This is a fault in rigtui, not in your rig")
        assert place_in_words(rig, finding.where) != finding.where
    assert [finding.message for finding in after if finding.rule == "breaks"] == [
        "found in time"
    ] * len(failed)
    others = [finding for finding in after if finding.rule not in ("rule-failed", "breaks")]
    assert tuple(others) == before


def test_a_rule_that_raises_fails_a_test(broken: Callable[[str], Rule]) -> None:
    """In the tests, and with `python -X dev`, nothing is swallowed."""
    broken("song")
    with pytest.raises(ValueError, match="gone"):
        check(small_rig())


def test_a_rule_that_failed_can_be_waived(
    broken: Callable[[str], Rule], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The player who has reported it need not see it every night; it ends with the fault."""
    monkeypatch.setattr(engine, "FAIL_LOUDLY", False)
    rig = edits.waive(small_rig(), "rule-failed", "songs.low-fen", "reported")
    assert ("stale-waiver", "waivers.0") in places(check(rig))
    broken("song")
    engine._memos = Remembered()
    findings = check(rig)
    assert ("stale-waiver", "waivers.0") not in places(findings)
    waived = [finding.where for finding in findings if finding.waived == "reported"]
    assert waived == ["songs.low-fen"]


def test_every_family_of_rules_is_in_the_registry() -> None:
    """A module of rules that nobody calls would be no rules at all."""
    modules = (importlib.import_module(f"rigtui.checks.{module.name}") for module in
               iter_modules(checks.__path__))  # fmt: skip
    rules = {rule.id for module in modules for rule in getattr(module, "RULES", ())}
    assert rules == {rule.id for rule in RULES}


@pytest.mark.parametrize("path", [*files("trips"), *demo_paths()], ids=lambda path: path.stem)
def test_a_rule_of_one_row_looks_at_no_other_song_and_no_setlist(path: Path) -> None:
    """Its findings are remembered while that row and the board stay the same."""
    rig = rig_of(path)
    nothing_else = {"songs": (), "setlists": (), "waivers": (), "printed": ()}
    for scope, table in (("pedal", "pedals"), ("preset", "presets"), ("song", "songs")):
        for row in getattr(rig, table):
            alone = nothing_else | ({"songs": (row,)} if scope == "song" else {})
            whole, bare = (
                engine._of_row(engine._BY_SCOPE[scope], RigView.of(either), table, row)
                for either in (rig, rig.model_copy(update=alone))
            )
            assert whole == bare
