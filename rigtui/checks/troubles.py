"""Say in a few words what findings are about, without rule ids."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from rigtui.checks.finding import Finding
from rigtui.checks.registry import RULES_BY_ID
from rigtui.model.text import count, listed

_NOUNS = {
    "bank-hop": ("change across banks with no time for it", "changes across banks with no time"),
    "carry-over": ("setting left over from an earlier section", "settings left over from before"),
    "crowded-change": ("change with two presses on a beat", "changes with two presses on a beat"),
    "gate-vs-volume": ("sound with a gate on a rolled-back guitar", None),
    "guitar-conflict": ("swap of guitar or tuning with no time", "swaps with no time"),
    "late-change": (
        "change that you can't finish in time",
        "changes that you can't finish in time",
    ),
    "late-set-up": ("song you can't set up in time", "songs you can't set up in time"),
    "move-outside": ("pedal that uses up memories", "pedals that use up memories"),
    "off-grid": ("song off the delay's time", "songs off the delay's time"),
    "one-time-many-songs": ("delay time that fits only some songs", None),
    "set-time": ("set that is too long", "sets that are too long"),
    "smear": ("echo that runs into distortion", "echoes that run into distortion"),
    "stale-echo": ("old echo that comes back", "old echoes that come back"),
    "stale-sheet": ("sheet to print again", "sheets to print again"),
    "too-long": ("song too slow for the delay's longest time", "songs too slow for the delay"),
}
"""What is there, once and more often, of rules whose findings are warnings or errors."""
_ADVICE = ("piece of advice", "pieces of advice")


def trouble(rule: str) -> str:
    """Say what the findings of a rule are about: "changes with two presses on a beat"."""
    if rule not in _NOUNS:
        return _about(rule)
    noun, nouns = _NOUNS[rule]
    return nouns or _several(noun)


def troubles(findings: Sequence[Finding]) -> str:
    """Say what findings are about: "1 change across banks with no time for it".

    Advice is only counted; the findings themselves say the rest.
    """
    heavy = Counter(finding.rule for finding in findings if finding.severity != "advice")
    words = [_words(rule, number) for rule, number in heavy.items()]
    light = len(findings) - heavy.total()
    if light:
        words.append(count(light, *_ADVICE))
    return listed(words)


def _words(rule: str, number: int) -> str:
    if rule in _NOUNS:
        noun, nouns = _NOUNS[rule]
        return count(number, noun, nouns or _several(noun))
    return f"{count(number, 'warning')} ({_about(rule)})"


def _several(noun: str) -> str:
    return noun.replace(" ", "s ", 1)


def _about(rule: str) -> str:
    known = RULES_BY_ID.get(rule)
    about = known.summary.rstrip(".").partition(". ")[0] if known is not None else "A check failed"
    return about[0].lower() + about[1:]


def each_said(findings: Sequence[Finding], most: int) -> Iterator[str]:
    """Give the messages of warnings and errors, the first few of them, and what advice is about."""
    heavy = [finding for finding in findings if finding.severity != "advice"]
    for finding in heavy[:most]:
        yield f"New: {finding.message}"
    if len(heavy) > most:
        yield f"And {len(heavy) - most} more like these"
    light = Counter(finding.rule for finding in findings if finding.severity == "advice")
    if light:
        words = (
            _about(rule) + (f" ({number} times)" if number > 1 else "")
            for rule, number in light.items()
        )
        yield f"New advice: {'; '.join(words)}"
