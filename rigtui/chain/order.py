"""Signal order of a rig: which pedal stands before which, from the guitar to the speaker."""

from __future__ import annotations

from rigtui.model import Rig
from rigtui.model.base import SIDES
from rigtui.model.lookup import lookup
from rigtui.model.remembered import Remembered


class Chain:
    """Places of pedals along the signal, the amp's own preamp between front and fx.

    Pedals that the chain leaves out have no place.
    """

    def __init__(self, rig: Rig) -> None:
        found = lookup(rig)
        self.places: dict[str, int] = {}
        self.amp = 0
        for side in SIDES:
            if side == "fx":
                self.amp = len(self.places)
            for item in getattr(rig.chain, side):
                inside = found.loops[item].pedals if item in found.loops else ()
                for pedal in (item,) if isinstance(item, str) else inside:
                    if pedal in found.pedals:
                        self.places.setdefault(pedal, len(self.places))

    def before(self, first: str, second: str) -> bool:
        """Whether both pedals have a place and the first stands nearer to the guitar."""
        a, b = self.places.get(first), self.places.get(second)
        return a is not None and b is not None and a < b

    def before_amp(self, pedal: str) -> bool:
        """Whether a pedal stands before the amp's input."""
        place = self.places.get(pedal)
        return place is not None and place < self.amp


_chains: Remembered[Chain] = Remembered()


def chain_of(rig: Rig) -> Chain:
    """Return the rig's signal order, the very same one while its tables are the same objects."""
    parts = (rig.pedals, rig.loops, rig.chain)
    return _chains.get(parts, lambda: Chain(rig))
