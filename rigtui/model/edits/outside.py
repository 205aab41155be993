"""Taking a pedal out of its loop, so that every section still sounds as it did.

The presets that differed in that pedal alone become one, and the sections that want the pedal
step it on themselves.
"""

from __future__ import annotations

from rigtui.model.base import Side
from rigtui.model.edits.board import set_chain
from rigtui.model.edits.folding import Fold, folds
from rigtui.model.edits.presets import without_loop
from rigtui.model.edits.tables import changed, place_of, recast, swapped_in
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.rig import Chain, Pedal, Rig, Section, Song
from rigtui.model.text import visible

# Which kinds stand before the loops of a side where nothing else decides.
# Source: the usual order of pedals, common practice.
BEFORE_LOOPS: dict[Side, tuple[str, ...]] = {
    "front": ("tuner", "buffer", "fuzz", "wah", "pitch", "compressor"),
    "fx": ("tuner", "buffer", "gate", "volume", "eq", "preamp"),
}


def take_outside(rig: Rig, pedal_id: str) -> Rig:
    """Take a pedal out of its loop and give it its own footswitch; sections keep their sounds.

    Presets that then store the same loops and channel become one: the first of them without the
    pedal, which takes over a memory if it has none. A loop left empty stays in the chain.

    Raises:
        EditError: the pedal is in no loop, or in more than one.
    """
    return TakenOut(rig, pedal_id).apply(rig)


class TakenOut:
    """What becomes of a rig's tables, and of each song, when one pedal leaves its loop."""

    def __init__(self, rig: Rig, pedal_id: str) -> None:
        """Work out the new tables.

        Raises:
            EditError: the pedal is in no loop, or in more than one.
        """
        known = lookup(rig)
        at = place_of(rig.pedals, pedal_id, "pedal")
        pedal = rig.pedals[at]
        homes = [loop for loop in rig.loops if pedal_id in loop.pedals]
        if len(homes) != 1:
            many = "more than one loop" if homes else "no loop"
            raise EditError(f"{visible(pedal.label)} is in {many}")
        loop = homes[0]
        rest = tuple(pedal for pedal in loop.pedals if pedal != pedal_id)
        self._pedal, self._pedal_id, self._number = pedal, pedal_id, loop.number
        self._inside = frozenset(loop.pedals)
        self._stand_in = next((pedal for pedal in rest if pedal in known.pedals), None)
        self._played = pedal.kind != "tuner"
        self._toggling = known.toggling
        self._presets_before = known.presets
        self.pedals = swapped_in(rig.pedals, at, changed(pedal, use=None))
        self.loops = tuple(changed(row, pedals=rest) if row is loop else row for row in rig.loops)
        self.fold = Fold(rig, () if rest else folds(rig, loop.number))
        self.presets = self.fold.presets
        if not rest:
            self.presets = tuple(without_loop(preset, loop.number) for preset in self.presets)

    def _chain(self, rig: Rig) -> Chain:
        pedal = self._pedal
        if pedal.id in rig.chain.front or pedal.id in rig.chain.fx:
            return rig.chain
        items: tuple[int | str, ...] = getattr(rig.chain, pedal.side)
        if self._number not in items:
            return put_beside_loops(rig, pedal).chain
        # Behind what stays in the loop, unless it stood at the loop's head.
        loop = lookup(rig).loops[self._number]
        behind = loop.pedals[0] != pedal.id
        at = items.index(self._number) + behind
        emptied = rig if self._inside - {pedal.id} else changed(rig, loops=self.loops)
        at = free_place(emptied, pedal, pedal.side, at)
        return set_chain(rig, pedal.side, (*items[:at], pedal.id, *items[at:])).chain

    def song(self, song: Song) -> Song:
        """The song with the pedal stepped on where it was heard, the very same if it never was."""
        sections = tuple(self._section(section) for section in song.sections)
        if all(old is new for old, new in zip(song.sections, sections)):
            return song
        return recast(song, sections=sections)

    def _section(self, section: Section) -> Section:
        changes = self.fold.changes(section)
        plus, minus = self._on_top(section)
        if plus != section.plus:
            changes["plus"] = plus
        if minus != section.minus:
            changes["minus"] = minus
        return recast(section, **changes) if changes else section

    def _on_top(self, section: Section) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Plus and minus with which a section sounds as before."""
        me, plus, minus = self._pedal_id, section.plus, section.minus
        preset = self._presets_before.get(section.preset or "")
        on = preset is not None and self._number in preset.loops
        if self._toggling:
            on = on or not self._inside.isdisjoint(plus)
            on = on and self._inside.isdisjoint(minus)
        elif me in plus and me not in minus:  # a wish that nothing could grant so far
            on = True
        wanted = self._played and on
        if self._toggling and self._stand_in is not None:  # the loop's others still go with it
            plus = self._for_the_others(plus)
            minus = self._for_the_others(minus)
        minus = tuple(pedal for pedal in minus if pedal != me)
        if not wanted:
            plus = tuple(pedal for pedal in plus if pedal != me)
        elif me not in plus:
            plus = (*plus, me)
        return plus, minus

    def _for_the_others(self, listed: tuple[str, ...]) -> tuple[str, ...]:
        """A list in which the pedal stood for its loop, with another of that loop beside it."""
        others = self._inside - {self._pedal_id}
        if self._pedal_id not in listed or not others.isdisjoint(listed):
            return listed
        assert self._stand_in is not None
        return (*listed, self._stand_in)

    def apply(self, rig: Rig, songs: tuple[Song, ...] | None = None) -> Rig:
        """The rig with the pedal taken out.

        Args:
            rig: The rig that this was worked out for; only its songs and setlists, and the order
                of its chain, may have changed.
            songs: Its songs as `song` gives them, where they are known already.
        """
        return changed(
            rig,
            pedals=self.pedals,
            loops=self.loops,
            chain=self._chain(rig),
            presets=self.presets,
            songs=tuple(self.song(song) for song in rig.songs) if songs is None else songs,
            waivers=self.fold.waivers(rig.waivers),
        )


def free_place(rig: Rig, pedal: Pedal, side: Side, at: int) -> int:
    """The place in a side's chain, near another, where a pedal is between no two loops.

    It goes before or after all loops, past as few that hold pedals as can be; on a switcher with
    jacks between its loops it may stay where it is.
    """
    items: tuple[int | str, ...] = getattr(rig.chain, side)
    loops = {loop.number: loop for loop in rig.loops}
    places = [place for place, item in enumerate(items) if item in loops]
    if not places or at <= places[0] or at > places[-1]:
        return at
    if rig.switcher and rig.switcher.between_loops:
        return at
    filled = [place for place in places if loops[int(items[place])].pedals]
    before = sum(place < at for place in filled)
    after = len(filled) - before
    first = before < after or (before == after and pedal.kind in BEFORE_LOOPS[side])
    return places[0] if first else places[-1] + 1


def put_beside_loops(rig: Rig, pedal: Pedal) -> Rig:
    """Put a pedal in the chain of its side, before or after the loops as its kind usually goes."""
    items: tuple[int | str, ...] = getattr(rig.chain, pedal.side)
    places = [place for place, item in enumerate(items) if isinstance(item, int)]
    if pedal.kind == "tuner":
        at = 0
    elif pedal.kind in BEFORE_LOOPS[pedal.side]:
        at = places[0] if places else len(items)
    else:
        at = places[-1] + 1 if places else len(items)
    return set_chain(rig, pedal.side, (*items[:at], pedal.id, *items[at:]))
