"""The faults that `mutants.py` makes."""

from __future__ import annotations

import ast
from pathlib import Path

from fuzz.mutants import ROOT, drawn, faults


def test_each_fault_is_another_program() -> None:
    """Every one can be compiled, and says other things than the file does."""
    path = Path("rigtui/moves/carried.py")
    source = (ROOT / path).read_bytes()
    made = {ast.dump(ast.parse(fault.made(source))) for fault in faults(path)}
    assert len(made) == len(list(faults(path))) > 30
    assert ast.dump(ast.parse(source)) not in made


def test_the_same_seed_draws_the_same_faults() -> None:
    """Drawn from all of a folder, and all of one line."""
    assert drawn(["moves"], 3, 9) == drawn(["moves"], 3, 9) != drawn(["moves"], 4, 9)
    assert len(drawn(["moves"], 3, 9)) == 9
    line = drawn(["moves/carried.py:20"], 0, None)
    assert [(fault.was, fault.now) for fault in line] == [("4", "5")]
