"""What is so in every file of the program."""

from __future__ import annotations

import ast
import re
from collections import Counter
from functools import lru_cache
from pathlib import Path

import rigtui

ROOT = Path(rigtui.__file__).parent
_PRIVATE = re.compile(r"^(?:async )?(?:def|class) (_(?!_)\w+)", re.M)


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


@lru_cache
def parsed() -> dict[str, ast.Module]:
    """Every file of the program, by its path."""
    paths = sorted(ROOT.rglob("*.py"))
    return {str(path.relative_to(ROOT)): ast.parse(path.read_text("utf-8")) for path in paths}


def test_no_two_classes_have_the_same_name() -> None:
    """Whoever looks for a class meets it alone."""
    names = Counter(
        node.name
        for module in parsed().values() for node in ast.walk(module)
        if isinstance(node, ast.ClassDef)
    )  # fmt: skip
    assert len(names) > 300
    assert [name for name, many in names.items() if many > 1] == []


def test_names_say_what_they_are_of() -> None:
    """`one`, `found` and `thing` say nothing of what they hold."""
    vague = []
    for path, module in parsed().items():
        for node in ast.walk(module):
            bound = isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
            name = node.id if bound else node.arg if isinstance(node, ast.arg) else ""
            if name in ("one", "found", "thing"):
                vague.append(f"{path}:{node.lineno}")
    assert vague == []
