"""Evenings: what is carried from song to song, what a gap has to hold, and how a set adds up."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.checks import Finding, check
from rigtui.checks.evening import stops
from rigtui.checks.finding import RigView
from rigtui.model import Rig, rig_from_data
from rigtui.moves.tunings import strings_in_words, strings_to_retune

RIGS = Path(__file__).parents[2] / "rigs"
STANDARD, DROPPED = "E A D G B E", "D A D G B E"


def rig(*songs: Any, sets: Any = None, player: Any = None) -> Rig:
    """Songs in one set, on a board of a quiet and a loud preset."""
    ids = [row["id"] for row in songs]
    return make_rig(
        amp={"channels": ["drive", "clean"], "drive_channels": ["drive"]},
        switcher=switcher(),
        pedals=[pedal("comp"), pedal("drive", "distortion")],
        loops=[loop(1, "comp"), loop(2, "drive")],
        presets=[
            preset("quiet", 1, memory=1),
            preset("chop", 1, memory=2, role="clean"),
            preset("solo", 2, memory=3, role="lead"),
        ],
        songs=list(songs),
        setlists=[{"id": "gig", "sets": sets or [{"songs": ids}]}],
        player=player or {},
    )


def found(board: Rig, rule: str) -> list[Finding]:
    """What one rule finds."""
    return [finding for finding in check(board) if finding.rule == rule]


def swaps(board: Rig) -> list[tuple[str, ...]]:
    """What is done to the guitar before each song."""
    return [stop.swap.words for stop in stops(RigView.of(board), board.setlists[0])]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (STANDARD, DROPPED, "low E down to D"),
        (DROPPED, STANDARD, "low D up to E"),
        (STANDARD, "D A D G A D", "low E down to D, B down to A and high E down to D"),
        ("D A D G A D", "D A D G B E", "string 2 (A) up to B and high D up to E"),
        (STANDARD, "Eb Ab Db Gb Bb Eb", "6 strings, to Eb Ab Db Gb Bb Eb"),
        (STANDARD, "E A D F# B E", "G down to F#"),
        (STANDARD, "E A D G B F", "high E up to F"),
        (STANDARD, "Bb A D G B E", "low E to Bb"),  # as far either way
        (STANDARD, "E A X G B E", "D to X"),
        ("E A D G", "D A D G", "E down to D"),
        ("standard", "drop D", "to drop D"),
        (STANDARD, "open G", "to open G"),
        ("B E A D F# B E", STANDARD, f"to {STANDARD}"),
    ],
)
def test_strings_are_named_where_both_tunings_are_known(old: str, new: str, words: str) -> None:
    """The way a player says it: which string, which way, to which note; many are counted."""
    assert strings_in_words(strings_to_retune(old, new), new) == words


@pytest.mark.parametrize("new", [STANDARD, "E A D G B e", "Fb A D G B E", "standard", "EADGBE"])
def test_the_same_notes_are_nothing_to_retune(new: str) -> None:
    """However they are written."""
    board = rig(song("a", "quiet", tuning=STANDARD), song("b", "quiet", tuning=new))
    assert swaps(board) == [(), ()]


def test_each_guitar_keeps_its_own_tuning_and_capo() -> None:
    """Changing guitars and back is no retuning, and a capo stays where it was left."""
    board = rig(
        song("a", "quiet", guitar="main", tuning=STANDARD, capo=2),
        song("b", "quiet", guitar="spare", tuning=DROPPED),
        song("c", "quiet", guitar="main", tuning=STANDARD, capo=2),
        song("d", "quiet", guitar="spare", tuning=STANDARD, capo=1),
    )
    assert swaps(board) == [
        (),
        ("change to spare",),
        ("change to main",),
        ("change to spare", "retune low D up to E", "put the capo on 1"),
    ]


def test_what_a_song_does_not_name_is_as_before() -> None:
    """Guitar and tuning left out are those of the song before; nothing is there to do."""
    board = rig(
        song("a", "quiet", guitar="main", tuning=DROPPED),
        song("b", "quiet"),
        song("c", "quiet", tuning=DROPPED),
        song("d", "quiet", tuning=STANDARD),
    )
    assert swaps(board) == [(), (), (), ("retune low D up to E",)]


def test_the_first_song_is_set_up_before_the_evening() -> None:
    """Whatever the first song wants is ready; a capo later on must be put on."""
    board = rig(song("a", "quiet", capo=3), song("b", "quiet", capo=0), song("c", "quiet", capo=2))
    assert swaps(board) == [(), ("take the capo off",), ("put the capo on 2",)]


def test_named_tunings_count_as_one_string_at_least() -> None:
    """Where strings cannot be counted, the message does not pretend to."""
    board = rig(
        song("a", "quiet", tuning="standard", gap_seconds=5), song("b", "quiet", tuning="open")
    )
    (finding,) = found(board, "guitar-conflict")
    assert finding.message == "a → b needs 10 s to retune to open; the gap is 5 s"


def test_the_break_between_sets_is_time_enough() -> None:
    """A change of guitar over the break is not measured against a gap."""
    songs = (song("a", "quiet", guitar="main", gap_seconds=0), song("b", "quiet", guitar="spare"))
    assert len(found(rig(*songs), "guitar-conflict")) == 1
    parted = rig(*songs, sets=[{"songs": ["a"]}, {"songs": ["b"]}])
    assert found(parted, "guitar-conflict") == []


def test_a_gap_of_its_own_is_a_promise_and_the_usual_gap_is_not() -> None:
    """Too little time is an error where the song names its gap, else a warning."""
    for keys, severity in (({"gap_seconds": 15}, "error"), ({}, "warning")):
        board = rig(song("a", "quiet", guitar="x", **keys), song("b", "quiet", guitar="y"))
        assert [finding.severity for finding in found(board, "guitar-conflict")] == [severity]


def test_songs_that_there_are_not_are_passed_over() -> None:
    """A dangling song in a set neither stops the evening nor shifts anybody's place."""
    first = song("a", "quiet", guitar="x", gap_seconds=1)
    board = rig(first, song("b", "quiet", guitar="y"), sets=[{"songs": ["a", "ghost", "b"]}])
    assert [finding.where for finding in found(board, "guitar-conflict")] == [
        "setlists.gig.sets.0.songs.2"
    ]


def test_songs_without_sections_are_no_obstacle() -> None:
    """An empty song is played in no time, and nothing of it is late."""
    board = rig(song("a", gap_seconds=0), song("b", "quiet"), song("c", gap_seconds=0))
    assert found(board, "late-set-up") == []


def test_a_segue_is_a_change_like_any_other() -> None:
    """A lone press is made as the beat comes; a volume that takes a second is not, in one of 0.5 s.

    Hands and foot work at once: the longer of the two counts.
    """
    low = song("a", section("quiet", guitar_volume=4), gap_seconds=0)
    for volume, hits in ((4, 0), (10, 1)):
        board = rig(low, song("b", section("solo", guitar_volume=volume)))
        slow = board.player.model_copy(update={"volume_seconds": 1, "press_seconds": 1})
        assert len(found(board.model_copy(update={"player": slow}), "late-set-up")) == hits


def test_hands_that_change_a_capo_cannot_turn_a_volume_meanwhile() -> None:
    """What is done to the guitar between songs and what the hands do on it come one after another.

    By hand: 6 s for the capo and 3 s for the volume are in time in a gap of 10 s; 6 and 6 are not.
    """
    low = song("a", section("quiet", guitar_volume=4), gap_seconds=10)
    board = rig(low, song("b", section("solo", guitar_volume=10), capo=2))
    for volume_seconds, hits in ((3, 0), (6, 1)):
        slow = board.player.model_copy(
            update={"capo_seconds": 6, "volume_seconds": volume_seconds, "press_seconds": 1}
        )
        assert len(found(board.model_copy(update={"player": slow}), "late-set-up")) == hits


def test_a_volume_left_down_is_told_once_until_it_is_touched() -> None:
    """Three loud songs after a quiet one are one finding; another quiet one starts afresh."""
    quiet = section("quiet", guitar_volume=3)
    board = rig(
        song("a", quiet),
        song("b", "solo"),
        song("c", "solo"),
        song("d", quiet, section("solo", guitar_volume=10), quiet),
        song("e", "solo"),
    )
    assert [finding.where[-1] for finding in found(board, "carry-over")] == ["1", "4"]


def test_another_guitar_has_its_own_volume() -> None:
    """What one guitar was rolled down to does not concern the next."""
    board = rig(
        song("a", section("quiet", guitar_volume=3), guitar="main"),
        song("b", "solo", guitar="spare"),
    )
    assert found(board, "carry-over") == []


def test_a_song_is_told_of_its_own_leavings_by_itself() -> None:
    """Inside a song the finding is the song's, and the evening does not repeat it."""
    board = rig(song("a", section("quiet", guitar_volume=3), "solo"))
    assert [finding.where for finding in found(board, "carry-over")] == ["songs.a.sections.1"]


def test_the_amp_is_on_its_first_channel_when_the_evening_starts() -> None:
    """A clean preset without a channel comes up on drive, if that is the amp's first channel."""
    (finding,) = found(rig(song("a", "chop")), "carry-over")
    assert finding.where == "setlists.gig.sets.0.songs.0"
    assert "still on drive from power-on" in finding.message
    assert finding.fix is not None
    assert finding.fix.label == "store channel clean with chop"


def test_a_capo_left_on_is_told_once() -> None:
    """The first song that says nothing of the capo is told, not the ones after it."""
    board = rig(song("a", "quiet", capo=2), song("b", "quiet"), song("c", "quiet"))
    hits = found(board, "carry-over")
    assert [hit.where[-1] for hit in hits] == ["1"]
    assert hits[0].fix is not None
    assert found(hits[0].fix.edit(board), "carry-over") == []


def test_a_set_is_songs_gaps_and_what_swaps_take_beyond_the_gaps() -> None:
    """60 s, a swap of 30 s in a gap of 15 and 60 s again are 2:30; the last gap is not played."""
    board = rig(
        song("a", section("quiet", bars=30), guitar="x"),
        song("b", section("quiet", bars=30), guitar="y", gap_seconds=500),
        sets=[{"name": "Late set", "songs": ["a", "b"], "slot_minutes": 2.4}],
    )
    (finding,) = found(board, "set-time")
    assert finding.severity == "error"
    assert finding.message.startswith(
        "Late set runs 2:30, 0:30 of it between songs, in a slot of 2:24"
    )


@pytest.mark.parametrize(
    ("minutes", "severity"), [(2.0, "warning"), (1.999, "error"), (2.1, "warning"), (2.11, None)]
)
def test_a_slot_may_be_full_but_not_more(minutes: float, severity: str | None) -> None:
    """120 s fit in 2 minutes to the second; 95 % of the slot and below are silent."""
    board = rig(
        song("a", section("quiet", bars=60)), sets=[{"songs": ["a"], "slot_minutes": minutes}]
    )
    assert [finding.severity for finding in found(board, "set-time")] == (
        [severity] if severity else []
    )


def test_an_open_repeat_is_said_to_be_a_guess() -> None:
    """A set time that rests on guessed bars says so."""
    vamp = section("quiet", bars=60, until="the nod")
    board = rig(song("a", vamp), sets=[{"songs": ["a"], "slot_minutes": 2}])
    assert "1 open repeat in it may run longer" in found(board, "set-time")[0].message


def test_grouping_is_proposed_in_the_order_in_which_guitars_come_up() -> None:
    """x y x z y takes 4 changes and could take 2: the fix brings each guitar's songs together."""
    board = rig(*(song(f"s{at}", "quiet", guitar=name) for at, name in enumerate("xyxzy")))
    (finding,) = found(board, "swap-order")
    assert "4 times" in finding.message
    assert "2 would be enough" in finding.message
    assert finding.fix is not None
    ordered = finding.fix.edit(board)
    assert ordered.setlists[0].sets[0].songs == ("s0", "s2", "s1", "s4", "s3")
    assert found(ordered, "swap-order") == []


@pytest.mark.parametrize(
    "tie", [{"gap_seconds": 0}, {"guitar": None}], ids=["a segue", "a song that names no guitar"]
)
def test_no_order_is_proposed_for_songs_that_belong_where_they_stand(tie: dict[str, Any]) -> None:
    """A set with a gap of its own, or a song played on what is there, is not torn apart."""
    rows = [song(f"s{at}", "quiet", guitar=name) for at, name in enumerate("xyxy")]
    rows[1] = {key: value for key, value in (rows[1] | tie).items() if value is not None}
    if "guitar" in tie:
        rows.append(song("s4", "quiet", guitar="x"))
        rows[3] = song("s3", "quiet", guitar="y")
    hits = found(rig(*rows), "swap-order")
    assert [hit.fix for hit in hits] == [None]


def test_the_trio_swaps_four_times_where_once_would_do() -> None:
    """Two guitars in the order D D S D S D: four swaps, grouped one (worked out by hand)."""
    text = (RIGS / "three-piece.toml").read_text(encoding="utf-8")
    (finding,) = found(rig_from_data(tomllib.loads(text)), "swap-order")
    assert "4 times" in finding.message
    assert "1 would be enough" in finding.message


def test_two_setlists_are_two_evenings() -> None:
    """A fault between two songs is told of the evening in which they meet, and of no other."""
    board = make_rig(
        presets=[preset("quiet")],
        songs=[
            song("a", "quiet", guitar="x", gap_seconds=1),
            song("b", "quiet", guitar="y", gap_seconds=60),
        ],
        setlists=[setlist("one", "a", "b"), setlist("two", "b", "a")],
    )
    assert [finding.where for finding in found(board, "guitar-conflict")] == [
        "setlists.one.sets.0.songs.1"
    ]
