"""A plan in four lines and one sentence: every figure is counted by hand here."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from plan.test_appraisal import made
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.model.rig import Rig
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.verdict.appraisal import Appraisal, appraise
from rigtui.plan.words.brief import head, songs_that_change, too_crowded
from rigtui.plan.words.caveats import brief_caveats, caveats
from rigtui.plan.words.what_to_do import _in_and_out, what_to_do


def rig_of(*memories: int | None, inside: bool = True) -> Rig:
    """Three presets in some memories of two banks of two, a drive in loop 1 or outside.

    Ay is played twice and goes clean, dirt, clean; Be goes clean, lead.
    """
    dirt: dict[str, Any] = {} if inside else {"plus": ["drive"]}
    own = ["clean", section("dirt" if inside else "clean", **dirt), "clean"]
    presets = [preset("clean", name="Clean"), preset("dirt", 1, name="Dirt"),
               preset("lead", 2, name="Lead")]  # fmt: skip
    for row, memory in zip(presets, memories):
        row.update({} if memory is None else {"memory": memory})
    return make_rig(
        switcher=switcher(4, 2),
        pedals=[pedal("drive", name="Drive"), pedal("echo", name="Echo")],
        loops=[loop(1, "drive") if inside else loop(1), loop(2, "echo")],
        chain={"front": [1, 2] if inside else ["drive", 1, 2]},
        presets=presets,
        songs=[song("a", *own, title="Ay"), song("b", "clean", "lead", title="Be")],
        setlists=[setlist("night", "a", "b", "a")],
    )


def weighed(now: Rig, then: Rig, **more: Any) -> Appraisal:
    """A plan from one rig to another, held against the first."""
    return appraise(made(now, then, **more), now, evening_of(now))


def lines(known: Appraisal) -> dict[str, str]:
    """The four lines."""
    return {line.name: line.text for line in head(known)}


def test_a_bank_step_is_saved() -> None:
    """Dirt moves next to clean: in Ay 2 x 2 moves become 2 x 1, twice; Be's 1 becomes 2.

    Between songs and from power-on: 1 to clean, Ay to Be none, Be (lead) to Ay's clean 1, and then
    2 with lead a bank away. By hand: 9 → 6 inside, 2 → 3 between.
    """
    known = weighed(rig_of(1, 3, 2), rig_of(1, 2, 3))
    said = lines(known)
    assert list(said) == ["Can be played", "Extra presses", "Presses", "Proof"]
    assert said["Can be played"] == "every section"
    assert said["Extra presses"] == "none, as today (presses beyond the first on one beat)"
    assert said["Presses"] == "inside songs 9 → 6, between 2 → 3, in all 11 → 9"
    assert said["Proof"].startswith("not proved")
    assert what_to_do(known) == (
        "Before the gig, keep the pedals as they are and reprogram 2 memories (1/2 and 2/1): "
        "2 fewer presses a night (11 → 9)."
    )


def test_what_could_not_be_played_can() -> None:
    """Lead has no memory, so a section of Be cannot be played; with the plan it has one."""
    known = weighed(rig_of(1, 2, None), rig_of(1, 2, 3))
    assert lines(known)["Can be played"] == "every section; 1 can't today (Lead not stored)"
    assert lines(known)["Extra presses"].startswith("none, as today")
    assert what_to_do(known).startswith(
        "Before the gig, keep the pedals as they are and reprogram 1 memory (2/1): every section "
        "can be played (1 can't today)"
    )
    back = weighed(rig_of(1, 2, 3), rig_of(1, 2, None))
    assert lines(back)["Can be played"] == (
        "all but 1 section (Lead not stored); today every section"
    )
    assert what_to_do(back) == (
        "Leave the rig as it is: with this plan 1 more section can't be played."
    )


def test_more_effort_is_not_advised() -> None:
    """The other way round the plan costs three presses, and the sentence says to stay."""
    known = weighed(rig_of(1, 2, 3), rig_of(1, 3, 2))
    assert what_to_do(known) == (
        "Leave the rig as it is: this plan has 2 more presses a night (9 → 11)."
    )


def test_nothing_to_do() -> None:
    """A plan that leaves the rig as it is says so, and how sure that is."""
    rig = rig_of(1, 2, 3)
    assert what_to_do(weighed(rig, rig)) == ("Leave the rig as it is: no better plan was found.")
    known = weighed(rig, rig, bound=6)
    assert what_to_do(known) == (
        "Leave the rig as it is: no other loops, memories or mapping would need fewer presses "
        "inside songs."
    )
    assert lines(known)["Presses"] == "inside songs 6, between 3, in all 9, as today"


def test_what_to_plug_and_to_learn() -> None:
    """Drive leaves its loop: it is stepped on in one section of one song."""
    known = weighed(rig_of(1, 3, 2), rig_of(1, None, 2, inside=False))
    assert what_to_do(known).startswith(
        "Before the gig, take Drive out of loop 1 and relearn 1 section: "
    )


def test_pedals_that_go_in_and_out_of_loops_are_named() -> None:
    """Of much to re-plug the exchange of two pedals is named, and the rest is counted."""
    pedals = [pedal(x, name=x.title()) for x in ("gate", "boost", "wide", "drive")]
    now, then = (
        make_rig(
            pedals=pedals,
            loops=[loop(number, *inside) for number, inside in enumerate(loops, 1)],
            chain={"front": [1, 2, 3, *outside]},
        )
        for loops, outside in (
            ([["drive"], ["gate"], ["wide"]], ["boost"]),
            ([["drive"], ["wide"], ["boost"]], ["gate"]),
        )
    )
    assert _in_and_out(now, then, 4) == [
        "take Gate out of loop 2", "put Boost in loop 3", "re-plug 2 more things",
    ]  # fmt: skip
    assert _in_and_out(now, now, 4) == ["re-plug 4 things"]


def test_a_crowded_plan_is_called_so() -> None:
    """A plan that leaves a sound without a memory is, one that only saves bank steps is not."""
    assert not too_crowded(weighed(rig_of(1, 3, 2), rig_of(1, 2, 3)))
    assert too_crowded(weighed(rig_of(1, 2, 3), rig_of(1, 2, None)))


def test_songs_that_gain_or_lose_most() -> None:
    """Ay gains two presses, Be loses one; a song that stays is in neither list."""
    known = weighed(rig_of(1, 3, 2), rig_of(1, 2, 3))
    better, worse = songs_that_change(known.songs, 3)
    assert ([row.song for row in better], [row.song for row in worse]) == (["a"], ["b"])
    assert songs_that_change(known.songs, 0) == ([], [])


def test_the_caveats_in_brief_are_among_all_of_them() -> None:
    """What the four lines say is not said again; all else is."""
    for known in (weighed(rig_of(1, 2, None), rig_of(1, 2, 3)),
                  weighed(rig_of(1, 2, 3), rig_of(1, 3, 2))):  # fmt: skip
        assert set(brief_caveats(known)) <= set(caveats(known))
    nothing = replace(known, plan=replace(known.plan, rig=None, after=None))
    assert brief_caveats(nothing) == caveats(nothing)
