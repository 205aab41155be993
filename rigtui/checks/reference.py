"""The list of all rules, written out of the registry for the docs.

Regenerate the page: python -m rigtui.checks.reference > docs/rules.md
"""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.checks.finding import SEVERITIES, Rule
from rigtui.checks.registry import RULES

_HEAD = """\
# Rules

What `rigtui report` and the Report screen check, and why. A rule is no law of music: nearly every
one has been broken well on purpose. If you mean it, waive the finding with your reason. It stays
listed but no longer counts:

```toml
[[waivers]]
rule = "smear"
where = "presets.slapback"
reason = "one short repeat into the drive is the sound"
```

An **error** can't work as written, or means that something can't be counted. A **warning** is
likely to be heard, or fumbled. **Advice** is worth knowing. If a finding can have another severity
than its rule, the rule says when. Many findings come with a fix; one undo takes it back.

The source "common practice" means a habit of the trade that no standard lays down. "Default" means
that the figure is a starting point: measure your own.

If a rule itself fails, the report shows one finding `rule-failed` instead, which says what to
report. Everything else is checked as usual.

The program writes this page: `python -m rigtui.checks.reference`.
"""


def rules_markdown() -> str:
    """Return the page of all rules, by severity, in the registry's order."""
    return "\n".join([_HEAD, *_body()])


def _body() -> Iterator[str]:
    rules = _by_id()
    for severity in SEVERITIES:
        yield f"## {severity.capitalize()}{'' if severity == 'advice' else 's'}"
        yield ""
        for rule_id, parts in rules.items():
            if parts[0].severity == severity:
                yield from _section(rule_id, parts)


def _by_id() -> dict[str, list[Rule]]:
    """Rules by id: one that looks at presets and at songs is in the registry twice."""
    rules: dict[str, list[Rule]] = {}
    for rule in RULES:
        rules.setdefault(rule.id, []).append(rule)
    return rules


def _section(rule_id: str, parts: list[Rule]) -> Iterator[str]:
    summaries = dict.fromkeys(rule.summary for rule in parts)
    source = parts[0].source
    yield f"### `{rule_id}`"
    yield ""
    yield " ".join(summaries)
    yield ""
    yield f"*Why:* {parts[0].why}"
    yield ""
    yield f"*Source:* {source[0].upper()}{source[1:].rstrip('.')}."
    yield ""


if __name__ == "__main__":
    print(rules_markdown(), end="")
