"""The limits that docs/rig-file.md states, kept to the number, and files made to waste time."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fuzz.pipeline import no_hang, through
from rigs_made import Data, loop, make_data, pedal, preset, section, setlist, song

from rigtui.model import Rig, edits, rig_from_data
from rigtui.model.errors import BadRigError, EditError
from rigtui.model.limits import Fits
from rigtui.store.load import MAX_BYTES, MAX_DEPTH, load, parse, read_plain
from rigtui.store.splice import dump
from rigtui.tui.document import Document

DOCS = (Path(__file__).parents[2] / "docs" / "rig-file.md").read_text(encoding="utf-8")
LIMITS = " ".join(DOCS.partition("## Limits\n")[2].partition("\n## ")[0].split())
HEAD = 'format = 1\nname = "x"\n'


def songs(count: int) -> Data:
    """A rig of many songs."""
    return make_data(songs=[song(f"s{n}") for n in range(count)])


def sections(*counts: int, presets: int = 0, loops: int = 0) -> Data:
    """A rig of songs with so many sections each."""
    return make_data(
        loops=[loop(n) for n in range(1, loops + 1)],
        presets=[preset(f"p{n}") for n in range(presets)],
        songs=[song(f"s{n}", *([section()] * count)) for n, count in enumerate(counts)],
    )


# What docs/rig-file.md says, with a file at the limit and one beyond it.
STATED: dict[str, Any] = {
    "200 pedals": lambda n: make_data(pedals=[pedal(f"p{i}") for i in range(200 + n)]),
    "99 loops": lambda n: make_data(loops=[loop(i % 99 + 1) for i in range(99 + n)]),
    "1000 presets": lambda n: make_data(presets=[preset(f"p{i}") for i in range(1000 + n)]),
    "3000 songs": lambda n: songs(3000 + n),
    "1000 sections in a song": lambda n: sections(1000 + n),
    "15 000 in all": lambda n: sections(*[1000] * 14, 999 + n, 1),
    "1000 setlists": lambda n: make_data(setlists=[setlist(f"s{i}") for i in range(1000 + n)]),
    "10 000 songs to play in all": lambda n: make_data(
        setlists=[setlist("a", *["x"] * 5000), setlist("b", *["x"] * (5000 + n))]
    ),
    "5000 waivers": lambda n: make_data(
        waivers=[{"rule": "tail-cut", "where": f"songs.s{i}"} for i in range(5000 + n)]
    ),
    "A loop has at most 20 pedals": lambda n: make_data(loops=[loop(1, *["a"] * (20 + n))]),
    "at most 300 entries": lambda n: make_data(chain={"front": ["a"] * (300 + n)}),
    "all lists of the file together 110 000": lambda n: make_data(
        songs=[song("a", *[section(may=["a"] * 299)] * 366, *[section()] * (199 + n))]
    ),
    "1000 printed sheets": None,
    "64 MIDI devices": None,
    "Sections times presets are at most 3 500 000": lambda n: sections(*[1000] * 7, n, presets=500),
    "sections times loops 150 000": lambda n: sections(*[1000] * 3, n, loops=50),
    "Names have at most 200 characters": lambda n: make_data(
        songs=[song("a", title="é" * (200 + n))]
    ),
    "notes 20 000": lambda n: make_data(songs=[song("a", note="é" * (20_000 + n))]),
}


@pytest.mark.parametrize("words", [words for words, make in STATED.items() if make])
def test_a_limit_is_kept_to_the_number(words: str) -> None:
    """As much as the docs say loads; one more is refused in words that say the limit."""
    assert words in LIMITS
    with no_hang():
        rig_from_data(STATED[words](0))
        with pytest.raises(BadRigError) as error:
            rig_from_data(STATED[words](1))
    number = re.sub(r"\D", "", words)
    assert re.search(rf"at most {number}\b", str(error.value))


OF_ROWS = {"200 pedals", "99 loops", "1000 presets", "3000 songs", "1000 sections in a song",
           "1000 setlists", "5000 waivers", "1000 printed sheets",
           "Names have at most 200 characters", "notes 20 000"}  # fmt: skip
"""Limits that the edits themselves keep."""


@pytest.mark.parametrize(
    "words", [words for words, make in STATED.items() if make and words not in OF_ROWS]
)
def test_a_rig_that_was_edited_is_held_to_the_same_limits(words: str) -> None:
    """As much as the docs say fits a file, and one more is refused in the same words."""
    assert Fits().reason_not(Rig.model_validate(STATED[words](0))) is None
    with pytest.raises(BadRigError) as error:
        rig_from_data(STATED[words](1))
    reason = Fits().reason_not(Rig.model_validate(STATED[words](1)))
    assert reason is not None
    assert reason in str(error.value)


def test_an_edit_that_no_file_could_hold_is_refused() -> None:
    """One song more to play than may be saved: said at once, and the document stays as it was."""
    full = STATED["10 000 songs to play in all"](0) | {"songs": [song("x")]}
    document = Document(rig_from_data(full), None, None)
    before = document.rig
    with pytest.raises(EditError, match="10001 songs to play are too many: at most 10000 in all"):
        document.apply("add a song", lambda rig: edits.add_to_set(rig, "a", 0, "x"))
    assert document.rig is before


def test_every_limit_that_is_stated_is_tested() -> None:
    """Each number belongs to a limit above, a test below, or what measure_worst.py measures."""
    measured = ("15 seconds", "500 MB")
    rest = LIMITS
    for words in (*STATED, *measured, "at most 8 MB", "at most 32 deep", "the first 100 mistakes"):
        assert words in rest
        rest = rest.replace(words, "")
    assert re.findall(r"\d", rest) == []


def test_a_file_is_at_most_eight_megabytes(tmp_path: Path) -> None:
    """To the byte; what is longer is not even read to its end."""
    path = tmp_path / "rig.toml"
    path.write_text((HEAD + "#").ljust(MAX_BYTES, "x"))
    with no_hang():
        assert load(path)[1].name == "x"
        path.write_text((HEAD + "#").ljust(MAX_BYTES + 1, "x"))
        with pytest.raises(BadRigError, match="is too large: a rig file is at most 8 MB"):
            load(path)
    with path.open("r+b") as file:
        file.truncate(50 * 1024**3)  # a hole, which takes no room on the disk
    with no_hang(), pytest.raises(BadRigError, match="is too large"):
        read_plain(path)


@pytest.mark.parametrize(
    "nested",
    [
        lambda n: "a = " + "[" * n + "]" * n,
        lambda n: "a = " + "{a=" * (n - 1) + "{}" + "}" * (n - 1),
        lambda n: ".".join(["a"] * n) + " = {}",
        lambda n: "[" + ".".join(["a"] * n) + "]",
        lambda n: "[" + " . ".join(["a", '"b c"'] * (n // 2)) + "]",
        lambda n: "a.b.c = " + "[" * (n - 3) + "]" * (n - 3),
    ],
)
def test_things_stand_in_each_other_up_to_a_depth(nested: Any) -> None:
    """However the depth is spelled; far beyond it as well as just beyond it."""
    parse(nested(MAX_DEPTH - 1))
    for depth in (MAX_DEPTH + 3, 200, 20_000):
        with no_hang(), pytest.raises(BadRigError, match="is nested too deeply for a rig"):
            parse(nested(depth))


def test_words_and_full_stops_are_no_depth() -> None:
    """A text may hold many of them, one after the other."""
    dots = ".".join(["1"] * 100)
    text = f'a = "{dots}"\nb = """\n{dots}\nwww.{dots} is x\n"""\n# {dots} = 1\n'
    assert parse(text).keys() == {"a", "b"}


def test_of_very_many_faults_the_first_are_told(tmp_path: Path) -> None:
    """With their lines, and how many more there are; in the order of the file."""
    path = tmp_path / "rig.toml"
    path.write_text(HEAD + "".join(f"odd-{n} = 1\n" for n in range(20_000)))
    with no_hang(), pytest.raises(BadRigError) as error:
        load(path)
    lines = str(error.value).splitlines()
    assert len(lines) == 101
    assert [line.split(":")[0] for line in lines[:100]] == [f"line {n}" for n in range(3, 103)]
    assert lines[100] == "and 19900 more faults"


HOSTILE: dict[str, Callable[[int], str]] = {
    "a key of very many parts": lambda n: HEAD + ".".join(["a"] * n) + " = 1\n",
    "a key of very many parts that ends in nothing": lambda n: HEAD + ".".join(["a"] * n),
    "a key of very many quoted parts": lambda n: HEAD + ".".join(['"a.b"'] * n) + " = 1\n",
    "very many quotes behind full stops": lambda n: HEAD + "." * 50 + '"\\' * n + "\n",
    "a header that all keys stand under": lambda n: (
        HEAD + f"[{'.'.join(['a'] * 30)}]\n" + "".join(f"k{at} = 1\n" for at in range(n // 4))
    ),
    "very many ids twice": lambda n: HEAD + '[[songs]]\nid = "a"\ntempo = 90\n' * min(n, 5000),
    "very many keys that are unknown": lambda n: HEAD + "".join(f"k{at} = 1\n" for at in range(n)),
    "very many sections": lambda n: (
        HEAD + '[[songs]]\nid = "a"\ntempo = 90\nsections = [' + "{}," * n + "]\n"
    ),
    "very many sections that are bad": lambda n: (
        HEAD + '[[songs]]\nid = "a"\ntempo = 90\nsections = [' + "{a = 1}, " * 1000 + "]\n"
    ),
    "very many things in a chain": lambda n: HEAD + "[chain]\nfront = [" + "1," * n + "]\n",
    "a number of many digits": lambda n: HEAD + "note = " + "9" * n + "\n",
    "a hexadecimal number of many digits": lambda n: HEAD + "note = 0x" + "f" * n + "\n",
    "very many escapes": lambda n: HEAD + 'note = "' + "\\n" * n + '"\n',
    "a text of very many lines": lambda n: HEAD + 'note = """\n' + "a\n" * n + '"""\n',
    "one line of very many brackets": lambda n: HEAD + "a = " + "[" * n,
    "very many empty tables": lambda n: HEAD + "".join(f"[t{at}]\n" for at in range(n // 4)),
    "very many comments": lambda n: HEAD + "# c\n" * n,
    "only line ends": lambda n: "\r\n" * n,
}


@pytest.mark.parametrize("made", HOSTILE.values(), ids=HOSTILE)
def test_a_file_made_to_waste_time_does_not(tmp_path: Path, made: Callable[[int], str]) -> None:
    """It is read or refused while somebody waits; some of them once took hours."""
    through(tmp_path / "rig.toml", made(20_000).encode())


@pytest.mark.long
@pytest.mark.parametrize("made", HOSTILE.values(), ids=HOSTILE)
def test_a_large_file_made_to_waste_time_does_not(
    tmp_path: Path, made: Callable[[int], str]
) -> None:
    """The same as large as a file may be, with a million sections and the like."""
    path = tmp_path / "rig.toml"
    path.write_text(made(1_000_000))
    with no_hang(), contextlib.suppress(BadRigError):
        load(path)


EXTREMES = {
    "the slowest song": {"tempo": 0.001, "sections": [section(bars=100_000, meter="64/1")]},
    "the fastest song": {"tempo": 1000, "sections": [section(bars=1e-300, beat="1/1")]},
    "hardly any bars": {"tempo": 5e-3, "sections": [section(bars=5e-324)]},
    "no sections": {"tempo": 90, "sections": []},
}


@pytest.mark.parametrize("fields", EXTREMES.values(), ids=EXTREMES)
def test_absurd_songs_are_counted(tmp_path: Path, fields: dict[str, Any]) -> None:
    """Their seconds are numbers that JSON has."""
    data = make_data(songs=[{"id": "a", **fields}], setlists=[setlist("x", "a", "a", "b")])
    assert through(tmp_path / "rig.toml", dump(data).encode()) is not None


REFUSED = {
    "tempo": [
        "nan",
        "inf",
        "-inf",
        "0",
        "-1",
        "1e-4",
        "1000.1",
        "1e999",
        "0x" + "f" * 300,
        "'120'",
    ],
    "capo": ["-1", "25", "1.5", "true", "1e300", "9999999999999999999999"],
    "meter": ["'0/4'", "'4/3'", "'4/0'", "'99999999999/4'", "'４/4'", "'4/4/4'", "44", "''"],
    "id": [
        "''",
        "'A'",
        "'-a'",
        "'a.b'",
        "'../a'",
        "'a/b'",
        "'a\\nb'",
        '"a\\u0000"',
        "'ä'",
        "1",
        "[]",
    ],
}


@pytest.mark.parametrize("key", REFUSED)
def test_values_out_of_range_are_refused_with_their_line(tmp_path: Path, key: str) -> None:
    """Whatever a number or a name can be twisted into."""
    path = tmp_path / "rig.toml"
    for value in REFUSED[key]:
        rest = {"id": "id = 'a'", "tempo": "tempo = 90"} | {key: f"{key} = {value}"}
        path.write_text(HEAD + "[[songs]]\n" + "\n".join(rest.values()) + "\n")
        with pytest.raises(
            BadRigError, match=rf"^line {4 + list(rest).index(key)}: songs\..*{key}"
        ):
            load(path)


@pytest.mark.parametrize(
    "name",
    ["con", "nul", "aux", "true", "nan", "none", "null", "format", "songs", "0", "constructor"],
)
def test_reserved_words_are_ordinary_ids(tmp_path: Path, name: str) -> None:
    """Ids are the player's own; none means anything to the program."""
    data = make_data(
        pedals=[pedal(name)],
        presets=[preset(name)],
        songs=[song(name, section(name, plus=[name]))],
        setlists=[setlist(name, name)],
    )
    rig = through(tmp_path / "rig.toml", dump(data).encode())
    assert rig is not None
    assert rig.setlists[0].song_ids == (name,)
