"""Whether a plan is worth its work: what it takes and what it saves are counted by hand here."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from plan.test_appraisal import made
from plan.test_brief import rig_of as drive_in_or_out
from rigs_made import loop, make_rig, pedal, preset, setlist, song, switcher

from rigtui.model.rig import Rig
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.verdict.appraisal import Appraisal, appraise
from rigtui.plan.verdict.other_setlists import OtherSetlist
from rigtui.plan.verdict.worth import Work, Worth, work_of, worth_of
from rigtui.plan.words.what_to_do import what_to_do


def rig_of(solo: int | None, spare: int, verses: int = 6, encores: int = 1) -> Rig:
    """Two banks of three: clean and dirt in bank 1, solo and a spare preset where they are put.

    Ay goes clean, dirt and so on; Be goes clean, solo, and is played as an encore.
    """
    presets = [preset("clean", memory=1), preset("dirt", 1, memory=2),
               preset("solo", 2, **({} if solo is None else {"memory": solo})),
               preset("spare", 1, 2, memory=spare)]  # fmt: skip
    return make_rig(
        switcher=switcher(6, 3),
        pedals=[pedal("drive"), pedal("boost")],
        loops=[loop(1, "drive"), loop(2, "boost")],
        chain={"front": [1, 2]},
        presets=presets,
        songs=[song("a", *["clean", "dirt"] * verses), song("b", "clean", "solo")],
        setlists=[setlist("night", "a", *["b"] * encores)],
    )


def weighed(now: Rig, then: Rig, **more: Any) -> Appraisal:
    """A plan from one rig to another, held against the first."""
    return appraise(made(now, then, **more), now, evening_of(now))


HARDLY = rig_of(4, 3), rig_of(3, 4)
"""Solo and spare change places: 2 memories to program.

Ay is 11 presses, Be 2 as solo is a bank away, then 1; power-on to clean and dirt to clean are a
press each between songs. 15 presses become 14.
"""


def test_much_work_for_next_to_nothing() -> None:
    """One press of fifteen is not worth two memories, and the sentence has both figures."""
    known = weighed(*HARDLY)
    assert work_of(*HARDLY) == Work(pedals=0, memories=2, sections=0, songs=0)
    assert worth_of(known) is Worth.HARDLY
    assert what_to_do(known) == (
        "Leave the rig as it is: it is hardly worth it to reprogram 2 memories (1/3 and 2/1) for "
        "1 fewer press a night (15 → 14)."
    )


def test_an_extra_press_that_stays_is_said() -> None:
    """Where there are crowded changes and the plan takes none away, the player hears of it."""
    known = weighed(*HARDLY)
    before, after = known.plan.before, known.plan.after
    assert after is not None
    busy = replace(known.plan, before=replace(before, extra_presses=4, crowded=3),
                   after=replace(after, extra_presses=4, crowded=3))  # fmt: skip
    assert what_to_do(replace(known, plan=busy)).endswith(
        " 1 fewer press a night (15 → 14), none of them an extra press."
    )


@pytest.mark.parametrize(("now", "then"), [
    (rig_of(4, 3, encores=2), rig_of(3, 4, encores=2)),  # 19 presses become 16
    (rig_of(4, 3, verses=1), rig_of(3, 4, verses=1)),  # 5 presses become 4: one in five
    (rig_of(None, 3), rig_of(4, 3)),  # solo could not be played
])  # fmt: skip
def test_a_plan_that_is_worth_it(now: Rig, then: Rig) -> None:
    """As many presses as things to do, a fifth of all presses, or something made playable."""
    known = weighed(now, then)
    assert worth_of(known) is Worth.TAKE
    assert what_to_do(known).startswith(
        "Before the gig, keep the pedals as they are and reprogram "
    )


def test_what_still_cannot_be_played_is_said() -> None:
    """A plan that is worth it for its presses leaves two sections as they are; or one of three."""
    known = weighed(rig_of(4, 3, encores=2), rig_of(3, 4, encores=2))
    plan = known.plan
    assert plan.after is not None
    for lost, still, said in (
        (2, 2, "(19 → 16), though 2 sections still can't be played."),
        (3, 2, ": 1 more section can be played (2 still can't), with 3 fewer presses a night "),
    ):
        before, after = replace(plan.before, unplayable=lost), replace(plan.after, unplayable=still)
        other = replace(known, plan=replace(plan, before=before, after=after))
        assert said in what_to_do(other)


@pytest.mark.parametrize("figure", ["extra_presses", "crowded"])
def test_a_crowded_change_less_is_always_worth_it(figure: str) -> None:
    """However much work it is."""
    known = weighed(*HARDLY)
    before = replace(known.plan.before, **{figure: 1})
    calmer = replace(known, plan=replace(known.plan, before=before))
    assert worth_of(calmer) is Worth.TAKE


def test_a_section_of_another_setlist_that_can_be_played_is_worth_it() -> None:
    """The plan was not made for it, but the player has it all the same."""
    more = OtherSetlist("sunday", "Sunday", 9, 9, (), (), 1)
    assert worth_of(replace(weighed(*HARDLY), others=(more,))) is Worth.TAKE


def test_nothing_gained_and_nothing_changed() -> None:
    """A spare preset in another memory changes no press; the other way round costs one."""
    now, then = HARDLY
    assert worth_of(weighed(now, now)) is Worth.STAY
    known = weighed(now, rig_of(4, 5))
    assert worth_of(known) is Worth.SAME
    assert what_to_do(known) == "Leave the rig as it is: this plan saves nothing."
    assert worth_of(weighed(then, now)) is Worth.WORSE


def test_presses_moved_between_songs_are_no_gain() -> None:
    """Three presses fewer inside songs and four more between are not worth a memory."""
    known = weighed(*HARDLY)
    before, after = known.plan.before, known.plan.after
    assert after is not None
    moved = replace(after, moves=before.moves - 3, set_up_moves=before.set_up_moves + 4)
    known = replace(known, plan=replace(known.plan, after=moved))
    assert worth_of(known) is Worth.HARDLY
    assert what_to_do(known).endswith(" for 3 fewer presses inside songs but 4 more between.")


def test_what_a_plan_takes() -> None:
    """Drive leaves its loop and is stepped on in one section; another order is one thing more."""
    now = drive_in_or_out(1, 3, 2)
    assert work_of(now, drive_in_or_out(1, None, 2, inside=False)) == Work(1, 0, 1, 1)
    turned = now.model_copy(update={"chain": now.chain.model_copy(update={"front": (2, 1)})})
    assert work_of(now, turned) == Work(1, 0, 0, 0)
    assert work_of(now, now).things == 0
