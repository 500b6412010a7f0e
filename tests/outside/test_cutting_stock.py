"""Bars cut into parts, against published examples of the cutting-stock problem.

- Paper machine: master rolls of 5600 mm, 13 widths; at least 73 rolls, with 0.401 % waste. Read in a copy of the
  encyclopaedia article *Cutting stock problem* (hitchhikersgui.de), which gives a solution of 73 rolls.
- Chvatal, *Linear Programming* (1983), p. 195: raws of 100 in; widths and orders read in the SAS/OR guide, example
  4.5, which prints 35 in for the width that two other copies give as 36 in. The least number, 453, is from memory.
"""

from __future__ import annotations

import pytest

from sweep.plan.boards import Part, cut_from

PAPER = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
    2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip


def parts_of(order: dict[int, int]) -> list[Part]:
    """Return every part of an order given as length and number."""
    return [Part(float(length), str(length)) for length, count in order.items() for _ in range(count)]


def test_the_paper_machine_needs_73_rolls():
    """And wastes 0.401 % of them."""
    rolls = cut_from(parts_of(PAPER), [5600.0], 0.0).bars

    assert len(rolls) == 73
    assert 1 - sum(length * count for length, count in PAPER.items()) / (73 * 5600) == pytest.approx(0.00401, abs=5e-6)


def test_chvatals_order_needs_453_raws():
    """97 of 45 in, 610 of 36 in, 395 of 31 in, 211 of 14 in."""
    assert len(cut_from(parts_of({45: 97, 36: 610, 31: 395, 14: 211}), [100.0], 0.0).bars) == 453
