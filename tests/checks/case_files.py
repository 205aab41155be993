"""Cases of rules: short rig files that say in comments what a rule must find in them.

A file RULE.trips.toml holds, next to the thing at fault, a block for each finding of that rule:

    #> warning songs.low-fen.sections.3
    #> The whole message, in one line.
    #> fix: its label (no such line: there is no fix)
    #> why: only where it differs from the rule's own

A file RULE.passes.toml is nearly the same rig, and the rule finds nothing in it.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from rigtui.checks import RULES, Finding, Fix, check
from rigtui.model import Rig, rig_from_data

FOLDER = Path(__file__).parent / "cases"
_BLOCK = re.compile(r"(?:^[ \t]*#> .*\n?)+", re.M)


def files(kind: str) -> list[Path]:
    """All case files of a kind, "trips" or "passes"."""
    return sorted(file for file in FOLDER.glob(f"*.{kind}*.toml"))


def rule_of(file: Path) -> str:
    """Id of the rule that a case file is about."""
    return file.name.split(".")[0]


def rig_of(file: Path) -> Rig:
    """The rig in a case file."""
    return rig_from_data(tomllib.loads(file.read_text(encoding="utf-8")))


def found(rig: Rig, rule_id: str) -> list[Finding]:
    """What one rule finds in a rig."""
    return [finding for finding in check(rig) if finding.rule == rule_id]


def expected(file: Path) -> list[Finding]:
    """The findings that a case file asks for; of a fix, only its label is compared."""
    blocks = _BLOCK.findall(file.read_text(encoding="utf-8"))
    return [_finding(rule_of(file), block) for block in blocks]


def _finding(rule_id: str, block: str) -> Finding:
    first, message, *more = (line.strip()[3:] for line in block.strip().splitlines())
    severity, where = first.split(" ", 1)
    extra = dict(line.split(": ", 1) for line in more)
    why = extra.pop("why", None) or next(rule.why for rule in RULES if rule.id == rule_id)
    fix = Fix(extra.pop("fix"), lambda rig: rig) if "fix" in extra else None
    assert not extra, f"unknown line in a block of {rule_id}: {extra}"
    return Finding(rule_id, severity, where, message, why, fix)  # type: ignore[arg-type]
