"""Results stand for as long as the objects that they were made of."""

from __future__ import annotations

from rigtui.model.remembered import Remembered


def test_the_same_objects_get_the_same_result_and_equal_ones_do_not() -> None:
    """Only the very same objects count as known; each result is made once."""
    made: list[int] = []
    known: Remembered[list[int]] = Remembered()
    value, twin = [1], [1]
    first = known.get((value,), lambda: made.append(1) or [1])
    assert known.get((value,), lambda: made.append(2) or [2]) is first
    assert known.get((twin,), lambda: made.append(3) or [3]) == [3]
    assert made == [1, 3]


def test_what_was_used_longest_ago_goes_first() -> None:
    """With room for two, a third result drops the one that nobody asked for lately."""
    known: Remembered[str] = Remembered(2)
    a, b, c = object(), object(), object()
    known.get((a,), lambda: "a")
    known.get((b,), lambda: "b")
    known.get((a,), lambda: "again")
    known.get((c,), lambda: "c")
    assert known.get((a,), lambda: "new") == "a"
    assert known.get((b,), lambda: "new") == "new"
