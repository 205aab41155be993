"""What a plan is asked: options that make no sense any more fall away by themselves."""

from __future__ import annotations

from rigs_made import make_rig, pedal, preset, setlist, song, switcher

from rigtui.plan.ask.question import Question

RIG = make_rig(
    switcher=switcher(),
    pedals=[pedal("drive"), pedal("echo")],
    presets=[preset("one", memory=1), preset("two", memory=2)],
    songs=[song("a", "one", "two")],
    setlists=[setlist("night", "a")],
)


def test_options_about_what_is_gone_fall_away() -> None:
    """What is asked of a pedal, preset or setlist stays as long as the rig has it."""
    asked = Question(
        "all",
        ("night", "gone"),
        pins={"drive": "in", "gone": "in"},
        keep=("two", "gone"),
        apart=(("drive", "echo"), ("drive", "gone")),
        pin_switch={"one": 2, "gone": 1},
        copies=1,
    )
    assert asked.fitting(RIG) == Question(
        "all",
        ("night",),
        pins={"drive": "in"},
        keep=("two",),
        apart=(("drive", "echo"),),
        pin_switch={"one": 2},
        copies=1,
    )


def test_options_of_another_kind_of_plan_fall_away() -> None:
    """A plan of loops pins no presets and makes no copies; a route asks only what comes first."""
    asked = Question(
        "all", pins={"drive": "in"}, pin_switch={"one": 2}, keep=("one",), first="extra", copies=1
    )
    loops = asked.unset("pin_switch", "copies")
    assert asked.changed({"kind": "loops"}).fitting(RIG) == loops.changed({"kind": "loops"})
    assert asked.changed({"kind": "route"}).fitting(RIG) == Question("route", first="extra")
