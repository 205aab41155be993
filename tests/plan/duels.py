"""Evenings for duels between whole plans and a plain annealing, and one duel.

`PYTHONPATH=tests python tests/plan/duels.py 10 presets:0 evening:12 demo:quay-street` has both look
for so many seconds of processor time and prints what each found.
"""

from __future__ import annotations

import random
import sys
import time

from plan.evenings import drawn_evening
from plan.test_loops import weights_of
from plan.whole_annealing import WholeAnnealing
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from screens import DEMOS

from rigtui.model import Rig
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.store.load import load


def of_ten_presets(seed: int) -> Rig:
    """Twelve songs over ten presets in 20 memories, banks of five or of four.

    Each song has three to five of the presets; a wah outside the loops comes in now and then.
    """
    draw = random.Random(seed)
    loops = range(1, 7)
    masks = draw.sample(range(1 << len(loops)), 10)
    presets = [
        preset(f"s{nth}", *[at for at in loops if mask >> at - 1 & 1], memory=nth + 1)
        for nth, mask in enumerate(masks)
    ]
    songs = []
    for nth in range(12):
        palette = draw.sample(range(10), draw.randint(3, 5))
        parts = [
            section(f"s{draw.choice(palette)}", plus=["wah"] if draw.random() < 0.1 else [])
            for _ in range(draw.randint(7, 10))
        ]
        songs.append(song(f"song{nth}", *parts))
    return make_rig(
        switcher=switcher(20, 4 if seed % 2 else 5),
        pedals=[pedal("wah", "wah"), *(pedal(f"p{at}") for at in loops)],
        loops=[loop(at, f"p{at}") for at in loops],
        chain={"front": ["wah", *loops], "fx": []},
        presets=presets,
        songs=songs,
        setlists=[setlist("night", *[row["id"] for row in songs])],
    )


def rig_of(name: str) -> Rig:
    """The rig that is meant by presets:N, evening:N or demo:NAME."""
    kind, which = name.split(":")
    if kind == "demo":
        return load(DEMOS / f"{which}.toml")[1]
    return of_ten_presets(int(which)) if kind == "presets" else drawn_evening(int(which))


def duel(rig: Rig, seconds: float, seed: int = 1) -> str:
    """Have both look for so long; say what they found."""
    asked = Question("all", seconds=seconds)
    begun = time.process_time()
    made = plan(rig, asked)
    took = time.process_time() - begun
    assert made.rig is not None
    assert made.after is not None
    annealing = WholeAnnealing(rig, asked, weights := weights_of(rig, asked))
    said = f"plan {made.value:g} ({made.after.extra_presses} extra, {made.after.moves} moves, "
    said += f"bound {made.lower_bound:g}, {took:.1f} s)"
    rows = [[row.pedals for row in each.loops] for each in (rig, made.rig)]
    today, own = map(annealing.layout_of, rows)
    starts = {
        "annealing": (None, False),
        "from today's loops": (today, False),
        "in the plan's loops": (own, True),
    }
    for name, (layout, fixed) in starts.items():
        found = annealing.run(seconds, seed, layout, fixed=fixed)
        said += f"; {name} {found.weight / weights.move:g} ({found.tried} tries)"
        said += " BETTER" if found.weight / weights.move < made.value else ""
    return said


if __name__ == "__main__":
    time.monotonic = time.process_time
    for each in sys.argv[2:]:
        print(f"{each}: {duel(rig_of(each), float(sys.argv[1]))}", flush=True)
