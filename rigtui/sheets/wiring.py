"""The wiring sheet: the way from guitar to amp and back, jack by jack."""

from __future__ import annotations

from datetime import date

from rigtui.chain.graph import AMP, GUITAR, SWITCHER, Jack, leads
from rigtui.model import Rig
from rigtui.model.lookup import lookup
from rigtui.model.text import count
from rigtui.sheets.content import Para, Part, Sheet, Table
from rigtui.sheets.program import BOX

MAINS = (
    "Mains: never remove, tape or bypass a protective earth to cure hum. Use undamaged leads and, "
    "where local rules provide it, residual-current protection. Any tingle: stop, switch off at "
    "the supply, and get a qualified electrician. Local codes and venue rules override this sheet."
)
VALVES = (
    "Valve amps: lethal voltages stay inside even unplugged; do not open them. Never run one "
    "without its proper load. Leave internal work to a qualified technician."
)


def wiring_sheet(rig: Rig, day: date) -> Sheet:
    """Describe the wiring sheet: leads in signal order, what is in which loop, what is outside."""
    found = lookup(rig)
    wired = leads(rig)
    rows = tuple(
        (str(at), _jack(rig, lead.start), _jack(rig, lead.end), lead.kind, BOX)
        for at, lead in enumerate(wired, 1)
    )
    table = Table("Leads in signal order", ("", "from", "to", "lead", "done"), rows,
                  (0.06, 0.37, 0.37, 0.1, 0.1))  # fmt: skip
    long = sum(lead.kind == "long" for lead in wired)
    in_all = f"{count(len(wired) - long, 'patch lead')} and {count(long, 'long lead')}"
    loops = tuple(
        (
            str(loop.number),
            "before the amp" if loop.side == "front" else "effects loop",
            ", ".join(found.label(pedal) for pedal in loop.pedals) or "empty",
        )
        for loop in rig.loops
    )
    inside = Table("Pedals in loops", ("loop", "side", "pedals"), loops, (0.12, 0.28, 0.6))
    uses = {"foot": "its own footswitch", "always": "left on", "between": "between songs"}
    outside = tuple(
        (
            pedal.label,
            "before the amp" if pedal.side == "front" else "effects loop",
            uses[found.use_of(pedal)],
        )
        for pedal in found.outside()
    )
    free = Table("Pedals outside", ("pedal", "side", "use"), outside, (0.4, 0.3, 0.3))
    parts = [
        Part((table, Para(f"{in_all}, not counting control and power leads.")), "Jack by jack"),
        Part((inside,), "In the loops"),
    ]
    parts += [Part((free,), "Outside the loops")] * bool(outside)
    parts.append(Part((Para(MAINS, "caution"), Para(VALVES, "caution")), "Before you plug in"))
    subtitle = f"{rig.name}: {in_all}"
    return Sheet("wiring", "Wiring sheet", subtitle, tuple(parts), day)


def _jack(rig: Rig, jack: Jack) -> str:
    boxes = {
        GUITAR: "Guitar",
        AMP: rig.amp.name or "Amp",
        SWITCHER: (rig.switcher.name if rig.switcher else "") or "Switcher",
    }
    return f"{boxes.get(jack.box) or lookup(rig).label(jack.box)}: {jack.name}"
