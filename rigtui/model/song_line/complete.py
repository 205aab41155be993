"""What may come next in a line that is being typed."""

from __future__ import annotations

from collections.abc import Iterable

from rigtui.model.song_line.parts import ENDS, NUMBER, LineFault, Names
from rigtui.model.song_line.words import Word, parts_in


def completed(line: str, names: Names) -> str | None:
    """The line with its last word completed; None where nothing fits.

    Names of this line go before those of other songs, and those before what bands usually call
    their sections.
    """
    at = max(line.rfind(end) for end in ENDS) + 1
    try:
        earlier, now = parts_in(line[:at]), parts_in(line[at:])
    except LineFault:  # a quote is open: what is typed is a name for itself
        return None
    if not now or line[-1:].isspace() or now[0][-1].quoted:
        return None
    words = now[0]
    if words[-1].sign:
        return _with(line, words[-1].text, (row.id for row in names.pedals))
    numbers = [place for place, word in enumerate(words) if NUMBER.fullmatch(word.text)]
    if numbers:
        if numbers[0] == len(words) - 1:
            return None
        typed = line[at + words[numbers[0] + 1].column - 1 :]
        return _with(line, typed, (row.id for row in names.presets))
    here = [" ".join(_bare_name(part)) for part in earlier]
    return _with(line, line[at:].lstrip(), (*here, *names.sections))


def _bare_name(part: Iterable[Word]) -> Iterable[str]:
    for word in part:
        if word.quoted or word.sign or NUMBER.fullmatch(word.text):
            return
        yield word.text


def _with(line: str, typed: str, known: Iterable[str]) -> str | None:
    folded = typed.casefold()
    for name in known:
        if folded and len(name) > len(typed) and name.casefold().startswith(folded):
            return line[: len(line) - len(typed)] + name
    return None
