"""The lists of the report as rows of a grid: songs with bars, busiest changes, findings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from heapq import nlargest
from typing import TYPE_CHECKING, Any, NamedTuple

from rigtui.checks import SEVERITIES, Finding, touching_setlist
from rigtui.checks.words import named, section_of
from rigtui.model.cells import cells as cells_of
from rigtui.model.cells import clip
from rigtui.model.lookup import lookup
from rigtui.model.place_words import place_in_words, set_title
from rigtui.model.places import Where, taken_apart
from rigtui.model.text import count, visible
from rigtui.moves import Change, Presses, SongCount, count_setlist, count_songs
from rigtui.moves.words import presses_within
from rigtui.tui.text import fit
from rigtui.tui.widgets.grid import Column, Row
from rigtui.tui.widgets.lazy_rows import LazyRows

if TYPE_CHECKING:
    from rigtui.model.rig import Pedal, Preset, Rig, Setlist, Song

NEEDED, SPARE = "█", "░"
MOST_CHANGES = 40
"""How many of the busiest changes are listed."""
MARKS = {"error": "!!", "warning": "! ", "advice": "- "}


class KeyedRows(NamedTuple):
    """Rows of a grid, and what each of them stands for; None for a line of its own."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...] | LazyRows
    keys: tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class SongKey:
    """A song as it is played: the same song may come twice in an evening."""

    song_id: str
    place: int
    set_up: Presses | None
    """Presses before it; None outside a setlist."""


@dataclass(frozen=True, slots=True)
class ChangeKey:
    """A change, by the section entered."""

    song_id: str
    to_section: int


def setlist_of(rig: Rig, setlist_id: str | None) -> Setlist | None:
    """The setlist at hand."""
    return next((one for one in rig.setlists if one.id == setlist_id), None)


def songs_at_hand(rig: Rig, setlist_id: str | None) -> tuple[Song, ...]:
    """Songs of the setlist at hand, each once; all songs where there is no setlist."""
    setlist = setlist_of(rig, setlist_id)
    if setlist is None:
        return rig.songs
    songs = lookup(rig).songs
    return tuple(songs[one] for one in dict.fromkeys(setlist.song_ids) if one in songs)


# Songs


def song_listing(rig: Rig, setlist_id: str | None, width: int) -> KeyedRows:
    """A row for each song of the setlist at hand, under the set that it belongs to."""
    title = 24 if width < 100 else 34
    bar = max(6, width - title - 7 - 6 - 1 - 6 - 6 - 6)
    columns = (
        Column(("Song",), title, look="grid--strong"),
        Column(("set-up",), 7, align="right", look="grid--dim", pick=False),
        Column(("moves",), 6, align="right", pick=False),
        Column(("",), 1, pick=False),
        Column((f"{NEEDED} needed {SPARE} to save",), bar, pick=False),
        Column(("least",), 6, align="right", look="grid--dim", pick=False),
        Column(("worst",), 6, align="right", look="grid--dim", pick=False),
        Column(("hands",), 6, align="right", look="grid--dim", pick=False),
    )
    setlist = setlist_of(rig, setlist_id)
    songs = lookup(rig).songs
    parts: list[tuple[str, list[SongKey]]] = []
    if setlist is None:
        parts.append(("", [SongKey(song.id, at, None) for at, song in enumerate(rig.songs)]))
    else:
        set_ups = iter(count_setlist(rig, setlist).set_ups)
        for at, part in enumerate(setlist.sets):
            played = [next(set_ups) for song in part.songs if song in songs]
            keys = [SongKey(one.song_id, one.place, one.presses) for one in played]
            parts.append((set_title(part, at), keys))
    song_ids = dict.fromkeys(key.song_id for _, keys in parts for key in keys)
    counts = dict(zip(song_ids, count_songs(rig, (songs[one] for one in song_ids))))
    most = max((one.moves for one in counts.values()), default=1)
    stands: list[SongKey | None] = []
    heads: dict[int, str] = {}
    for name, keys in parts:
        if setlist is not None:
            heads[len(stands)] = f"{name}: {_set_total(keys, counts)}"
            stands.append(None)
        stands += keys

    def row(at: int) -> Row:
        key = stands[at]
        if key is None:
            return Row(note=heads[at])
        return _song_row(rig, key, counts[key.song_id], most, title, bar)

    return KeyedRows(columns, LazyRows(len(stands), row, heads.keys()), tuple(stands))


def _song_row(rig: Rig, key: SongKey, counted: SongCount, most: int, title: int, bar: int) -> Row:
    worst = counted.on_the_beat_worst
    crowded = worst > rig.player.moves_allowed
    return Row(
        (
            fit(f"{key.place + 1:>3} {lookup(rig).songs[key.song_id].label}", title - 1),
            "-" if key.set_up is None else str(len(key.set_up)),
            str(counted.moves),
            "",
            bar_of(counted.least_moves, counted.moves, most, bar - 1),
            str(counted.least_moves),
            f"{worst}{'!' if crowded else ' '}",
            str(counted.hand_moves),
        ),
        ("", "", "", "", "grid--edge", "", "grid--warn" if crowded else "", ""),
    )


def bar_of(least: int, moves: int, most: int, width: int) -> str:
    """A bar as long as the moves, the least of them solid and those that could be saved shaded.

    Args:
        least: Least moves.
        moves: Moves as written, at least as many.
        most: Moves of the longest bar.
        width: Cells of the longest bar; a single move takes at most four.
    """
    scale = min(4.0, width / max(1, most))
    # What is there is seen: a cell for a single move, and one for a single move to save.
    solid = max(round(least * scale), min(least, 1))
    whole = max(round(moves * scale), solid + (moves > least))
    if whole > width:
        solid, whole = solid - (whole - width), width
    return NEEDED * solid + SPARE * (whole - solid)


def _set_total(keys: Sequence[SongKey], counts: dict[str, SongCount]) -> str:
    moves = sum(counts[key.song_id].moves for key in keys)
    least = sum(counts[key.song_id].least_moves for key in keys)
    set_up = sum(len(key.set_up or ()) for key in keys)
    return f"{count(len(keys), 'song')}, {count(moves, 'move')} (least {least}), +{set_up} set-up"


# Changes


def busiest_changes(rig: Rig, songs: Iterable[Song]) -> list[tuple[Song, Change]]:
    """Changes that take a foot at all, those with the most moves first."""
    songs = list(songs)
    changes = [
        (song, change)
        for song, counted in zip(songs, count_songs(rig, songs))
        for change in counted.changes
        if change.presses
    ]
    # Only what can come among the busiest is put in order: on a long list that is very little.
    sizes = nlargest(MOST_CHANGES, (change.moves for _, change in changes))
    least = sizes[-1] if sizes else 0
    busiest = [one for one in changes if one[1].moves >= least]
    busiest.sort(key=lambda one: (-one[1].moves, -one[1].on_the_beat))
    return busiest[:MOST_CHANGES]


def change_listing(rig: Rig, setlist_id: str | None, width: int) -> KeyedRows:
    """A row for each of the busiest changes, with its presses in words."""
    title, names = (18, 24) if width < 100 else (28, 34)
    room = max(8, width - 16 - title - names)
    columns = (
        Column(("moves",), 6, align="right", pick=False),
        Column(("on beat",), 8, align="right", look="grid--dim", pick=False),
        Column(("",), 2, pick=False),
        Column(("Song",), title, look="grid--strong"),
        Column(("from > to",), names, pick=False),
        Column(("presses",), room, look="grid--dim", pick=False),
    )
    rows, stands = [], []
    for song, change in busiest_changes(rig, songs_at_hand(rig, setlist_id)):
        crowded = change.on_the_beat > rig.player.moves_allowed
        at, to = change.from_section, change.to_section
        before, after = song.sections[at], song.sections[to]
        rows.append(
            Row(
                (
                    str(change.moves),
                    f"{change.on_the_beat}{'!' if crowded else ' '}",
                    "",
                    fit(song.label, title - 1),
                    fit(f"{at + 1} {before.name} > {to + 1} {after.name}", names - 1),
                    presses_within(rig, after, change.presses, room),
                ),
                ("", "grid--warn" if crowded else ""),
            )
        )
        stands.append(ChangeKey(song.id, to))
    return KeyedRows(columns, tuple(rows), tuple(stands))


# Findings


class Filter(NamedTuple):
    """Which findings are shown: those of a weight, a rule, or all."""

    kind: str = "all"
    """ "all", "severity", "rule", "fix" or "waived"."""
    value: str = ""

    def takes(self, one: Finding) -> bool:
        """Whether a finding is shown."""
        if self.kind == "severity":
            return one.severity == self.value and one.waived is None
        if self.kind == "rule":
            return one.rule == self.value
        if self.kind == "fix":
            return one.fix is not None and one.waived is None
        return self.kind == "all" or one.waived is not None

    @property
    def label(self) -> str:
        """What is shown, in a word or two; empty for all."""
        words = {"all": "", "fix": "with a fix", "waived": "waived"}
        return words.get(self.kind, self.value)


def filters(findings: Sequence[Finding]) -> list[tuple[Filter, str]]:
    """The filters that show anything, each in words."""
    choices = [(Filter(), f"all findings ({len(findings)})")]
    wanted = [Filter("severity", severity) for severity in SEVERITIES]
    wanted += [Filter("fix"), Filter("waived")]
    wanted += [Filter("rule", rule) for rule in dict.fromkeys(one.rule for one in findings)]
    for one in wanted:
        number = sum(map(one.takes, findings))
        if number:
            what = {"fix": "with a fix of its own", "rule": f"rule {one.value}"}
            choices.append((one, f"{what.get(one.kind, one.label)} ({number})"))
    return choices


def group_name(severity: str, number: int) -> str:
    """So many findings of a weight, in words."""
    if severity == "advice":
        return count(number, "piece of advice", "pieces of advice")
    return f"{number} waived" if severity == "waived" else count(number, severity)


def finding_listing(
    rig: Rig, findings: Sequence[Finding], shown: Filter, width: int, setlist_id: str | None = None
) -> KeyedRows:
    """A row for each finding: by weight, then the waived ones, then what touches other setlists.

    Args:
        rig: The rig that the findings are of.
        findings: Its findings.
        shown: Which of them are shown.
        width: Cells that there are.
        setlist_id: The setlist at hand.
    """
    place, rule = (27, 0) if width < 100 else (34, 21)
    what = width - 8 - place - rule
    columns = (
        Column(("",), 4, pick=False),
        Column(("fix",), 4, look="grid--dim", pick=False),
        Column(("Where",), place, look="grid--strong"),
        Column(("What",), what, pick=False),
        Column(("Rule",) if rule else (), rule, look="grid--dim", pick=False),
    )
    wanted = [one for one in findings if shown.takes(one)]
    here = {id(one) for one in touching_setlist(rig, wanted, setlist_id)}
    at_hand = [one for one in wanted if id(one) in here]
    groups = [
        (group, [one for one in at_hand if group_of(one) == group])
        for group in (*SEVERITIES, "waived")
    ]
    groups.append(("elsewhere", [one for one in wanted if id(one) not in here]))
    rows: list[Row] = []
    stands: list[Finding | None] = []
    for group, part in groups:
        if part:
            rows.append(Row(note=_group_title(group, part), look=_LOOKS[group]))
            stands.append(None)
        for one in part:
            cells = (
                f" {MARKS[one.severity] if one.waived is None else 'w'}",
                "f" if one.fix is not None and one.waived is None else "",
                short_place(rig, one.where, setlist_id, place - 1),
                fit(_what(rig, one), what - 1),
                one.rule,
            )
            rows.append(Row(cells, (_LOOKS[group_of(one)],)))
            stands.append(one)
    return KeyedRows(columns, tuple(rows), tuple(stands))


def _group_title(group: str, part: Sequence[Finding]) -> str:
    if group != "elsewhere":
        return group_name(group, len(part))
    groups = [group_of(one) for one in part]
    words = [group_name(one, groups.count(one)) for one in (*SEVERITIES, "waived") if one in groups]
    return f"Other songs and setlists: {', '.join(words)}"


def short_place(rig: Rig, where: str, setlist_id: str | None, room: int) -> str:
    """A place in a few cells: a section by number and name, without the setlist at hand."""
    place = taken_apart(where)
    song, at = lookup(rig).songs.get(place.row), place.section
    if song is not None and at is not None and at < len(song.sections):
        tail = f", {at + 1} {visible(song.sections[at].name)}"
        return clip(clip(visible(song.label), max(10, room - cells_of(tail))) + tail, room)
    words = place_in_words(rig, where)
    setlist = setlist_of(rig, setlist_id)
    if setlist is not None:
        words = words.removeprefix(f"setlist {visible(setlist.label)}, ")
    if place.song_at is not None and ", song " in words:
        part, _, last = words.rpartition(", song ")
        words = f"song {last}, {part}"  # what is cut is the name of the set
    return clip(words, room)


def _what(rig: Rig, one: Finding) -> str:
    """What is wrong, without the name at its head that the place has told already."""
    if one.waived is not None:
        return one.waived or "no reason given"
    name = _name_in_message(rig, taken_apart(one.where))
    before, told, after = one.message.partition(f"{name} ")
    return after if name and told and (not before or before.endswith(("→ ", ", "))) else one.message


def _name_in_message(rig: Rig, place: Where) -> str:
    """How a message names what a place leads to; empty where it leads to no section or row."""
    found = lookup(rig)
    song, at = found.songs.get(place.row), place.section
    if song is not None and at is not None:
        return section_of(song, at) if at < len(song.sections) else ""
    rows: dict[str, Mapping[str, Pedal] | Mapping[str, Preset]] = {
        "pedals": found.pedals,
        "presets": found.presets,
    }
    row = rows[place.table].get(place.row) if place.table in rows else None
    return named(row) if row is not None else ""


_LOOKS = {"error": "grid--error", "warning": "grid--warn", "advice": "grid--edge", "waived": "",
          "elsewhere": ""}  # fmt: skip


def group_of(one: Finding) -> str:
    """The heading that a finding stands under: its weight, or that it is waived."""
    return one.severity if one.waived is None else "waived"
