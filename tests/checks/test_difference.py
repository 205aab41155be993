"""Findings before and after a change, counted by weight and by rule."""

from __future__ import annotations

from rigtui.checks import Finding, Severity, difference


def found(rule: str, severity: Severity, times: int, waived: str | None = None) -> list[Finding]:
    """Some findings of a rule."""
    return [Finding(rule, severity, "switcher", "", "", waived=waived)] * times


def test_weights_and_rules_that_grow() -> None:
    """Each weight before and after, rules that grow most first, waived findings left out."""
    before = [
        *found("late-change", "warning", 2),
        *found("name-blur", "advice", 3),
        *found("same", "advice", 1),
        *found("waived", "warning", 4, "I like it"),
    ]
    after = [
        *found("late-change", "warning", 3),
        *found("crowded-change", "warning", 5),
        *found("memory-clash", "error", 1),
        *found("name-blur", "advice", 1),
        *found("same", "advice", 1),
    ]
    both = difference(before, after)
    assert (both.before, both.after) == (6, 11)
    more = (
        "changes with two presses on a beat 0 → 5; changes that you can't finish in time 2 → 3; "
        "two presets are in the same memory, or one preset lists it twice 0 → 1"
    )
    assert both.worse() == f"More errors (0 → 1) and warnings (2 → 8) than today: {more}"
    assert both.headline() == "Findings 6 → 11: errors 0 → 1, warnings 2 → 8, advice 4 → 2"
    assert both.lines() == [
        f"more: {more}",
        "fewer: a preset's name doesn't fit the display, or starts like another's in its bank "
        "3 → 1",
    ]


def test_nothing_changes() -> None:
    """As many of each: nothing is named."""
    same = found("late-change", "warning", 2)
    both = difference(same, same)
    assert both.headline() == "Findings 2 → 2: errors 0, warnings 2, advice 0"
    assert (both.lines(), both.worse()) == ([], None)
