"""Checks of rigs that load and are otherwise as wrong as can be."""

from __future__ import annotations

from typing import Any

from checks.rigs_wild import wild_rigs
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from moves.rigs_drawn import Data

from rigtui.checks import Checkup, Finding, check, touching
from rigtui.model import EditError, Rig, edits, rig_from_data, rig_to_data


@examples(20)
@given(wild_rigs())
def test_a_check_of_a_wild_rig_ends_and_is_the_same_twice(data: Data) -> None:
    """No dangling name, doubled place or missing table stops a check, and its order is fixed."""
    assert check(rig_from_data(data)) == check(rig_from_data(data))


@examples(20)
@given(wild_rigs())
def test_fixes_of_a_wild_rig_are_pure_edits(data: Data) -> None:
    """Each fix changes something, gives a rig that loads, and leaves the old one as it was."""
    rig = rig_from_data(data)
    plain = rig_to_data(rig)
    for finding in check(rig):
        if finding.fix is not None:
            mended = finding.fix.edit(rig)
            assert mended != rig, finding
            assert rig_from_data(rig_to_data(mended)) == mended, finding
            assert rig_to_data(rig) == plain


@examples(20)
@given(wild_rigs())
def test_messages_show_no_control_characters(data: Data) -> None:
    """Whatever a name holds, a finding's words can be put on a terminal."""
    for finding in check(rig_from_data(data)):
        words = finding.message + finding.why + (finding.fix.label if finding.fix else "")
        assert all(char.isprintable() for char in words), finding


def _an_edit(draw: Any, rig: Rig, findings: tuple[Finding, ...]) -> Rig:
    """One edit of the kinds that a player makes, or a fix."""
    fixes = [finding.fix for finding in findings if finding.fix is not None]
    kind = draw(st.sampled_from(("fix", "section", "preset", "song", "chain", "player")))
    if kind == "fix" and fixes:
        return draw(st.sampled_from(fixes)).edit(rig)
    if kind == "preset" and rig.presets:
        preset = draw(st.sampled_from(rig.presets))
        return edits.toggle_loop(rig, preset.id, draw(st.integers(1, 4)))
    if kind == "chain":
        return edits.take_from_chain(rig, draw(st.integers(1, 4)))
    songs = [song for song in rig.songs if song.sections]
    if kind == "section" and songs:
        song = draw(st.sampled_from(songs))
        at = draw(st.integers(0, len(song.sections) - 1))
        preset = draw(st.sampled_from((None, "s0", "s1", "nowhere")))
        return edits.set_section(rig, song.id, at, preset=preset)
    if kind == "song" and rig.songs:
        return edits.delete_song(rig, draw(st.sampled_from(rig.songs)).id)
    return edits.set_amp(rig, fx_loop=not rig.amp.fx_loop)


@examples(20)
@given(wild_rigs(), st.data())
def test_what_is_remembered_is_what_a_fresh_check_finds(data: Data, drawn: st.DataObject) -> None:
    """After every edit the findings are those of the same rig read anew, sharing nothing."""
    rig = rig_from_data(data)
    for _ in range(4):
        findings = check(rig)
        assert findings == check(rig_from_data(rig_to_data(rig)))
        try:
            rig = _an_edit(drawn.draw, rig, findings)
        except EditError:
            continue


@examples(15)
@given(wild_rigs())
def test_a_checkup_taken_piece_by_piece_ends_in_the_same_findings(data: Data) -> None:
    """Nothing is there before the last piece, everything after it."""
    rig = rig_from_data(data)
    checkup = Checkup(rig)
    for _ in checkup:
        assert checkup.findings == ()
    assert checkup.findings == check(rig)


@examples(15)
@given(wild_rigs())
def test_findings_of_a_song_leave_out_other_songs_and_all_setlists(data: Data) -> None:
    """Of the places that are kept, those in songs are of that song."""
    rig = rig_from_data(data)
    song_id = rig.songs[0].id
    findings = check(rig)
    kept = touching(rig, findings, {song_id})
    gone = [finding for finding in findings if finding not in kept]
    songs = {finding.where.split(".")[1] for finding in kept if finding.where.startswith("songs.")}
    assert songs <= {song_id}
    assert all(finding.where.startswith(("songs.", "setlists.")) for finding in gone)
