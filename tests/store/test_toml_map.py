"""Which line of a file a path of the data leads to."""

from __future__ import annotations

import pytest

from rigtui.store.toml_map import TomlMap
from rigtui.store.toml_scan import Path, line_end, line_start

TEXT = '''\
# [[songs]] is no table here
format = 1
note = """
[[songs]]
tempo = 1 """
switcher.memories = 8
switcher . "bank_size" = 4
amp = { name = "x", channels = ["a", "b"] }

[chain]  # order
front = ["tuner",
  # a comment
  "wah", [
    1] ]

[[songs]]
id = "low-fen"
sections = [ { name = "Intro", bars = 4 },
  { name = "Verse", bars = 8,
    preset = "x" }, # not 1.0, but later versions allow it
]
[[songs]]
id = "tin-moth"
  [[songs.sections]]
  name = "All"

  [[songs.sections]]
  name = "Tag"
  bars = 2
[x.y]
'''

LINES: list[tuple[Path, int]] = [
    ((), 1),
    (("format",), 2),
    (("note",), 3),
    (("switcher", "memories"), 6),
    (("switcher", "bank_size"), 7),
    (("switcher",), 6),
    (("switcher", "nothing"), 6),
    (("amp", "channels", 1), 8),
    (("chain",), 10),
    (("chain", "fx"), 10),
    (("chain", "front"), 11),
    (("chain", "front", 0), 11),
    (("chain", "front", 1), 13),
    (("chain", "front", 2, 0), 14),
    (("chain", "front", 9), 11),
    (("chain", "front", 0, "odd"), 11),
    (("songs",), 16),
    (("songs", 0), 16),
    (("songs", 0, "tempo"), 16),
    (("songs", 0, "sections"), 18),
    (("songs", 0, "sections", 0, "bars"), 18),
    (("songs", 0, "sections", 1), 19),
    (("songs", 0, "sections", 1, "preset"), 20),
    (("songs", 0, "sections", 1, "plus"), 19),
    (("songs", 0, "sections", 7, "bars"), 18),
    (("songs", 1, "id"), 23),
    (("songs", 1, "sections"), 24),
    (("songs", 1, "sections", 0, "name"), 25),
    (("songs", 1, "sections", 0, "bars"), 24),
    (("songs", 1, "sections", 1, "bars"), 29),
    (("songs", 5), 16),
    (("x",), 30),
    (("x", "z"), 30),
    (("pedals",), 1),
    (("format", "deeper", 0), 2),
]


@pytest.mark.parametrize(("path", "line"), LINES)
@pytest.mark.parametrize("eol", ["\n", "\r\n"])
def test_a_path_leads_to_its_line(path: Path, line: int, eol: str) -> None:
    """What is not there is looked for in what would hold it."""
    assert TomlMap(TEXT.replace("\n", eol)).line_of(path) == line


def test_deep_nesting_is_no_danger() -> None:
    """An array a thousand deep, which only a vandal writes, is still walked step by step."""
    depth = 1000
    text = "a = " + "[\n" * depth + "]" * depth
    assert TomlMap(text).line_of(("a", *[0] * 400)) == 401


def test_a_line_begins_behind_the_break_before_it() -> None:
    """Also where the text begins with an empty line."""
    text = "\nab\ncd"
    assert [line_start(text, at) for at in range(1, 6)] == [1, 1, 1, 4, 4]
    assert [line_end(text, at) for at in range(1, 6)] == [4, 4, 4, 6, 6]
