"""The page of rules is what the registry says."""

from __future__ import annotations

from pathlib import Path

from rigtui.checks import RULES
from rigtui.checks.reference import rules_markdown

PAGE = Path(__file__).parents[2] / "docs" / "rules.md"


def test_the_page_of_rules_is_up_to_date() -> None:
    """docs/rules.md is what the program writes today."""
    assert PAGE.read_text(encoding="utf-8") == rules_markdown(), (
        "regenerate: python -m rigtui.checks.reference > docs/rules.md"
    )


def test_the_page_has_every_rule_once() -> None:
    """Each id is one heading, with its summaries, its reason and its source below."""
    text = rules_markdown()
    headings = [line[5:-1] for line in text.splitlines() if line.startswith("### ")]
    assert sorted(headings) == sorted({rule.id for rule in RULES})
    for rule in RULES:
        section = text.split(f"### `{rule.id}`\n", 1)[1].split("\n### ", 1)[0]
        assert rule.summary in section
        assert rule.why in section
