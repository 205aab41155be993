"""What is so in every file of the program."""

from __future__ import annotations

import ast
import re
from collections import Counter
from pathlib import Path

import rigtui

ROOT = Path(rigtui.__file__).parent
_DEFINED = re.compile(r"^(?:async )?(?:def|class) (?!__)(\w+)", re.M)
_CLASS = re.compile(r"^ *class (\w+)", re.M)
_VAGUE = re.compile(r"\b(?:one|found|thing)\b *(?:[:=,)]|in\b)")
"""Where a name may be bound: a file without it need not be parsed."""


def test_what_is_written_is_used() -> None:
    """A check that no rule calls, say, or a helper that lost its caller, is found here."""
    texts = {path: path.read_text(encoding="utf-8") for path in sorted(ROOT.rglob("*.py"))}
    words = {path: Counter(re.findall(r"\w+", text)) for path, text in texts.items()}
    anywhere = sum(words.values(), Counter())
    names = [(path, name) for path, text in texts.items() for name in _DEFINED.findall(text)]
    assert len(names) > 2000
    assert [
        f"{path.relative_to(ROOT)}: {name}"
        for path, name in names
        if (words[path] if name.startswith("_") else anywhere)[name] == 1
    ] == []


def test_no_two_classes_have_the_same_name() -> None:
    """Whoever looks for a class meets it alone."""
    texts = (path.read_text(encoding="utf-8") for path in ROOT.rglob("*.py"))
    names = Counter(name for text in texts for name in _CLASS.findall(text))
    assert len(names) > 300
    assert [name for name, many in names.items() if many > 1] == []


def test_names_say_what_they_are_of() -> None:
    """`one`, `found` and `thing` say nothing of what they hold."""
    vague = []
    for path in sorted(ROOT.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(text)) if _VAGUE.search(text) else ():
            bound = isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
            name = node.id if bound else node.arg if isinstance(node, ast.arg) else ""
            if name in ("one", "found", "thing"):
                vague.append(f"{path.relative_to(ROOT)}:{node.lineno}")
    assert vague == []


def test_no_timer_can_be_left_out() -> None:
    """The library's `set_timer` may never go off on a busy machine: `once` always does."""
    texts = {path: path.read_text(encoding="utf-8") for path in ROOT.rglob("*.py")}
    assert [path.name for path, text in texts.items() if ".set_timer(" in text] == []
    assert any("once(" in text for text in texts.values())
