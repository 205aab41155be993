"""Edits of a rig file: what the text becomes, to the byte."""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Callable
from typing import Any

import pytest

from rigtui.store import splice
from rigtui.store.splice import Rewrite, rewrite

Data = dict[str, Any]

RIG = """\
# My rig. Hands off.
format = 1
name = 'Quay "Q" Street'   # literal on purpose

# What I plug into
[switcher]
memories = 8   # all taken
bank_size = 4

# ---- songs ----

# opener
[[songs]]
id = "low-fen"
title = "Low Fen"
tempo = 118.0   # by the record
sections = [
  { name = "Intro", bars = 4 },  # count in
  # the long one
  { name = "Verse", bars = 16, preset = "clean" },
  { name = "Solo",  bars = 0x10, preset = "lead" }   # loud
]

# closer
# (everybody up)
[[songs]]
id = "tin-moth"
tempo = 96
sections = [ { name = "All", bars = 32 } ]
# ends on the one

# That is all.
"""


def edited(text: str, edit: Callable[[Data], object]) -> Rewrite:
    """The text after an edit of what it means."""
    new = copy.deepcopy(tomllib.loads(text))
    edit(new)
    return rewrite(text, new)


def replaced(old: str, new: str, text: str = RIG) -> str:
    """The text with one passage replaced, which must be there once."""
    assert text.count(old) == 1
    return text.replace(old, new)


def _set(*path: Any) -> Callable[[Data], None]:
    """An edit that sets what the path leads to; the last of `path` is the value."""

    def edit(data: Data) -> None:
        here: Any = data
        for step in path[:-2]:
            here = here[step]
        here[path[-2]] = path[-1]

    return edit


def _sections(data: Data) -> list[Data]:
    sections = data["songs"][0]["sections"]
    assert isinstance(sections, list)
    return sections


VALUES = [
    (_set("switcher", "memories", 16), "memories = 8 ", "memories = 16 "),
    (_set("name", "Pier's"), "'Quay \"Q\" Street'", '"Pier\'s"'),
    (_set("name", 'Say "Q"'), "'Quay \"Q\" Street'", "'Say \"Q\"'"),
    (_set("songs", 0, "tempo", 120), "118.0", "120.0"),
    (_set("songs", 0, "tempo", 120.5), "118.0", "120.5"),
    (_set("songs", 0, "sections", 2, "bars", 8), "bars = 0x10", "bars = 8"),
    (
        _set("songs", 0, "sections", 0, "preset", "hall"),
        "bars = 4 }",
        'bars = 4, preset = "hall" }',
    ),
    (_set("songs", 0, "sections", 0, "plus", ["wah"]), "bars = 4 }", 'bars = 4, plus = ["wah"] }'),
    (_set("songs", 1, "tempo", True), "tempo = 96", "tempo = true"),
    (_set("songs", 0, "title", "\x1b[0m\x9b"), '"Low Fen"', r'"\u001b[0m\u009b"'),
    (_set("songs", 0, "title", 'a\\"\t\n'), '"Low Fen"', r'"a\\\"\t\n"'),
    (_set("songs", 1, "id", "tin-hut"), '"tin-moth"', '"tin-hut"'),
    (_set("switcher", "name", "Six"), "bank_size = 4\n", 'bank_size = 4\nname = "Six"\n'),
    (_set("songs", 1, "capo", 2), "tempo = 96\n", "tempo = 96\ncapo = 2\n"),
    (_set("note", "x"), "on purpose\n", 'on purpose\nnote = "x"\n'),
]


@pytest.mark.parametrize(("edit", "old", "new"), VALUES)
def test_a_changed_value_changes_nothing_round_it(
    edit: Callable[[Data], None], old: str, new: str
) -> None:
    """Only the value's own characters change, or one key is added after its table's last."""
    assert edited(RIG, edit) == Rewrite(replaced(old, new))


def test_the_same_data_gives_the_same_text() -> None:
    """Nothing is written anew, not even numbers that a model holds as another type."""
    assert edited(RIG, _set("songs", 0, "tempo", 118)).text is RIG


def test_a_boolean_is_not_a_number() -> None:
    """`true` in place of 1 is a change, though Python calls them equal."""
    assert edited("a = 1\n", _set("a", True)).text == "a = true\n"
    assert edited("a = [1]\n", _set("a", [True])).text == "a = [true]\n"


def test_a_removed_key_takes_its_line_and_leaves_the_comment_above() -> None:
    """The comment in its line goes with it; what stands above may be about more."""
    text = "# top\nformat = 1\n# above\nname = 'x' # mine\nnote = 'y'\n"
    assert edited(text, lambda d: d.pop("name")).text == "# top\nformat = 1\n# above\nnote = 'y'\n"


def test_a_section_that_moves_takes_its_comments_along() -> None:
    """The comment above it and the one at the end of its line go with it; commas come right."""
    moved = edited(RIG, lambda d: _sections(d).insert(0, _sections(d).pop(1)))
    assert moved.text == replaced(
        '  { name = "Intro", bars = 4 },  # count in\n'
        "  # the long one\n"
        '  { name = "Verse", bars = 16, preset = "clean" },\n',
        "  # the long one\n"
        '  { name = "Verse", bars = 16, preset = "clean" },\n'
        '  { name = "Intro", bars = 4 },  # count in\n',
    )
    last_first = edited(RIG, lambda d: _sections(d).insert(0, _sections(d).pop(2)))
    assert last_first.text == replaced(
        RIG[RIG.index("  { name") : RIG.index("]\n\n# closer")],
        '  { name = "Solo",  bars = 0x10, preset = "lead" },   # loud\n'
        '  { name = "Intro", bars = 4 },  # count in\n'
        "  # the long one\n"
        '  { name = "Verse", bars = 16, preset = "clean" }\n',
    )


def test_a_section_that_goes_takes_its_comments_along() -> None:
    """Those of the sections round it stay."""
    assert edited(RIG, lambda d: _sections(d).pop(1)).text == replaced(
        '  # the long one\n  { name = "Verse", bars = 16, preset = "clean" },\n', ""
    )
    assert edited(RIG, lambda d: _sections(d).pop(2)).text == replaced(
        ' },\n  { name = "Solo",  bars = 0x10, preset = "lead" }   # loud\n', " }\n"
    )
    assert edited(RIG, lambda d: _sections(d).clear()).text == replaced(
        RIG[RIG.index("[\n  { name") : RIG.index("\n\n# closer")], "[]"
    )


def test_a_new_section_is_written_like_the_one_it_resembles() -> None:
    """It gets a line of its own, in the spacing of its sibling, without that one's comment."""
    solo = {"name": "Outro", "bars": 2, "preset": "lead"}
    assert edited(RIG, lambda d: _sections(d).append(solo)).text == replaced(
        'preset = "lead" }   # loud\n',
        'preset = "lead" },   # loud\n  { name = "Outro",  bars = 2, preset = "lead" }\n',
    )


def test_sections_in_one_line_stay_in_one_line_while_they_fit() -> None:
    """One more short section goes beside the first; a long one gives each a line."""
    short = edited(RIG, lambda d: d["songs"][1]["sections"].append({"name": "Tag", "bars": 2}))
    assert short.text == replaced("bars = 32 } ]", 'bars = 32 }, { name = "Tag", bars = 2 } ]')
    long = {
        "name": "Tag",
        "bars": 2,
        "hands": "as long as you like it, and then a bit more than that",
    }
    assert edited(RIG, lambda d: d["songs"][1]["sections"].append(long)).text == replaced(
        '[ { name = "All", bars = 32 } ]',
        '[\n  { name = "All", bars = 32 },\n'
        f'  {{ name = "Tag", bars = 2, hands = "{long["hands"]}" }},\n]',
    )


FIRST = RIG[RIG.index("\n# opener") : RIG.index("\n# closer")]
SECOND = RIG[RIG.index("\n# closer") : RIG.index("\n# That is all")]
BEFORE, AFTER = RIG[: RIG.index("\n# opener")], RIG[RIG.index("\n# That is all") :]


def test_a_song_takes_the_comments_above_it_along() -> None:
    """It moves and goes with them; the heading, the top and the end of the file stay."""
    assert BEFORE + FIRST + SECOND + AFTER == RIG
    assert edited(RIG, lambda d: d["songs"].reverse()).text == BEFORE + SECOND + FIRST + AFTER
    assert edited(RIG, lambda d: d["songs"].pop(0)).text == BEFORE + SECOND + AFTER
    assert edited(RIG, lambda d: d["songs"].pop(1)).text == BEFORE + FIRST + AFTER
    assert edited(RIG, lambda d: d.pop("songs")).text == BEFORE + AFTER


def test_a_doubled_song_is_written_like_the_first_without_its_comments() -> None:
    """Spelling, spacing and the order of keys are those of the original."""

    def double(data: Data) -> None:
        data["songs"].insert(1, {**copy.deepcopy(data["songs"][0]), "id": "low-moon"})

    twin = """
[[songs]]
id = "low-moon"
title = "Low Fen"
tempo = 118.0
sections = [
  { name = "Intro", bars = 4 },
  { name = "Verse", bars = 16, preset = "clean" },
  { name = "Solo",  bars = 0x10, preset = "lead" }
]
"""
    assert edited(RIG, double).text == BEFORE + FIRST + twin + SECOND + AFTER


def test_a_doubled_song_is_copied_as_it_was_though_the_original_changes() -> None:
    """What becomes of the original in the same edit does not reach the copy."""

    def edit(data: Data) -> None:
        song = data["songs"][0]
        data["songs"].append({**copy.deepcopy(song), "id": "c"})
        song["sections"].pop(0)

    first = '[[songs.sections]]\nname = "A"  # first\nbars = 4\n'
    assert edited(NESTED, edit).text == replaced(first, "", NESTED) + (
        '[[songs]]\nid = "c"\n[[songs.sections]]\nname = "A"\nbars = 4\n'
        '\n[[songs.sections]]\nname = "B"\nbars = 8\n'
    )


def test_a_song_may_move_change_and_make_room_in_one_edit() -> None:
    """Each of several edits lands in the right song."""

    def edit(data: Data) -> None:
        low, tin = data["songs"]
        low["tempo"], tin["title"] = 60, "Tin Moth"
        data["songs"] = [{"id": "new", "tempo": 100}, tin, low]

    assert edited(RIG, edit).text == (
        BEFORE
        + '\n[[songs]]\nid = "new"\ntempo = 100\n'
        + replaced("96\n", '96\ntitle = "Tin Moth"\n', SECOND)
        + replaced("118.0", "60.0", FIRST)
        + AFTER
    )


def test_the_first_tables_of_a_kind_come_last_in_the_house_style() -> None:
    """They go after all others, before what ends the file; each section gets its own line."""
    song = {
        "id": "a",
        "tempo": 90,
        "sections": [{"name": "All", "bars": 8}, {"name": "B", "bars": 1}],
    }

    def edit(data: Data) -> None:
        data["amp"] = {"channels": ["clean"]}
        data["songs"] = [song]

    text = "format = 1\r\n[chain]\r\nfront = []\r\n\r\n# end\r\n"
    assert edited(text, edit).text == (
        "format = 1\r\n[chain]\r\nfront = []\r\n"
        '\r\n[amp]\r\nchannels = ["clean"]\r\n'
        '\r\n[[songs]]\r\nid = "a"\r\ntempo = 90\r\nsections = [\r\n'
        '  { name = "All", bars = 8 },\r\n  { name = "B", bars = 1 },\r\n]\r\n'
        "\r\n# end\r\n"
    )


NESTED = """\
format = 1
[[songs]]
id = "a"
[[songs.sections]]
name = "A"  # first
bars = 4

# second
[[songs.sections]]
name = "B"
bars = 8
[[songs]]
id = "b"
"""


@pytest.mark.parametrize(
    ("edit", "old", "new"),
    [
        (_set("songs", 0, "sections", 1, "bars", 9), "bars = 8", "bars = 9"),
        (_set("songs", 0, "tempo", 9), 'id = "a"\n', 'id = "a"\ntempo = 9\n'),
        (
            lambda d: d["songs"][0]["sections"].reverse(),
            NESTED[NESTED.index("[[songs.s") : NESTED.rindex("[[songs]]")],
            '\n# second\n[[songs.sections]]\nname = "B"\nbars = 8\n'
            '\n[[songs.sections]]\nname = "A"  # first\nbars = 4\n',
        ),
        (
            lambda d: d["songs"].reverse(),
            NESTED[NESTED.index("[[songs") :],
            '[[songs]]\nid = "b"\n' + NESTED[NESTED.index("[[songs") : NESTED.rindex("[[songs]]")],
        ),
        (
            _set("songs", 1, "sections", [{"name": "C", "bars": 1}, {"name": "D", "bars": 2}]),
            'id = "b"\n',
            'id = "b"\n[[songs.sections]]\nname = "C"\nbars = 1\n'
            '\n[[songs.sections]]\nname = "D"\nbars = 2\n',
        ),
        (
            _set("songs", 0, "sections", []),
            NESTED[NESTED.index("[[songs.s") : NESTED.rindex("[[songs]]")],
            "sections = []\n",
        ),
    ],
)
def test_sections_with_headers_of_their_own_are_edited_in_place(
    edit: Callable[[Data], None], old: str, new: str
) -> None:
    """They move within their song and with it, and a song beside it follows the example."""
    assert edited(NESTED, edit).text == replaced(old, new, NESTED)


@pytest.mark.parametrize(
    ("text", "edit", "result"),
    [
        ("chain.front = [1] # c\nx = 1\n", _set("chain", "fx", [2]),
         "chain.front = [1] # c\nchain.fx = [2]\nx = 1\n"),
        ("chain = {front=[1]} # c\n", _set("chain", "fx", [2]),
         "chain = {front=[1], fx=[2]} # c\n"),
        ("chain = {front=[1],fx=[2]}\n", _set("chain", {"fx": [2]}), "chain = {fx=[2]}\n"),
        ("[chain] # c\n", _set("chain", "fx", [2]), "[chain] # c\nfx = [2]\n"),
        ("a.b.c = 1 # x\n", _set("a", "b", {}), "a.b = {}\n"),
        ("[a.b]\nc = 1\n", _set("a", "d", 2), "[a]\nd = 2\n[a.b]\nc = 1\n"),
        ("songs = []\n", _set("songs", [{"id": "x"}]), '[[songs]]\nid = "x"\n'),
        ("[[songs]]\nid = 'x'\n", _set("songs", []), "songs = []\n"),
        ("a = [\n  1, # one\n  2 ] # out\n", _set("a", [2, 1]),
         "a = [\n  2,\n  1 # one\n ] # out\n"),
        ("a = [ # in\n  1 # one\n  , 2 # two\n]\n", _set("a", [2, 3, 1]),
         "a = [ # in\n  2, # two\n  3,\n  1 # one\n]\n"),
        ("a = [\n  1, 2,\n  3, 4,\n]\n", _set("a", [1, 3, 4]), "a = [\n  1, 3,\n  4,\n]\n"),
        ("a = '''\n[[b]]\n# c'''\n[c]\nd = 1", _set("c", "d", 2),
         "a = '''\n[[b]]\n# c'''\n[c]\nd = 2"),
        ("a = '''x\ny'''\n", _set("a", 'x\n"z"'), 'a = """x\n"z\\""""\n'),
        ("'a b'   = 1\n'c' = 2\n", _set("d é", 3), "'a b'   = 1\n'c' = 2\n\"d é\" = 3\n"),
        ("long_key = 1\nkey      = 2\n", _set("k", 3),
         "long_key = 1\nkey      = 2\nk        = 3\n"),
        ("  in = 1\n", _set("out", 3), "  in = 1\n  out = 3\n"),
        ("a = 1", _set("b", 2), "a = 1\nb = 2"),
        ("", _set("songs", [{"id": "x"}]), '[[songs]]\nid = "x"\n'),
        ("d = 1979-05-27 07:32:00Z\n", lambda d: d.update(d=d["d"].replace(hour=8)),
         "d = 1979-05-27 08:32:00+00:00\n"),
    ],
)  # fmt: skip
def test_every_spelling_is_edited_in_its_own_way(
    text: str, edit: Callable[[Data], None], result: str
) -> None:
    """Dotted keys, inline tables, odd keys, arrays over lines, texts that look like tables."""
    assert edited(text, edit) == Rewrite(result)


def test_waivers_are_known_by_rule_and_place() -> None:
    """Taking one out leaves its neighbours and their comments alone."""
    first, second, third = (
        f'\n# why {n}\n[[waivers]]\nrule = "r"\nwhere = "w{n}"\nreason = "x"\n' for n in range(3)
    )
    text = "format = 1\n" + first + second + third
    assert edited(text, lambda d: d["waivers"].pop(1)).text == "format = 1\n" + first + third


def test_a_wrong_idea_of_the_old_data_costs_nothing() -> None:
    """The text is read again, and edited as carefully as ever."""
    new = tomllib.loads(RIG)
    new["songs"][0]["tempo"] = 60
    assert rewrite(RIG, new, old={"songs": []}) == Rewrite(replaced("118.0", "60.0"))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("# only this\n", '# only this\n\n[amp]\nname = "x"\n'),
        ("", '[amp]\nname = "x"\n'),
        ("[amp]\n# none yet\n\n[chain]\n", '[amp]\nname = "x"\n# none yet\n\n[chain]\n'),
        ("[amp]", '[amp]\nname = "x"'),
    ],
)
def test_the_first_key_of_a_table(text: str, wanted: str) -> None:
    """Right below its header; and a first table comes after the comments that begin a file."""
    new = {**tomllib.loads(text), "amp": {"name": "x"}}
    assert rewrite(text, new) == Rewrite(wanted)


@pytest.mark.parametrize("quotes", ['"""', "'''"])
def test_what_only_looks_like_a_comment(quotes: str) -> None:
    """The last line of a text of several lines stays with its table, and so do odd comments."""
    text = (
        f"[amp]\nnote = {quotes}\n# no comment{quotes}\n# of the next\n[switcher]\n"
        f"# {quotes} nothing begins here\n[player]\nmoves_allowed = 1\n"
    )
    new = tomllib.loads(text)
    del new["switcher"]
    assert rewrite(text, new) == Rewrite(
        f"[amp]\nnote = {quotes}\n# no comment{quotes}\n"
        f"# {quotes} nothing begins here\n[player]\nmoves_allowed = 1\n"
    )


def test_a_table_that_resists_is_written_afresh_and_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """An edit is never lost: its table's comments are, and the caller hears of it."""

    def spoil(*_: Any) -> str:
        return "= not TOML ="

    monkeypatch.setattr("rigtui.store.splice_table.edit_value", spoil)
    result = edited(RIG, _set("switcher", "memories", 16))
    assert result.rewritten == ("switcher",)
    assert (
        result.text
        == BEFORE.replace(
            "\n# What I plug into\n[switcher]\nmemories = 8   # all taken\nbank_size = 4\n", ""
        )
        + FIRST
        + SECOND
        + "\n[switcher]\nmemories = 16\nbank_size = 4\n"
        + AFTER
    )


def test_a_file_that_resists_is_written_afresh_as_a_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no table can be edited, everything is named as rewritten, and the data is right."""
    monkeypatch.setattr(splice, "TableEditor", None)
    new = {**tomllib.loads(RIG), "name": "other"}
    for text, eol in ((RIG, "\n"), (RIG.replace("\n", "\r\n"), "\r\n")):
        assert rewrite(text, new) == Rewrite(splice.dump(new, eol), tuple(new))


def test_what_toml_cannot_say_is_refused() -> None:
    """Nothing is written that would read back as something else."""
    with pytest.raises(TypeError, match="NoneType"):
        rewrite(RIG, {"name": None})


def test_rows_that_stand_close_stay_close_when_another_is_moved() -> None:
    """A moved row stands apart where some rows do; those that keep their places are left alone."""
    close = '[[waivers]]\nrule = "a"\n[[waivers]]\nrule = "b"\n'
    apart = '\n[[waivers]]\nrule = "c"\n'
    text = "format = 1\n" + close + apart
    moved = edited(text, lambda d: d["waivers"].insert(0, d["waivers"].pop(2))).text
    assert moved.count('rule = "a"\n[[waivers]]\nrule = "b"') == 1
    assert [row["rule"] for row in tomllib.loads(moved)["waivers"]] == ["c", "a", "b"]


@pytest.mark.parametrize(("before", "after"), [
    ("a = [\n  1]\n", "a = [\n  1,\n  2,\n  3]\n"),
    ("a = [\n  1\n]\n", "a = [\n  1,\n  2,\n  3\n]\n"),
    ("a = [ # mine\n  1 ]\n", "a = [ # mine\n  1,\n  2,\n  3 ]\n"),
])  # fmt: skip
def test_a_single_item_shows_how_more_are_laid_out(before: str, after: str) -> None:
    """Each on a line of its own, as the one that is there, and the end as it was."""
    assert rewrite(before, {"a": [1, 2, 3]}).text == after
