"""The work on a batch of patch leads: what to buy, in which order to do it, how long it takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rigtui.bench.leads import Lead
from rigtui.bench.typical import PLUGS_MM
from rigtui.model import Rig
from rigtui.model.layout import PatchLead, PlugShape

SPARES = 1
"""Plugs of each shape over what the leads take. Source: common practice."""
MOST_OHMS = 1.0
"""Tip to tip of a sound lead at the most, the meter's own leads taken off. Source: common
practice."""
STEPS = (
    "Measure and cut every lead, and label both ends with its number.",
    "Strip every end to the length for its plug.",
    "Slide barrel, sleeve and heat-shrink onto every end of the cable BEFORE you "
    "solder: nothing goes over a soldered plug.",
    "Tin and solder tip and sleeve of every end, and let each cool without moving it.",
    "Shrink, close the barrels, and pull gently at each plug.",
    "Test every lead: tip to tip closed, sleeve to sleeve closed, tip to sleeve open.",
)
"""As a production line: one step on every lead before the next. Source: common practice."""
SOLDERING = (
    "Soldering: the iron, the joint and hot air burn. Wear eye protection, use fume "
    "extraction and do not breathe the fumes. Solder may contain lead, so wash your "
    "hands before you eat. Stand the iron in its holder, and unplug it when you "
    "leave. Local codes override this; leave mains wiring and amps to a licensed "
    "technician."
)


def plugs_to_buy(rig: Rig, leads: Sequence[Lead]) -> dict[PlugShape, int]:
    """Plugs of each shape that are not at hand yet, with a spare of each shape in use."""
    used = Counter(plug.shape for lead in leads for plug in lead.plugs)
    have = {row.shape: row.have for row in reversed(rig.plugs)}
    return {
        shape: max(0, used[shape] + SPARES - have.get(shape, 0))
        for shape in PLUGS_MM
        if used[shape]
    }


def minutes_for(rig: Rig, leads: Sequence[Lead]) -> float:
    """Minutes for a batch, by the player's own pace: a cut and a test a lead, two ends each."""
    pace = rig.bench
    each = pace.cut_minutes + 2 * (pace.strip_minutes + pace.solder_minutes) + pace.test_minutes
    return len(leads) * each


def faults_of(row: PatchLead) -> list[str]:
    """What a test found wrong with a patch lead, in words."""
    faults = []
    if row.tip == "open":
        faults.append("tip to tip is open")
    if row.sleeve == "open":
        faults.append("sleeve to sleeve is open")
    if row.across == "closed":
        faults.append("tip to sleeve is closed: a short")
    if row.ohms is not None and row.ohms > MOST_OHMS:
        faults.append(f"tip to tip measures {row.ohms:g} ohms, more than {MOST_OHMS:g}")
    return faults


def passed(row: PatchLead) -> bool | None:
    """Whether a patch lead passed; None where not every part of the test was recorded."""
    if faults_of(row):
        return False
    whole = (row.tip, row.sleeve, row.across) == ("closed", "closed", "open")
    return True if whole else None


def tested(lead: Lead) -> bool | None:
    """Whether a lead passed its test; None where none, or no whole one, was recorded."""
    return None if lead.record is None else passed(lead.record)
