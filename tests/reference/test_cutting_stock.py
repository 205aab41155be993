"""Cutting plans against published examples of cutting stock and bin packing."""

from __future__ import annotations

from rigtui.bench.patterns import Stock, best_patterns


def test_the_paper_machine() -> None:
    """Thirteen widths off rolls of 5600 mm: 73 rolls, 0.401 % waste.

    Source: Wikipedia, "Cutting stock problem", the example of a paper machine.
    """
    widths = {1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10,
              2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20}  # fmt: skip
    pieces = [width for width, many in widths.items() for _ in range(many)]
    assert sum(pieces) == 407_160
    found = best_patterns(pieces, [Stock(5600, 300, 0)])
    assert found is not None
    assert len(found.patterns) == 73
    assert found.waste == found.bound == 73 * 5600 - 407_160
    assert round(100 * found.waste / (73 * 5600), 3) == 0.401


def test_the_bin_packing_example() -> None:
    """Eleven weights in bins of 100: four bins.

    Source: OR-Tools documentation, "The Bin Packing Problem".
    """
    weights = [48, 30, 19, 36, 36, 27, 42, 42, 36, 24, 30]
    found = best_patterns(weights, [Stock(100, len(weights), 0)])
    assert found is not None
    assert (len(found.patterns), found.bound) == (4, 400 - sum(weights))


def test_three_sizes_of_rod() -> None:
    """Nine rods of 33, three of 30 and ten of 18 off stock of 120: five lengths of stock.

    Source: the example that comes with github.com/emadehsan/csp, solved there by OR-Tools.
    """
    pieces = [33] * 9 + [30] * 3 + [18] * 10
    found = best_patterns(pieces, [Stock(120, 22, 0)])
    assert found is not None
    assert (len(found.patterns), found.bound) == (5, 600 - sum(pieces))


def test_the_example_of_the_constraint_models() -> None:
    """Two of 7, two of 5 and four of 3 off lengths of 10: four lengths.

    Source: cutstock.mzn (J. Puchinger, 2007), an example of the MiniZinc language; the sum of the
    pieces, 36, allows no fewer.
    """
    found = best_patterns([7, 7, 5, 5, 3, 3, 3, 3], [Stock(10, 8, 0)])
    assert found is not None
    assert len(found.patterns) == 4
