"""What a tempo counts: shown as it is typed, and asked for if the meter leaves it open."""

from __future__ import annotations

from rigtui.model.meter import default_beat, note_name, tempo_in_words
from rigtui.tui.views.presets.forms import number_or_none

BEAT_HINT = "the note that tempo counts, e.g. 1/4"
_CHOICES = ("1/4", "1/8", "3/8", "1/2")


def beat_in_words(given: dict[str, str]) -> str:
    """What the tempo, meter and beat of a form say together; "" where they are not whole yet."""
    meter = given["meter"].strip() or "4/4"
    tempo, beat = given["tempo"].strip(), given["beat"].strip()
    try:
        number = number_or_none(tempo, "tempo")
        if number is None:
            return ""
        said = tempo_in_words(number, meter, beat or None, "quarters a minute")
    except (ValueError, ArithmeticError):
        return ""
    asked = "" if beat or meter.endswith("/4") else "  If not, change Beat."
    return f"{tempo} bpm in {meter}: {said}.{asked}"


def beat_asked(given: dict[str, str]) -> str | None:
    """The question that is open: what the tempo counts in a meter of eighths or halves."""
    meter, tempo = given["meter"].strip() or "4/4", given["tempo"].strip()
    if given["beat"].strip() or meter.endswith("/4"):
        return None
    usual = str(default_beat(meter))
    others = [note for note in _CHOICES if note != usual][:2]
    return (
        f"beat: what does {tempo} count in {meter}? Write {usual} for {note_name(usual)} "
        f"(the usual), {others[0]} for {note_name(others[0])}, "
        f"or {others[1]} for {note_name(others[1])}."
    )
