"""How far line level stands above what a pedal for a guitar expects, from the definitions.

Source: 0 dBu is the voltage of 1 mW in 600 ohms, 0 dBV is 1 V; +4 dBu and -10 dBV are the usual
nominal levels (common practice).
"""

from __future__ import annotations

import math

import pytest

from rigtui.checks import RULES


def test_line_level_is_about_12_db_above() -> None:
    """The figures that the rule gives for its reason."""
    line = math.sqrt(0.001 * 600) * 10 ** (4 / 20)
    instrument = 10 ** (-10 / 20)
    assert line == pytest.approx(1.228, abs=0.001)
    assert instrument == pytest.approx(0.316, abs=0.001)
    apart = 20 * math.log10(line / instrument)
    assert apart == pytest.approx(11.8, abs=0.05)
    rule = next(rule for rule in RULES if rule.id == "loop-level")
    assert f"{line:.3f} V" in rule.source
    assert f"{instrument:.3f} V" in rule.source
    assert f"{apart:.1f} dB" in rule.source
