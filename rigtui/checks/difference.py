"""What a change of a rig does to its findings: how many of each weight, and which rules grow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from rigtui.checks.finding import SEVERITIES, Finding
from rigtui.checks.troubles import trouble
from rigtui.model.text import listed

_NOUNS = {"error": "errors", "warning": "warnings", "advice": "advice"}


@dataclass(frozen=True, slots=True)
class Tally:
    """How many findings of one kind there were and will be."""

    name: str
    """A severity, or a rule's id."""
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class Difference:
    """The findings of a rig before and after a change; waived ones are not counted."""

    severities: tuple[Tally, ...]
    """Errors, warnings, advice."""
    rules: tuple[Tally, ...]
    """Rules whose findings become more or fewer, those that grow most first."""

    @property
    def before(self) -> int:
        """Findings before the change."""
        return sum(tally.before for tally in self.severities)

    @property
    def after(self) -> int:
        """Findings after the change."""
        return sum(tally.after for tally in self.severities)

    @property
    def more_errors(self) -> bool:
        """Whether the change adds errors."""
        return any(
            tally.name == "error" and tally.after > tally.before for tally in self.severities
        )

    def worse(self) -> str | None:
        """Say that errors or warnings become more, and what they are about; None if not."""
        grown = [
            tally
            for tally in self.severities
            if tally.after > tally.before and tally.name != "advice"
        ]
        if not grown:
            return None
        said = listed(f"{_NOUNS[tally.name]} ({_pair(tally)})" for tally in grown)
        rules = [_said(tally) for tally in self.rules if tally.after > tally.before]
        return f"More {said} than today: {'; '.join(rules)}"

    def headline(self) -> str:
        """Say "Findings 75 → 112: errors 0, warnings 20 → 31, advice 55 → 81"."""
        parts = [f"{_NOUNS[tally.name]} {_pair(tally)}" for tally in self.severities]
        return f"Findings {self.before} → {self.after}: {', '.join(parts)}"

    def lines(self) -> list[str]:
        """Say what there is more of and what less, a line each."""
        return [*self.more(), *self.fewer()]

    def more(self) -> list[str]:
        """Say in a line what there is more of, if anything."""
        return _line("more", [tally for tally in self.rules if tally.after > tally.before])

    def fewer(self) -> list[str]:
        """Say in a line what there is less of, if anything."""
        return _line(
            "fewer", [tally for tally in reversed(self.rules) if tally.after < tally.before]
        )


def difference(before: Iterable[Finding], after: Iterable[Finding]) -> Difference:
    """Count the findings of a rig before and after a change."""
    old, new = (
        [finding for finding in findings if finding.waived is None] for findings in (before, after)
    )
    severities = _tallies(
        Counter(str(finding.severity) for finding in old),
        Counter(str(finding.severity) for finding in new),
    )
    rules = _tallies(
        Counter(finding.rule for finding in old), Counter(finding.rule for finding in new)
    )
    by_weight = {tally.name: tally for tally in severities}
    return Difference(
        tuple(by_weight.get(name, Tally(name, 0, 0)) for name in SEVERITIES),
        tuple(
            sorted(
                (tally for tally in rules if tally.before != tally.after),
                key=lambda tally: (tally.before - tally.after, tally.name),
            )
        ),
    )


def _tallies(before: Counter[str], after: Counter[str]) -> list[Tally]:
    return [Tally(name, before[name], after[name]) for name in {**before, **after}]


def _line(title: str, rules: list[Tally]) -> list[str]:
    if not rules:
        return []
    return [f"{title}: {'; '.join(map(_said, rules))}"]


def _said(tally: Tally) -> str:
    """Say of a rule "changes with two presses on a beat 7 → 34"."""
    return f"{trouble(tally.name)} {_pair(tally)}"


def _pair(tally: Tally) -> str:
    return f"{tally.before} → {tally.after}" if tally.before != tally.after else str(tally.after)
