"""What a change of a rig does to its findings: how many of each weight, and which rules grow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from rigtui.checks.finding import SEVERITIES, Finding
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
        return sum(one.before for one in self.severities)

    @property
    def after(self) -> int:
        """Findings after the change."""
        return sum(one.after for one in self.severities)

    def worse(self) -> str | None:
        """Say that errors or warnings become more, and which rules find more; None if not."""
        grown = [one for one in self.severities if one.after > one.before and one.name != "advice"]
        if not grown:
            return None
        said = listed(f"{_NOUNS[one.name]} ({_pair(one)})" for one in grown)
        rules = [f"{one.name} {_pair(one)}" for one in self.rules if one.after > one.before]
        return f"More {said} than today; more of {', '.join(rules)}"

    def headline(self) -> str:
        """Say "Findings 75 → 112: errors 0, warnings 20 → 31, advice 55 → 81"."""
        parts = [f"{_NOUNS[one.name]} {_pair(one)}" for one in self.severities]
        return f"Findings {self.before} → {self.after}: {', '.join(parts)}"

    def lines(self) -> list[str]:
        """Say which rules find more and which find fewer, a line each."""
        return [*self.more(), *self.fewer()]

    def more(self) -> list[str]:
        """Say in a line which rules find more, if any do."""
        return _line("more", [one for one in self.rules if one.after > one.before])

    def fewer(self) -> list[str]:
        """Say in a line which rules find fewer, if any do."""
        return _line("fewer", [one for one in reversed(self.rules) if one.after < one.before])


def difference(before: Iterable[Finding], after: Iterable[Finding]) -> Difference:
    """Count the findings of a rig before and after a change."""
    old, new = ([one for one in found if one.waived is None] for found in (before, after))
    severities = _tallies(
        Counter(str(one.severity) for one in old), Counter(str(one.severity) for one in new)
    )
    rules = _tallies(Counter(one.rule for one in old), Counter(one.rule for one in new))
    by_weight = {one.name: one for one in severities}
    return Difference(
        tuple(by_weight.get(name, Tally(name, 0, 0)) for name in SEVERITIES),
        tuple(
            sorted(
                (one for one in rules if one.before != one.after),
                key=lambda one: (one.before - one.after, one.name),
            )
        ),
    )


def _tallies(before: Counter[str], after: Counter[str]) -> list[Tally]:
    return [Tally(name, before[name], after[name]) for name in {**before, **after}]


def _line(title: str, rules: list[Tally]) -> list[str]:
    return [f"{title}: {', '.join(f'{one.name} {_pair(one)}' for one in rules)}"] if rules else []


def _pair(one: Tally) -> str:
    return f"{one.before} → {one.after}" if one.before != one.after else str(one.after)
