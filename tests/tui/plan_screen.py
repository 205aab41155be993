"""The plan view in tests: a rig that a plan betters, and a planner that answers as it is told."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigs_made import loop, pedal, preset, section, setlist, song, switcher
from screens import until
from textual.pilot import Pilot

from rigtui.model.rig import Rig
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan
from rigtui.tui.app import RigApp
from rigtui.tui.views.plan.view import PlanView

RIG: dict[str, Any] = {
    "name": "Harbour rig",
    "switcher": switcher(memories=4, bank_size=2),
    "pedals": [pedal("drive", "overdrive", name="Drive"), pedal("chorus", name="Chorus")],
    "loops": [loop(1, "drive"), loop(2, "chorus")],
    "chain": {"front": [1, 2]},
    "presets": [
        preset("clean", name="Clean", memory=1),
        preset("dirt", 1, name="Dirt", memory=3),
        preset("both", 1, 2, name="Both", memory=2),
    ],
    "songs": [
        song("low", "clean", "dirt", "clean", "dirt", title="Low Fen"),
        song("tin", "clean", "both", title="Tin Moth"),
    ],
    "setlists": [setlist("friday", "low", "tin", name="Friday"), setlist("sunday", "tin")],
}
"""Clean and dirt are in different banks: three changes of two moves, and one more of one. Clean and
dirt in one bank, both in the other: three of one move, and one of two. 7 moves become 5."""

Fake = Callable[[str, Plan], None]


def rig_data_with(name: str) -> dict[str, Any]:
    """Plain data of a rig in which everything that can have a name has this one."""
    return {
        "name": name,
        "switcher": switcher(memories=4, bank_size=2, name=name),
        "pedals": [pedal("drive", name=name), pedal("wah", name=name), pedal("tail", name=name)],
        "loops": [loop(1, "drive"), loop(2)],
        "chain": {"front": ["wah", 1, 2, "tail"]},
        "presets": [
            preset("one", name=name, memory=1, channel=name),
            preset("two", 1, name=name, memory=3),
        ],
        "songs": [
            song(
                "song",
                section("one", name=name),
                section("two", name=name, plus=["wah"]),
                section("one", name=name, plus=["tail"]),
                title=name,
            )
        ],
        "setlists": [setlist("night", "song", name=name)],
    }


def switches(rig: Rig) -> Plan:
    """The plan of switches for the first setlist."""
    return plan(rig, Question("switches", ("friday",), copies=0))


def view_of(app: RigApp) -> PlanView:
    """The plan on the screen."""
    return app.query_one(PlanView)


def rig_of(app: RigApp) -> Rig:
    """The rig as it is now."""
    assert app.document is not None
    return app.document.rig


async def planned(app: RigApp, pilot: Pilot[Any], fake: Fake, made: Plan) -> None:
    """Have the planner come to a plan, and wait until it is on the screen."""
    fake("at-once", made)
    await pilot.press("p")
    await until(pilot, lambda: view_of(app).runs.plan)


async def weighed(app: RigApp, pilot: Pilot[Any], fake: Fake, made: Plan) -> None:
    """The same, and wait until its findings are counted too."""
    await planned(app, pilot, fake, made)
    await until(pilot, lambda: view_of(app).worth.findings)
