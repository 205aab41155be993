"""What is so in every file of the program."""

from __future__ import annotations

import ast
import re
from collections import Counter
from pathlib import Path

import rigtui

ROOT = Path(rigtui.__file__).parent
_PRIVATE = re.compile(r"^(?:async )?(?:def|class) (_(?!_)\w+)", re.M)
_CLASS = re.compile(r"^ *class (\w+)", re.M)
_VAGUE = re.compile(r"\b(?:one|found|thing)\b *(?:[:=,)]|in\b)")
"""Where a name may be bound: a file without it need not be parsed."""


def test_what_is_private_to_a_file_is_used_in_it() -> None:
    """A check that no rule calls, say, or a helper that lost its caller, is found here."""
    looked_at, idle = 0, []
    for path in sorted(ROOT.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        words = Counter(re.findall(r"\w+", text))
        names = _PRIVATE.findall(text)
        looked_at += len(names)
        idle += [f"{path.relative_to(ROOT)}: {name}" for name in names if words[name] == 1]
    assert looked_at > 1000
    assert idle == []


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
