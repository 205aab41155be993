"""What is wrong with a file that is no TOML is said in plain words, at the right line."""

from __future__ import annotations

import pytest

from rigtui.model.errors import BadRigError
from rigtui.store.load import parse

HEAD = 'format = 1\nname = "Rig"\n'
SONG = '[[songs]]\nid = "low-fen"\n'
UNCLOSED = 'is not TOML: the quote opened on this line is not closed: text needs two, "like this"'
NO_VALUE = (
    'is not TOML: a value is missing or unreadable: text needs a quote on both sides, "like this"'
)


@pytest.mark.parametrize(
    ("text", "message", "line"),
    [
        (SONG + 'title = "Low Fen\ntempo = 90\n', UNCLOSED, 5),
        (SONG + "title = 'Low Fen\ntempo = 90\n", UNCLOSED, 5),
        (SONG + "title = 'Low Fen\nnote = 'x'\n", UNCLOSED, 5),
        (SONG + 'title = "Low Fen', UNCLOSED, 5),
        (SONG + 'note = """one\ntwo\nthree\n', UNCLOSED, 5),
        (SONG + "note = '''one\ntwo\nthree\n", UNCLOSED, 5),
        (SONG + 'tags = ["a", "b]\ntempo = 90\n', UNCLOSED, 5),
        (SONG + 'title = Low Fen"\n', NO_VALUE, 5),
        (SONG + "title = Low\n", NO_VALUE, 5),
        (SONG + "tempo =\n", "is not TOML: the value is missing", 5),
        (SONG + "tempo = # fast\n", "is not TOML: the value is missing", 5),
        (
            SONG + "title = “Low Fen”\n",
            'is not TOML: these quotes are curly: write straight ones, "like this"',
            5,
        ),
        (SONG + 'id = "again"\n', "is not TOML: this key is there twice", 5),
        ("[amp]\n[amp]\n", "is not TOML: the table amp is there twice", 4),
        (
            "Low Fen\n",
            "is not TOML: a key needs = and a value, as in tempo = 118",
            3,
        ),
        ("loops = [1 2]\n", "is not TOML: a list opened with [ lacks a comma or its ]", 3),
        ("[amp\n", "is not TOML: a [table] lacks its ]", 3),
        (
            'path = "a\\b\\y"\n',
            r"is not TOML: inside double quotes, write a \ twice: \\",
            3,
        ),
        (
            'tempo = 90 "fast"\n',
            "is not TOML: there is something after the value: write one key and value a line",
            3,
        ),
        ('a = "\x01"\n', "is not TOML: text may not contain this character", 3),
    ],
)
def test_a_fault_is_told_in_plain_words(text: str, message: str, line: int) -> None:
    """Each slip that is easily made has words that say what would be right, and its line."""
    with pytest.raises(BadRigError) as caught:
        parse(HEAD + text)
    [problem] = caught.value.problems
    assert (problem.message, problem.line) == (message, line)


def test_other_faults_keep_the_words_of_the_parser() -> None:
    """What has no words of its own is told as the parser tells it."""
    with pytest.raises(BadRigError, match="is not TOML: invalid hex value"):
        parse('a = "\\u12"\n')


def test_text_with_many_full_stops_is_no_endless_key() -> None:
    """Sentences, short names and dots in a row are a note; only a key of many parts is refused."""
    note = "Turn left. Mind e.g. the step. " * 40 + "..." * 20
    assert parse(f'note = "{note}"')["note"] == note
    assert parse("# " + ".".join("a" * 200) + " = 1\na = 1\n") == {"a": 1}
    with pytest.raises(BadRigError, match="nested too deeply"):
        parse(".".join("a" * 40) + " = 1\n")
