"""The rows of songs in a report: columns that line up, and a bar of each song's moves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigtui.cli.terminal import Terminal
from rigtui.model.cells import clip, fit, wrap
from rigtui.model.rig import Rig, Song
from rigtui.moves import SongCount, count_song

_SET_UP, _MOVES, _EXTRA, _LOST = ("set-up", 7), ("moves", 6), ("extra", 6), ("can't", 6)
_REST = (("least", 6), ("hands", 6), ("time", 8))
_NUMBER = 4
_CANNOT = "can't: sections whose sound is in no memory; "


def clock(seconds: float) -> str:
    """Say a length of time as a player's clock does: 3:42, or 1:02:30."""
    minutes, rest = divmod(round(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"


class SongTable:
    """Rows of songs, all to the same scale."""

    def __init__(self, rig: Rig, songs: Sequence[Song], terminal: Terminal) -> None:
        self.rig, self.terminal = rig, terminal
        counts = [count_song(rig, song) for song in songs]
        lost = any(counted.unplayable for counted in counts)
        self.columns = (_SET_UP, _MOVES, _EXTRA, *([_LOST] * lost), *_REST)
        room = terminal.width - _NUMBER - 2 - sum(width for _, width in self.columns)
        # Where there is little room, titles need it more than bars.
        self.bar_width = min(24, (room - 2) * 2 // 7) if room > 26 else 0
        self.title_width = min(40, room - self.bar_width - 2 * bool(self.bar_width))
        self.most = max((counted.moves for counted in counts), default=0)

    def head(self) -> str:
        """Return the row of column headings."""
        names = "".join(fit(name, width, ">") for name, width in self.columns)
        return f"{' ' * _NUMBER}  {self._title('')}{self.terminal.paint(names, 'faint')}"

    def title(self, text: str) -> str:
        """Return a row that names the songs below it."""
        room = self.terminal.width - 2
        return "  " + clip(self.terminal.show(text), room, self.terminal.ellipsis)

    def row(self, number: int, song: Song, set_up_moves: int | None = None) -> str:
        """Return the row of one song."""
        counted = count_song(self.rig, song)
        figures = self._figures([counted], set_up_moves)
        bar = self._bar(counted)
        return f"{number:{_NUMBER}}  {self._title(song.label)}{figures}  {bar}".rstrip()

    def missing(self, number: int, song_id: str) -> str:
        """Return the row of a song that a setlist names and the file does not hold."""
        named = self.terminal.show(f'there is no song with the id "{song_id}"')
        room = self.terminal.width - _NUMBER - 2
        return f"{number:{_NUMBER}}  {clip(named, room, self.terminal.ellipsis)}"

    def total(self, songs: Sequence[Song], set_up_moves: int) -> str:
        """Return the last row of an evening."""
        figures = self._figures([count_song(self.rig, song) for song in songs], set_up_moves)
        return self.terminal.paint(f"{' ' * _NUMBER}  {self._title('In all')}{figures}", "bold")

    def legend(self) -> Iterator[str]:
        """Say what the columns and the bars mean."""
        full, light = self._marks()
        bar = f"; bar: {full} moves that it needs, {light} moves that could be saved"
        yield from wrap(
            "set-up: moves before the song; extra: presses on one beat beyond the first; "
            f"{_CANNOT if _LOST in self.columns else ''}least: fewest moves with which all of it "
            "still sounds right; hands: volume, pickup and the "
            f"like{bar if self.bar_width else ''}",
            self.terminal.width,
            "  ",
        )

    def _title(self, text: str) -> str:
        return fit(self.terminal.show(text), self.title_width, ellipsis=self.terminal.ellipsis)

    def _marks(self) -> tuple[str, str]:
        return self.terminal.show("█"), self.terminal.show("░")

    def _bar(self, counted: SongCount) -> str:
        """One cell a move while there is room for the busiest song, else to its scale."""
        full, light = self._marks()
        scale = min(1.0, self.bar_width / self.most) if self.most else 0.0
        whole = max(1, round(counted.moves * scale)) if counted.moves and self.bar_width else 0
        needed = min(whole, round(counted.least_moves * scale))
        return full * needed + light * (whole - needed)

    def _figures(self, counts: Sequence[SongCount], set_up_moves: int | None) -> str:
        texts = {
            "set-up": "" if set_up_moves is None else str(set_up_moves),
            "moves": str(sum(song.moves for song in counts)),
            "extra": str(sum(song.extra_presses for song in counts) or ""),
            "can't": str(sum(song.unplayable for song in counts) or ""),
            "least": str(sum(song.least_moves for song in counts)),
            "hands": str(sum(song.hand_moves for song in counts)),
            "time": clock(sum(song.seconds for song in counts)),
        }
        return "".join(fit(texts[name], width, ">") for name, width in self.columns)
