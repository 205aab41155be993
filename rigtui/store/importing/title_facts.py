"""What follows a title in a plain list: tempo, key, meter, length, capo, tuning.

A value is taken for one only where it stands apart (behind a comma, a dash, a tab, two blanks, or
in brackets), or where it can be nothing else ("118 bpm", "3:42", "7/8"). So "Highway 118" stays
a title.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from rigtui.model.meter import is_meter
from rigtui.model.tunings import is_tuning_name

TEMPO, BEAT, METER, KEY, LENGTH = "tempo", "beat", "meter", "key", "length"
CAPO, TUNING = "capo", "tuning"
_SLOWEST, _FASTEST = 20, 400
"""Beats per minute that a bare number may mean (common practice)."""
_NOTES = {"♩": "1/4", "♩.": "3/8", "♪": "1/8", "♪.": "3/16"}
_NUMBER = re.compile(r"@?([0-9]{2,3}(?:[.,][0-9]{1,3})?)")
_TEMPO = re.compile(r"([0-9]{1,4}(?:[.,][0-9]{1,3})?) ?(?:bpm|beats per minute)", re.IGNORECASE)
_BEAT = re.compile(
    r"(♩\.?|♪\.?|[0-9]{1,2}/[0-9]{1,2}) ?= ?([0-9]{1,4}(?:[.,][0-9]{1,3})?)(?: ?bpm)?",
    re.IGNORECASE,
)
_METER = re.compile(r"[0-9]{1,2}/[0-9]{1,2}")
_LENGTH = re.compile(r"([0-9]{1,3}):([0-5][0-9])|([0-9]{1,3})['′] ?([0-5]?[0-9])(?:[\"″]|'')")
_KEY = re.compile(
    r"(?:(?:key(?: of)?|in)[ :]*)?([A-Ha-h](?:[#♯b♭]|is|es)?)"
    r"(?: ?-?(m|min|minor|maj|major|dur|moll))?"
)
_SAID_KEY = re.compile(r"(?:key of|key:?) ?[A-H][#♯b♭]?(?: ?(?:m|min|minor|maj|major))?", re.I)
_CAPO = re.compile(r"capo:? ?(?:(?:on|at) )?([0-9]{1,2})|no capo|capo off", re.IGNORECASE)
_TUNING = re.compile(r"(?:tuning|tuned to)(?::| ) ?([^0-9]{1,40})|([^0-9]{1,40}) tuning", re.I)
_APART = re.compile(r"(.*)(?:\t\s*|\s{2,}|\s+[-–—|]\s+|\s*[,;|]\s*)(.+)")
_TRAILING = " \t,;|"
_DASHES = re.compile(r"(?<!\s)\s+[-–—]+$")


def title_and_facts(text: str) -> tuple[str, dict[str, Any]]:
    """Take apart what a line says: the title, and values by what they are."""
    facts: dict[str, Any] = {}
    rest = text.strip()
    while rest:
        rest = _DASHES.sub("", rest.rstrip(_TRAILING))
        shorter = _without_last(rest, facts)
        if shorter is None:
            break
        rest = shorter
    return rest, facts


def _without_last(rest: str, facts: dict[str, Any]) -> str | None:
    """The text without the value at its end, which goes to the facts; None if none stands there."""
    closing = {")": "(", "]": "["}.get(rest[-1:])
    if closing:
        at = rest.rfind(closing)
        return rest[:at] if at > 0 and _all_taken(rest[at + 1 : -1], facts) else None
    apart = _APART.fullmatch(rest)
    if apart and _all_taken(apart[2], facts):
        return apart[1]
    words = rest.split(" ")
    for size in range(min(4, len(words) - 1), 0, -1):
        said = " ".join(words[-size:])
        if _take(plainly_said(said), facts):
            return rest[: len(rest) - len(said)]
    return None


def _all_taken(text: str, facts: dict[str, Any]) -> bool:
    """Whether all pieces of a text are values; then they go to the facts."""
    taken = dict(facts)
    for piece in re.split(r"[,;|\t]|\s{2,}|\s[-–—]\s", text):
        if piece.strip() and not _taken_in_words(piece.strip(), taken):
            return False
    if taken == facts:
        return False
    facts.update(taken)
    return True


def _taken_in_words(piece: str, facts: dict[str, Any]) -> bool:
    """Whether a piece is a value, or several with blanks between."""
    if _take(fact_in(piece), facts):
        return True
    words = piece.split()
    for size in range(len(words) - 1, 0, -1):
        taken = dict(facts)
        if _take(fact_in(" ".join(words[:size])), taken) and _taken_in_words(
            " ".join(words[size:]), taken
        ):
            facts.update(taken)
            return True
    return False


def _take(values: Mapping[str, Any], facts: dict[str, Any]) -> bool:
    if not values or set(values) & set(facts):
        return False
    facts.update(values)
    return True


def fact_in(piece: str) -> dict[str, Any]:
    """Return the values in a piece that is set apart from the title; none if it is something
    else.
    """
    if said := plainly_said(piece):
        return said
    number = _NUMBER.fullmatch(piece)
    if number and _SLOWEST <= _number(number[1]) <= _FASTEST:
        return {TEMPO: _number(number[1])}
    if is_tuning_name(piece, apart=True):
        return {TUNING: piece}
    if tuning := _TUNING.fullmatch(piece):
        return {TUNING: tuning[1] or tuning[2]}
    return {KEY: piece} if _KEY.fullmatch(piece) else {}


def plainly_said(piece: str) -> dict[str, Any]:
    """Return the values of a piece that can mean only one thing, wherever it stands."""
    if tempo := _TEMPO.fullmatch(piece):
        return {TEMPO: _number(tempo[1])}
    if beat := _BEAT.fullmatch(piece):
        return {BEAT: _NOTES.get(beat[1], beat[1]), TEMPO: _number(beat[2])}
    if _METER.fullmatch(piece) and is_meter(*map(int, piece.split("/"))):
        return {METER: piece}
    if _LENGTH.fullmatch(piece):
        return {LENGTH: piece}
    if capo := _CAPO.fullmatch(piece):
        return {CAPO: int(capo[1] or 0)}
    tuning = _TUNING.fullmatch(piece)
    name = (tuning[1] or tuning[2]) if tuning else piece
    if is_tuning_name(name, apart=tuning is not None):
        return {TUNING: name}
    return {KEY: piece} if _SAID_KEY.fullmatch(piece) else {}


def length_seconds(text: str) -> int:
    """The seconds that a length says: 3:42 is 222."""
    minutes, seconds = re.findall(r"[0-9]+", text)
    return 60 * int(minutes) + int(seconds)


def _number(text: str) -> float:
    value = float(text.replace(",", "."))
    return int(value) if value.is_integer() else value
