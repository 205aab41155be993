"""From a line to sections."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from rigtui.model.limits import MAX_SECTIONS
from rigtui.model.short_names import ShortNameError, meant
from rigtui.model.song_line.parts import (
    BARS,
    NUMBER,
    TIMES,
    UNMAPPED,
    LineFault,
    LinePart,
    Names,
    Row,
)
from rigtui.model.song_line.words import Word, parts_in, quoted
from rigtui.model.text import number_text, visible


def line_parts(line: str, names: Names) -> tuple[LinePart, ...]:
    """Read a song's sections.

    Args:
        line: Sections between commas, semicolons, upright strokes or line ends; empty ones are
            passed over.
        names: The presets and pedals that it may name.

    Returns:
        The sections in order, each with all that holds for it.

    Raises:
        LineFault: with the column, what is wrong there and what would be right.
    """
    reader = _Reader(names)
    for words in parts_in(line):
        reader.part(words)
    return reader.numbered()


@dataclass
class _Reader:
    """What was written so far."""

    names: Names
    last: dict[tuple[bool, str], LinePart] = field(default_factory=dict)
    """What each name was the last time; a name in quotes is another than one without."""
    written: list[tuple[tuple[bool, str], LinePart]] = field(default_factory=list)

    def part(self, words: list[Word]) -> None:
        """Read one part."""
        name, literal, rest = _name(words)
        key = (literal, name if literal else name.casefold())
        before = self.last.get(key)
        bars, rest = _bars(rest, before, name, literal, words)
        preset_words, rest = _until(rest, lambda word: bool(word.sign) or _is_times(word))
        pedals, rest = _until(rest, _is_times)
        times = _times(rest)
        preset: str | None = None
        plus: tuple[str, ...] = ()
        minus: tuple[str, ...] = ()
        if before is not None and not preset_words:
            preset = before.preset
            if not pedals:
                plus, minus = before.plus, before.minus
        if preset_words:
            preset = self._preset(preset_words)
        if pedals:
            ids = [(word.sign, self._pedal(word)) for word in pedals]
            plus = tuple(pedal for sign, pedal in ids if sign == "+")
            minus = tuple(pedal for sign, pedal in ids if sign == "-")
        part = LinePart(before.name if before else name, bars, preset, plus, minus)
        self.last[key] = part
        if len(self.written) + times > MAX_SECTIONS:
            raise LineFault(words[0].column, f"a song has at most {MAX_SECTIONS} sections")
        self.written += [(key, part)] * times

    def _preset(self, words: Sequence[Word]) -> str | None:
        if len(words) == 1 and words[0].text == UNMAPPED and not words[0].quoted:
            return None
        text = " ".join(word.text for word in words)
        if len(words) > 1 and any(word.quoted for word in words):
            raise LineFault(words[0].column, "write the preset's whole name in one pair of quotes")
        try:
            return _resolved(text, words[0].quoted, self.names.presets, "preset")
        except ShortNameError as fault:
            hint = ""
            if NUMBER.fullmatch(words[0].text):
                hint = '. A name with a number in it needs quotes, e.g. "Verse 2" 16'
            raise LineFault(words[0].column, f"{fault}{hint}") from None

    def _pedal(self, word: Word) -> str:
        if not word.sign:
            raise LineFault(word.column, f"put + or - before {_shown(word)}, e.g. +{word.text}")
        if not word.text and not word.quoted:
            raise LineFault(word.column, f"name the pedal after {word.sign}, e.g. {word.sign}wah")
        try:
            return _resolved(word.text, word.quoted, self.names.pedals, "pedal")
        except ShortNameError as fault:
            raise LineFault(word.column, str(fault)) from None

    def numbered(self) -> tuple[LinePart, ...]:
        """All sections; names that came several times have their numbers."""
        counts: dict[tuple[bool, str], int] = {}
        for key, _ in self.written:
            counts[key] = counts.get(key, 0) + 1
        seen: dict[tuple[bool, str], int] = {}
        parts = []
        for key, part in self.written:
            seen[key] = seen.get(key, 0) + 1
            several = not key[0] and counts[key] > 1
            parts.append(part._replace(name=f"{part.name} {seen[key]}") if several else part)
        return tuple(parts)


def _is_times(word: Word) -> bool:
    return not word.quoted and not word.sign and TIMES.fullmatch(word.text) is not None


def _is_number(word: Word) -> bool:
    return not word.quoted and not word.sign and NUMBER.fullmatch(word.text) is not None


def _until(words: list[Word], ends: Callable[[Word], object]) -> tuple[list[Word], list[Word]]:
    at = next((at for at, word in enumerate(words) if ends(word)), len(words))
    return words[:at], words[at:]


def _name(words: list[Word]) -> tuple[str, bool, list[Word]]:
    first = words[0]
    if first.quoted and not first.sign:
        if not first.text.strip():
            raise LineFault(first.column, "put a name between the quotes")
        return first.text, True, words[1:]
    name, rest = _until(
        words, lambda word: _is_number(word) or _is_times(word) or word.sign or word.quoted
    )
    if not name:
        raise LineFault(
            first.column, f'put a section\'s name before {_shown(first)}, e.g. "Verse 16"'
        )
    text = " ".join(word.text for word in name)
    if text.startswith("[") and text.endswith("]") and text[1:-1].strip():
        text = " ".join(text[1:-1].split())  # as lyric sheets mark sections
    return text, False, rest


def _bars(
    rest: list[Word], before: LinePart | None, name: str, literal: bool, words: list[Word]
) -> tuple[float, list[Word]]:
    if rest and _is_number(rest[0]):
        bars = float(rest[0].text)
        if not 0 < bars <= 100_000:
            raise LineFault(rest[0].column, "bars must be more than 0 and at most 100000")
        rest = rest[1:]
        if rest and not rest[0].quoted and not rest[0].sign and rest[0].text.casefold() in BARS:
            rest = rest[1:]
        return (int(bars) if bars.is_integer() else bars), rest
    shown = quoted(name) if literal else name
    example = visible(f"{shown} {number_text(before.bars) if before else 16}")
    if rest and not rest[0].sign and not _is_times(rest[0]):
        raise LineFault(rest[0].column, f"put the bars before {_shown(rest[0])}: {example} ...")
    if before is None:
        raise LineFault(
            words[0].column,
            f"{visible(shown)} is new: put its bars after the name, e.g. {example}",
        )
    return before.bars, rest


def _times(rest: list[Word]) -> int:
    if not rest:
        return 1
    if len(rest) > 1:
        raise LineFault(rest[1].column, f"put a comma before {_shown(rest[1])}")
    factor = TIMES.fullmatch(rest[0].text)
    times = int(factor[1]) if factor else 0
    if not 1 <= times <= MAX_SECTIONS:
        raise LineFault(rest[0].column, f"play it x2 to x{MAX_SECTIONS}")
    return times


def _resolved(text: str, literal: bool, rows: tuple[Row, ...], noun: str) -> str:
    if literal:
        for row in rows:
            if text == row.id:
                return row.id
    return meant(text, rows, noun)


def _shown(word: Word) -> str:
    return f'"{visible(word.written[:60])}"'
