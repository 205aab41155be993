"""Undo and redo: every step can be taken back and done again, without limit."""

from __future__ import annotations

from random import Random

from edits_drawn import draw_edit
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import make_rig, song
from store.spelling import draw_rig

from rigtui.model import edits, rig_from_data
from rigtui.model.history import History


def test_undo_and_redo_are_told_by_their_labels() -> None:
    """Each says what it would take back or do again, and None where there is nothing."""
    new = History(make_rig(songs=[song("a")]))
    assert (new.undo_label, new.redo_label) == (None, None)
    assert new.undone() is new
    assert new.redone() is new
    done = new.done("tempo", edits.set_song(new.rig, "a", tempo=90))
    assert (done.undo_label, done.redo_label) == ("tempo", None)
    back = done.undone()
    assert (back.rig, back.undo_label, back.redo_label) == (new.rig, None, "tempo")
    assert back.redone() == done


def test_an_edit_that_changes_nothing_is_no_step() -> None:
    """The history stays the very same, and what was undone can still be done again."""
    new = History(make_rig(songs=[song("a")]))
    back = new.done("tempo", edits.set_song(new.rig, "a", tempo=90)).undone()
    assert back.done("tempo", edits.set_song(back.rig, "a", tempo=120)) is back


@given(st.integers(0, 2**40), st.integers(1, 30))
@examples(30)
def test_every_step_can_be_taken_back(seed: int, count: int) -> None:
    """All the way to the start and again to the end, each rig the very same object."""
    rng = Random(seed)
    history = History(rig_from_data(draw_rig(rng)))
    rigs = [history.rig]
    for _ in range(count):
        label, rig = draw_edit(rng, history.rig)
        history = history.done(label, rig)
        if history.rig is not rigs[-1]:
            rigs.append(history.rig)
    for rig in reversed(rigs):
        assert history.rig is rig
        history = history.undone()
    for rig in rigs:
        assert history.rig is rig
        history = history.redone()


@given(st.integers(0, 2**40), st.integers(0, 5), st.integers(0, 5))
@examples(30)
def test_a_new_edit_ends_what_could_be_redone(seed: int, steps: int, back: int) -> None:
    """After it there is nothing to redo, and undoing it leads to where it was done."""
    rng = Random(seed)
    history = History(rig_from_data(draw_rig(rng)))
    for _ in range(steps):
        history = history.done(*draw_edit(rng, history.rig))
    for _ in range(back):
        history = history.undone()
    before = history.rig
    history = history.done("name", before.model_copy(update={"name": "Another name"}))
    assert history.redo_label is None
    assert history.undone().rig is before


def test_a_session_of_many_edits_can_be_taken_back() -> None:
    """Ten thousand steps are kept, and none costs more than the one before."""
    start = History(make_rig(songs=[song("a")]))
    history = start
    for step in range(10_000):
        name = f"Take {step}"
        history = history.done("name", history.rig.model_copy(update={"name": name}))
    for _ in range(10_000):
        history = history.undone()
    assert history.rig is start.rig
    assert len(history.future) == 10_000
