"""No two files need each other, not even for their types.

Source: the circles of a graph are its strongly connected components, by networkx.
"""

from __future__ import annotations

import ast
from collections.abc import Collection, Iterator
from pathlib import Path

import networkx as nx

import rigtui

ROOT = Path(rigtui.__file__).parent


def modules() -> dict[str, ast.Module]:
    """All modules of the program, with what is written in them."""
    read: dict[str, ast.Module] = {}
    for path in sorted(ROOT.rglob("*.py")):
        parts = path.relative_to(ROOT.parent).with_suffix("").parts
        name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        read[name] = ast.parse(path.read_text(encoding="utf-8"))
    return read


def imported(module: ast.Module, known: Collection[str]) -> Iterator[str]:
    """The known modules that a module imports, anywhere in it: for types, in functions too."""
    for node in ast.walk(module):
        if isinstance(node, ast.ImportFrom):
            for name in node.names:
                whole = f"{node.module}.{name.name}"
                yield from {whole if whole in known else node.module} & set(known)
        elif isinstance(node, ast.Import):
            yield from {name.name for name in node.names} & set(known)


def test_no_circles_not_even_for_types() -> None:
    """In the whole program: what a file imports only when it runs counts as well."""
    read = modules()
    needs = nx.DiGraph(
        (name, other) for name, module in read.items() for other in imported(module, read)
    )
    assert needs.number_of_edges() > len(read) / 2
    assert [circle for circle in nx.strongly_connected_components(needs) if len(circle) > 1] == []
