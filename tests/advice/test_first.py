"""Do these first: every remedy was tried, does what it says, and adds nothing that it hides."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from advice.compromise_oracle import drawn_rig
from advice.evenings_drawn import drawn_evening
from hypothesis import HealthCheck, given, settings
from moves.rigs_drawn import Data, rigs
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.advice.first import MOST, First, do_first
from rigtui.advice.proposals import Asked, board
from rigtui.advice.remedy import Remedy
from rigtui.advice.stages import staged, stages
from rigtui.advice.words import does, remedy_in_full
from rigtui.checks import Finding, check
from rigtui.checks.registry import RULES_BY_ID
from rigtui.checks.troubles import _NOUNS
from rigtui.model import Rig, rig_from_data
from rigtui.moves import count_setlist, count_song
from rigtui.plan.ask.evening import evening_of
from rigtui.store.load import load

RIGS = Path(__file__).parents[2] / "rigs"
HARD_ROCK = Path(__file__).parents[1] / "checks" / "hard_rock.toml"


def _figures(rig: Rig) -> tuple[int, int, int]:
    counts = [count_setlist(rig, row) for row in rig.setlists] or [
        count_song(rig, row) for row in rig.songs
    ]
    return (
        sum(count.unplayable for count in counts),
        sum(count.extra_presses for count in counts),
        sum(count.moves for count in counts),
    )


def _keys(findings: tuple[Finding, ...]) -> Counter[tuple[str, str, str]]:
    return Counter((f.rule, f.severity, f.where) for f in findings if f.waived is None)


def _holds(rig: Rig, first: First) -> int:
    """Do every remedy to the rig and count again; return how many there are."""
    now, findings = _figures(rig), _keys(check(rig))
    assert len(first.remedies) <= MOST
    ranks = [remedy.rank for remedy in first.remedies]
    assert ranks == sorted(ranks)
    for remedy in first.remedies:
        then = remedy.proposal.edit(rig)
        clears = remedy.clears
        promised = (clears["unplayable"], clears["extra_presses"], clears["moves"])
        assert tuple(a - b for a, b in zip(now, _figures(then))) == promised, remedy.proposal.what
        after = _keys(check(then))
        assert _keys(remedy.added) == after - findings, remedy.proposal.what
        assert clears["findings"] == (findings - after).total()
        assert _helps(remedy), remedy.proposal.what
        _goes_with(rig, first, remedy)
    return len(first.remedies)


def _helps(remedy: Remedy) -> bool:
    """Whether it makes less to do, or takes findings away for nothing."""
    errors = [sum(f.severity == "error" for f in side) for side in (remedy.added, remedy.cleared)]
    less = remedy.after.order < remedy.before.order
    return errors[0] <= errors[1] and (less or len(remedy.cleared) > len(remedy.added))


def _goes_with(rig: Rig, first: First, remedy: Remedy) -> None:
    """Remedies that are said to go together can be done together, and undo nothing."""
    for at in remedy.goes_with:
        other = first.remedies[at]
        assert first.remedies.index(remedy) in other.goes_with
        earlier, later = sorted((first.remedies.index(remedy), at))
        both = first.remedies[later].proposal.edit(first.remedies[earlier].proposal.edit(rig))
        assert _figures(both)[0] <= min(remedy.after.unplayable, other.after.unplayable)


@pytest.mark.parametrize("demo", [*sorted(RIGS.glob("*.toml")), HARD_ROCK], ids=lambda p: p.stem)
def test_every_remedy_of_a_demo_does_what_it_says(demo: Path) -> None:
    """Applied, it gives the figures that it promised, and adds no finding that it did not name."""
    rig = load(demo)[1]
    assert _holds(rig, do_first(rig)) >= 2


@pytest.mark.parametrize("seed", range(12))
def test_every_remedy_of_a_drawn_rig_does_what_it_says(seed: int) -> None:
    """The same on rigs that nobody made for it."""
    rig = rig_from_data(drawn_rig(seed))
    _holds(rig, do_first(rig))


@pytest.mark.long
@settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
@given(rigs())
def test_every_remedy_of_a_hundred_drawn_rigs_does_what_it_says(data: Data) -> None:
    """The same on a hundred, with bad references and odd switchers among them."""
    rig = rig_from_data(data)
    _holds(rig, do_first(rig))


@pytest.mark.parametrize("seed", range(4))
def test_every_remedy_of_an_evening_does_what_it_says(seed: int) -> None:
    """The same on evenings of six songs, a few too many sounds and a pedal under the foot."""
    rig = rig_from_data(drawn_evening(seed))
    assert _holds(rig, do_first(rig)) >= 1


@pytest.mark.long
def test_every_remedy_of_a_hundred_evenings_does_what_it_says(
    record_property: Callable[[str, object], None],
) -> None:
    """The same on a hundred of them; most kinds of remedies are among those offered."""
    kinds: Counter[str] = Counter()
    for seed in range(100):
        rig = rig_from_data(drawn_evening(seed))
        first = do_first(rig)
        _holds(rig, first)
        kinds.update(remedy.proposal.kind.split()[0] for remedy in first.remedies)
    record_property("counts", dict(kinds))
    assert {"give", "store", "early", "treadle", "fix", "gaps", "inside", "copies"} <= set(kinds)


def test_two_runs_say_the_same() -> None:
    """The work is bounded in steps, so that nothing depends on how fast the machine is."""
    path = RIGS / "quay-street.toml"
    said = [
        [(remedy.proposal.what, remedy.clears) for remedy in do_first(load(path)[1]).remedies]
        for _ in range(2)
    ]
    assert said[0] == said[1]


def test_the_first_remedy_of_the_function_band() -> None:
    """What no memory holds comes first: leave the chorus off."""
    first = do_first(load(RIGS / "quay-street.toml")[1])
    kinds = [remedy.proposal.kind for remedy in first.remedies]
    give_up = first.remedies[0]
    assert "Leave Wide chorus off in 15 sections of 8 songs" in give_up.proposal.what
    assert give_up.clears["unplayable"] == 13
    assert not give_up.proposal.as_if
    assert "more memories" not in kinds  # five others can be done with the board as it is
    early = first.remedies[kinds.index("early wah")]
    assert early.proposal.detail[0].startswith("You rest just before")  # else it would be heard


def _wah_rig(**more: object) -> Rig:
    return make_rig(
        switcher=switcher(4, 4),
        pedals=[pedal("wah", "wah"), pedal("drive", "overdrive")],
        loops=[loop(1, "drive")],
        chain={"front": ["wah", 1]},
        presets=[preset("dry", memory=1), preset("crunch", 1, memory=2)],
        songs=[song("a", section("dry", **more), section("crunch", plus=["wah"]), section("dry"))],
        setlists=[setlist("night", "a")],
    )


@pytest.mark.parametrize("demo", [*sorted(RIGS.glob("*.toml")), HARD_ROCK], ids=lambda p: p.stem)
def test_no_sentence_names_a_rule(demo: Path) -> None:
    """A player reads what is wrong, not what the program calls it."""
    for remedy in do_first(load(demo)[1]).remedies:
        for text in (remedy.proposal.what, does(remedy), *remedy_in_full(remedy)):
            assert not [rule for rule in RULES_BY_ID if re.search(rf"\b{rule}\b", text)], text


def test_what_is_said_of_rules_is_of_rules_that_there_are() -> None:
    """A rule that is called otherwise one day would be told by its summary."""
    assert set(_NOUNS) <= set(RULES_BY_ID)


def test_what_was_late_already_is_not_new() -> None:
    """A crowded change that was late as well stays late with a press less; it is said so."""
    first = do_first(load(RIGS / "quay-street.toml")[1])
    (treadle,) = (row for row in first.remedies if row.proposal.kind == "treadle wah")
    assert {finding.rule for finding in treadle.added} == {"late-change"}
    assert treadle.stays == treadle.added
    assert does(treadle).endswith("8 findings; 5 of these changes are still late")


def test_tails_in_a_loop_ask_the_switcher() -> None:
    """A loop that is switched out takes the pedal's output away, whatever the pedal can do."""
    for looped in (True, False):
        asked = Asked(rig := _echo_rig(looped), evening_of(rig, ()), check(rig))
        (tails,) = (row for row in board.propose(asked) if row and row.kind == "trails echo")
        assert ("loop 1 of your switcher" in tails.what) == looped


def _echo_rig(looped: bool) -> Rig:
    return make_rig(
        switcher=switcher(4, 4),
        pedals=[pedal("echo", "delay", delay_ms=500, feedback=0.5), pedal("drive", "overdrive")],
        loops=[loop(1, "echo" if looped else "drive")],
        chain={"front": [1, "drive" if looped else "echo"]},
        presets=[preset("dry", memory=1), preset("wet", 1, memory=2)],
        songs=[song("a", section("wet", plus=[] if looped else ["echo"]), section("dry"))],
    )


def _clean_rig(**more: object) -> Rig:
    """A delay that you step on for the second of three clean sections."""
    return make_rig(
        switcher=switcher(4, 4),
        pedals=[pedal("echo", "delay"), pedal("wide", "modulation")],
        loops=[loop(1, "wide")],
        chain={"front": [1, "echo"]},
        presets=[
            preset("dry", memory=1, role="clean"),
            preset("wet", 1, memory=2, role="clean"),
        ],
        songs=[song("a", section("dry", **more), section("wet", plus=["echo"]), section("dry"))],
        setlists=[setlist("night", "a")],
    )


def test_a_wah_is_not_switched_early_while_you_play() -> None:
    """It is heard wherever its treadle stands: dull with the heel down, thin with the toe down.

    Source: what a wah does, common practice (a band-pass filter that the treadle sweeps).
    """
    rig = _wah_rig()
    assert list(stages(rig, rig.songs[0])) == []
    assert "early wah" not in {remedy.proposal.kind for remedy in do_first(rig).remedies}


def test_staging_where_nobody_hears_it() -> None:
    """A delay goes on ahead of its first note; off ahead of the change it would be missed."""
    rig = _clean_rig()
    (stage,) = stages(rig, rig.songs[0])
    assert (stage.at, stage.pedal) == (1, "echo")
    assert stage.seconds == 0.5
    assert stage.before_seconds == 8  # four bars of 4/4 at 120
    assert stage.fits
    assert _figures(rig)[1] == 2
    then = staged(rig, [stage])
    assert then.songs[0].sections[1].early == ("echo",)
    assert _figures(then)[1] == 1


def test_staging_needs_the_time_of_the_section_before() -> None:
    """Half a beat before the change is no time to press anything ahead."""
    rig = _clean_rig(bars=0.1)
    (stage,) = stages(rig, rig.songs[0])
    assert not stage.fits
    assert not [r for r in do_first(rig).remedies if r.proposal.kind.startswith("early")]


def test_a_rest_hides_any_pedal() -> None:
    """Where the player rests before a section, the wah may go off ahead of it too."""
    rig = _wah_rig()
    sections = list(rig.songs[0].sections)
    data = sections[2].model_copy(update={"rest_beats": 2})
    song_then = rig.songs[0].model_copy(update={"sections": (*sections[:2], data)})
    assert [stage.at for stage in stages(rig, song_then)] == [2]


def test_trouble_that_only_moves_is_not_offered() -> None:
    """A crowded change that becomes a late one at the same place is no remedy."""
    rig = load(HARD_ROCK)[1]
    assert "treadle wah" not in {remedy.proposal.kind for remedy in do_first(rig).remedies}


def test_a_rig_without_songs_has_nothing_to_do_first() -> None:
    """Nor has one with nothing wrong."""
    assert do_first(make_rig()).remedies == ()
    calm = make_rig(
        switcher=switcher(2, 2),
        pedals=[pedal("drive", "overdrive")],
        loops=[loop(1, "drive")],
        chain={"front": [1]},
        presets=[preset("dry", memory=1), preset("crunch", 1, memory=2)],
        songs=[song("a", "dry", "crunch")],
    )
    assert do_first(calm).remedies == ()


def test_what_is_too_much_is_said_to_be_untried() -> None:
    """Giving up five of fifteen sounds in a long evening is left to the command."""
    numbers = range(1, 5)
    rows = [
        preset(
            f"s{mask}",
            *[n for n in numbers if mask >> (n - 1) & 1],
            **({"memory": mask} if mask <= 10 else {}),
        )
        for mask in range(1, 16)
    ]
    songs = [song(f"a{n}", *[f"s{1 + (n + k) % 15}" for k in range(6)]) for n in range(15)]
    rig = make_rig(
        switcher=switcher(10, 5),
        pedals=[pedal(f"p{n}") for n in numbers],
        loops=[loop(n, f"p{n}") for n in numbers],
        chain={"front": list(numbers)},
        presets=rows,
        songs=songs,
    )
    assert any("give up" in text for text in do_first(rig).untried)
