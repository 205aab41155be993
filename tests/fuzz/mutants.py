"""Small faults that the tests of a room do not notice: python tests/fuzz/mutants.py moves --count 9

Makes one fault at a time (< for <=, a statement gone, ...) in a copy of the repository, and runs
the tests in the folder that mirrors the room there. A fault with which they all pass has survived:
write a test that fails because of it, make the code so that it is not possible, or explain it, as
one that changes only speed or which of two equals is taken. Tests that take far too long have
noticed it too.

Places are folders of rigtui/ (plan/loops), files (moves/carried.py) or lines (moves/carried.py:29).
Faults are drawn from all those there, and are the same for the same `--seed` and files.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import textwrap
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
SWAPPED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
    ast.And: ast.Or, ast.Or: ast.And, ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.FloorDiv,
    ast.Div: ast.Mult, ast.FloorDiv: ast.Mult, ast.Mod: ast.FloorDiv, ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd, ast.BitXor: ast.BitOr, ast.LShift: ast.RShift, ast.RShift: ast.LShift,
}  # fmt: skip
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "sorted": "list"}
LARGEST = 100
"""Larger numbers are limits of work, where one more makes no difference."""


@dataclass(frozen=True)
class Fault:
    """One place of a file, and what stands there instead."""

    path: Path
    """In the repository."""
    line: int
    start: int
    """Bytes from the start of the file, as is `end`."""
    end: int
    was: str
    now: str

    def __str__(self) -> str:
        was, now = (textwrap.shorten(text, 90, placeholder=" ...") for text in (self.was, self.now))
        return f"{self.path}:{self.line}: {was} -> {now}"

    def made(self, source: bytes) -> bytes:
        return source[: self.start] + self.now.encode() + source[self.end :]


def _changed(node: ast.AST, **fields: object) -> str:
    """Text of the node with other fields; what it is part of binds it as before."""
    old = {name: getattr(node, name) for name in fields}
    for name, value in fields.items():
        setattr(node, name, value)
    text = ast.unparse(node)
    for name, value in old.items():
        setattr(node, name, value)
    return f"({text})" if isinstance(node, ast.expr) else text


def _instead(node: ast.AST) -> Iterator[str]:
    """What may stand in place of this node, the nodes within it left as they are."""
    match node:
        case ast.Compare(ops=ops):
            for at, sign in enumerate(ops):
                yield _changed(node, ops=[*ops[:at], SWAPPED[type(sign)](), *ops[at + 1 :]])
        case ast.BoolOp(op=sign) | ast.BinOp(op=sign) if type(sign) in SWAPPED:
            yield _changed(node, op=SWAPPED[type(sign)]())
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            yield f"({ast.unparse(operand)})"
        case ast.Constant(value=bool(value)):
            yield str(not value)
        case ast.Constant(value=int(value)) if value <= LARGEST:
            yield str(value + 1)
        case ast.Call(func=ast.Name(id=name)) if name in NAMES:
            yield _changed(node, func=ast.Name(NAMES[name]))
            for at, keyword in enumerate(node.keywords):
                if keyword.arg in ("key", "reverse"):
                    kept = [*node.keywords[:at], *node.keywords[at + 1 :]]
                    yield _changed(node, keywords=kept)
        case ast.Dict(keys=keys, values=values):
            for at in range(len(keys)):
                kept = [*keys[:at], *keys[at + 1 :]], [*values[:at], *values[at + 1 :]]
                yield _changed(node, keys=kept[0], values=kept[1])
        case ast.Return(value=value) if not _is_none(value):
            yield "return None"
        case ast.Return() | ast.Raise() | ast.Continue() | ast.Break():
            yield "pass"
        case ast.Expr(value=value) if not isinstance(value, ast.Constant):  # that is a docstring
            yield "pass"
        case ast.AugAssign(op=sign):
            yield "pass"
            if type(sign) in SWAPPED:
                yield _changed(node, op=SWAPPED[type(sign)]())
        case ast.Assign(targets=[ast.Attribute() | ast.Subscript()]):
            yield "pass"


def _is_none(value: ast.expr | None) -> bool:
    return value is None or (isinstance(value, ast.Constant) and value.value is None)


def _nodes(node: ast.AST) -> Iterator[ast.AST]:
    """All nodes, without types, decorators and f-strings (Python 3.11 knows no places in them)."""
    yield node
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list") or isinstance(node, ast.JoinedStr):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST):
                yield from _nodes(child)


def faults(path: Path) -> Iterator[Fault]:
    """All faults that can be made in a file, from its first line to its last."""
    source = (ROOT / path).read_bytes()
    begins = [0]
    for line in source.splitlines(keepends=True):
        begins.append(begins[-1] + len(line))
    for node in _nodes(ast.parse(source)):
        for now in _instead(node):
            assert isinstance(node, ast.expr | ast.stmt)
            assert node.end_lineno is not None
            assert node.end_col_offset is not None
            start = begins[node.lineno - 1] + node.col_offset
            end = begins[node.end_lineno - 1] + node.end_col_offset
            yield Fault(path, node.lineno, start, end, ast.unparse(node), now)


def drawn(places: Sequence[str], seed: int, count: int | None) -> list[Fault]:
    """Faults of these places in their order: so many drawn from all, or all of them."""
    every: list[Fault] = []
    for place in places:
        name, _, line = place.partition(":")
        inside = Path("rigtui", name)
        paths = sorted((ROOT / inside).rglob("*.py")) if (ROOT / inside).is_dir() else [inside]
        for path in paths:
            here = faults(path.relative_to(ROOT) if path.is_absolute() else path)
            every += [fault for fault in here if not line or fault.line == int(line)]
    if count is None or count >= len(every):
        return every
    chosen = random.Random(seed).sample(range(len(every)), count)
    return [every[at] for at in sorted(chosen)]


def passed(copy: Path, tests: Path, seconds: float | None) -> bool:
    """Whether all tests of a folder pass in a copy of the repository, in so many seconds."""
    command = [sys.executable, "-m", "pytest", "-x", "-n2", str(tests)]
    running = subprocess.Popen(
        command, cwd=copy, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(copy), "CI": "1"}, start_new_session=True,
    )  # fmt: skip
    try:
        return running.wait(seconds) == 0
    except subprocess.TimeoutExpired:
        return False
    finally:
        with contextlib.suppress(ProcessLookupError):  # the tests' workers too
            os.killpg(running.pid, signal.SIGKILL)
        running.wait()


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("places", nargs="+", help="moves, plan/loops, moves/carried.py:29, ...")
    parser.add_argument("--seed", type=int, default=0, help="another seed draws other faults")
    parser.add_argument("--count", type=int, help="how many faults are drawn (all)")
    asked = parser.parse_args()
    survived = 0
    limits: dict[Path, float] = {}
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder, "rigtui")
        shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".*", "__pycache__"))
        chosen = drawn(asked.places, asked.seed, asked.count)
        for fault in chosen:
            tests = Path("tests", fault.path.parts[1])
            if tests not in limits:
                begun = time.monotonic()
                if not passed(copy, tests, None):
                    sys.exit(f"{tests} must pass before faults are made")
                limits[tests] = 60 + 3 * (time.monotonic() - begun)
            source = (ROOT / fault.path).read_bytes()
            (copy / fault.path).write_bytes(fault.made(source))
            survives = passed(copy, tests, limits[tests])
            (copy / fault.path).write_bytes(source)
            survived += survives
            print("survived" if survives else "killed", fault, flush=True)
    print(f"{len(chosen)} faults of seed {asked.seed}: {survived} survived")


if __name__ == "__main__":
    main()
