"""Every rule against rig files that trip it and rig files that do not."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from checks.case_files import expected, files, found, rig_of, rule_of

from rigtui.checks import RULES, Finding, check
from rigtui.model import rig_from_data, rig_to_data

RULE_IDS = list(dict.fromkeys(rule.id for rule in RULES))

each_trip = pytest.mark.parametrize("file", files("trips"), ids=lambda file: file.stem)
each_pass = pytest.mark.parametrize("file", files("passes"), ids=lambda file: file.stem)


@pytest.mark.parametrize("rule_id", RULE_IDS)
def test_every_rule_has_a_case_that_trips_it_and_one_that_passes(rule_id: str) -> None:
    """No rule is without a file for either."""
    for kind in ("trips", "passes"):
        assert rule_id in {rule_of(file) for file in files(kind)}, kind


@pytest.mark.parametrize("file", files("trips") + files("passes"), ids=lambda file: file.stem)
def test_no_case_is_of_a_rule_that_is_gone(file: Path) -> None:
    """A case file is named after a rule of the registry."""
    assert rule_of(file) in RULE_IDS


@each_trip
def test_a_case_that_trips_gives_the_whole_findings(file: Path) -> None:
    """Severity, place, message, why and the fix's label are those that the file states."""
    wanted = expected(file)
    assert wanted
    assert found(rig_of(file), rule_of(file)) == wanted


@each_pass
def test_a_case_that_passes_gives_none(file: Path) -> None:
    """The rule has nothing to say of the near miss."""
    assert expected(file) == []
    assert found(rig_of(file), rule_of(file)) == []


@each_trip
def test_fixes_mend_what_they_belong_to(file: Path) -> None:
    """Each fix alone takes its finding away, brings no new error, and leaves the old rig alone."""
    rig = rig_of(file)
    plain, before = rig_to_data(rig), check(rig)
    for finding in found(rig, rule_of(file)):
        if finding.fix is None:
            continue
        mended = finding.fix.edit(rig)
        assert rig_to_data(rig) == plain
        assert finding.fix.edit(rig) == mended
        assert rig_from_data(rig_to_data(mended)) == mended
        after = check(mended)
        assert times(after, finding) == times(before, finding) - 1, finding.fix.label
        assert not errors(after) - errors(before), finding.fix.label


def times(findings: tuple[Finding, ...], finding: Finding) -> int:
    """How often a finding is there."""
    keys = [(finding.rule, finding.where, finding.message) for finding in findings]
    return keys.count((finding.rule, finding.where, finding.message))


def errors(findings: tuple[Finding, ...]) -> Counter[tuple[str, str]]:
    """Errors by rule and place."""
    return Counter(
        (finding.rule, finding.where) for finding in findings if finding.severity == "error"
    )
