"""What to give up, as text that reads well in 80 columns and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from rigtui.advice.giving_up.answer import JointFrontier
from rigtui.advice.giving_up.point import FrontierPoint, compromises
from rigtui.advice.giving_up.words import (
    ends_in_words,
    lost_again,
    places_in_words,
    proof_in_words,
    sentences,
)
from rigtui.cli.plan.without import Night, night_text
from rigtui.cli.terminal import Terminal
from rigtui.model.cells import wrap
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed, number_text

_HEAD = "sections pedals  price   can't  extra   moves  effort  "
_MARK = {"lost": "x", "extra": "█"}


def compromise_text(
    file: str,
    night: Night,
    answer: JointFrontier,
    taken: int | None,
    written: str | None,
    terminal: Terminal,
) -> str:
    """Write it for people.

    Args:
        file: The rig's file.
        night: What there is to play.
        answer: What was found.
        taken: The step that was asked for; None where none was.
        written: The new file, if one was asked for.
        terminal: What it is written to.
    """
    rig = night.rig
    lines = [terminal.paint(line, "bold") for line in
             wrap(terminal.show(f"What to give up: {rig.name}"), terminal.width)]  # fmt: skip
    whom = terminal.show(f"For {answer.evening.words} ({file})")
    lines += [terminal.paint(line, "faint") for line in wrap(whom, terminal.width, hang="  ")]
    lines += night_text(night, terminal)
    lines += ["", *_proof(answer, terminal), ""]
    shown = answer.shown()
    lines += [*_table(answer, shown, taken, terminal), ""]
    said: dict[str, int] = {}
    for at in shown if taken is None else [taken]:
        lines += _told(rig, answer, at, shown, said, terminal)
    if written is not None:
        lines += wrap(terminal.show(f"Written to {written}"), terminal.width)
    while not lines[-1]:
        lines.pop()
    return "\n".join(lines) + "\n"


def _proof(answer: JointFrontier, terminal: Terminal) -> Iterator[str]:
    for text in (ends_in_words(answer), proof_in_words(answer)):
        yield from wrap(terminal.show(text), terminal.width, hang="  ")


def _table(
    answer: JointFrontier, shown: list[int], taken: int | None, terminal: Terminal
) -> Iterator[str]:
    rows = sorted({*shown, *([] if taken is None else [taken])})
    first = answer.steps[0][1].level
    most = max(first.unplayable + first.extra_presses, 1)
    room = max(8, terminal.width - len(_HEAD) - 5)
    scale = min(1.0, room / most)
    yield "     " + terminal.paint(
        f"{_HEAD}x can't  {terminal.show(_MARK['extra'])} extra", "faint"
    )
    for at in rows:
        point = answer.point(at)
        figures = point.counted
        bar = _MARK["lost"] * round(figures.unplayable * scale) + terminal.show(
            _MARK["extra"] * round(figures.extra_presses * scale)
        )
        mark = ">" if at == taken else " "
        number = str(shown.index(at) + 1) if at in shown else "-"
        line = (
            f"{mark}{number:>2}  {point.sections:8} {point.pedals:6} "
            f"{number_text(point.price):>6}  {figures.unplayable:6} {figures.extra_presses:6}  "
            f"{figures.moves:6}  "
            f"{number_text(figures.effort):>6}  {bar}"
        )
        yield line.rstrip()
        if not answer.proved:
            least = answer.least(at)
            yield f"{'':30}{least.unplayable:6} {least.extra_presses:6}  at the least"


def _told(
    rig: Rig,
    answer: JointFrontier,
    at: int,
    shown: list[int],
    said: dict[str, int],
    terminal: Terminal,
) -> Iterator[str]:
    """What a step asks of the player; what an earlier one says already, by its number."""
    number = f"{shown.index(at) + 1}" if at in shown else "-"
    texts: list[str] = []
    again: set[int] = set()
    for text in sentences(rig, answer.point(at), answer.board_of(at)):
        if text in said:
            again.add(said[text])
        else:
            said[text] = shown.index(at) + 1 if at in shown else 0
            texts.append(text)
    if again:
        others = "The rest as in" if texts else "As in"
        texts.append(f"{others} {listed(map(str, sorted(again)))}")
    first = f"{number:>3}  "
    for text in texts:
        yield from wrap(terminal.show(text), terminal.width, first, " " * 7)
        first = " " * 5
    yield ""


def json_text(night: Night, answer: JointFrontier, taken: int | None, written: str | None) -> str:
    """Write it as one line of JSON, in ASCII so that no terminal acts on what it holds."""
    rows = sorted({*answer.shown(), *([] if taken is None else [taken])})
    whole = {
        "rig": night.rig.name,
        "format": night.rig.format,
        "kind": "compromise",
        "setlists": [setlist.id for setlist in answer.evening.setlists],
        "without": night.missing,
        "proved": answer.proved,
        "boards": [board.name for board in answer.boards],
        "looked_at": sum(board.frontier.looked_at for board in answer.boards),
        "choices": sum(board.frontier.choices for board in answer.boards),
        "steps": [{"price": step.price, **step.level._asdict()} for _, step in answer.steps],
        "points": [{"step": at, **_point(answer, at)} for at in rows],
        "taken": taken,
        "written": written,
    }
    return json.dumps(whole, ensure_ascii=True, allow_nan=False) + "\n"


def _point(answer: JointFrontier, at: int) -> dict[str, Any]:
    point: FrontierPoint = answer.point(at)
    figures = point.counted
    return {
        "board": answer.board_of(at),
        "price": point.price,
        "sections": point.sections,
        "pedals": point.pedals,
        "unplayable": figures.unplayable,
        "extra_presses": figures.extra_presses,
        "moves": figures.moves,
        "effort": figures.effort,
        "set_up_moves": figures.set_up_moves,
        "least": answer.least(at)._asdict(),
        "compromises": [asdict(each) for each in point.compromises],
        "stored": point.stored,
        "not_stored": point.not_stored,
    }


def undone_text(now: Rig, then: Rig, written: str | None, as_json: bool, terminal: Terminal) -> str:
    """Say what sections get back, and which still do not have what they want."""
    every = {song.id: 1 for song in now.songs}
    still = {each.place: each for each in compromises(then, every)}
    back = [each for each in compromises(now, every) if each.place not in still]
    if as_json:
        whole = {
            "rig": now.name,
            "kind": "compromise",
            "given_back": [each.place for each in back],
            "not_given_back": list(still),
            "written": written,
        }
        return json.dumps(whole, ensure_ascii=True) + "\n"
    lines = []
    if back:
        where = f"Own sound again in {count(len(back), 'section')}: {places_in_words(now, back)}"
        lines += wrap(terminal.show(where), terminal.width, hang="  ")
    if still:
        where = (
            f"No preset has the sound that {count(len(still), 'section')} should have: "
            f"{places_in_words(now, still.values())}"
        )
        lines += wrap(terminal.show(where), terminal.width, hang="  ")
    lost = lost_again(now, then)
    if lost is not None:
        lines += wrap(lost, terminal.width, hang="  ")
    if not lines:
        lines = ["Every section already has its own sound"]
    if written is not None:
        lines += wrap(terminal.show(f"Written to {written}"), terminal.width)
    return "\n".join(lines) + "\n"
