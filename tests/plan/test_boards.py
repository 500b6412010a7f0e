"""Bars cut into parts: nothing short, nothing forgotten, and no fewer bars would do."""

from __future__ import annotations

import time
from collections import Counter

import pytest
from bins import least_bars
from hypothesis import given
from hypothesis import strategies as st
from strategies import between, fewer

from sweep.plan import boards
from sweep.plan.boards import Bar, Part, TooManyWaysError, cut_from

KERFS = st.sampled_from([0.0, 2.4, 3.2])


@st.composite
def orders(draw: st.DrawFn, most: int = 30) -> tuple[list[Part], list[float], float, int]:
    """Parts, bars that hold the longest of them, a kerf, and strips to a bar."""
    round_ones = st.sampled_from([1200.0, 1800.0, 2400.0, 3000.0, 3600.0])  # of which some add up to others
    lengths = draw(st.lists(between(900, 4000), min_size=1, max_size=3) | st.lists(round_ones, min_size=2, max_size=4))
    sizes = draw(st.lists(between(150, max(lengths)), min_size=1, max_size=6))
    parts = draw(st.lists(st.sampled_from(sizes), min_size=1, max_size=most))
    named = [Part(length, f"part {number}") for number, length in enumerate(parts)]
    return named, lengths, draw(KERFS), draw(st.integers(1, 3))


def strips_of(bars: tuple[Bar, ...]) -> list[tuple[float, tuple[Part, ...]]]:
    """Return every strip with the length of its bar."""
    return [(bar.length, strip) for bar in bars for strip in bar.strips]


@given(order=orders())
@fewer(1 / 8)
def test_every_part_is_cut_once_and_no_strip_is_short(order):
    """With a kerf between each part and the next, and no more strips to a bar than its width gives."""
    parts, lengths, kerf, side_by_side = order
    bars = cut_from(parts, lengths, kerf, side_by_side).bars

    assert Counter(part for _, strip in strips_of(bars) for part in strip) == Counter(parts)
    for length, strip in strips_of(bars):
        assert length in lengths
        assert sum(part.length for part in strip) + kerf * (len(strip) - 1) <= length + 1e-6
    assert all(1 <= len(bar.strips) <= side_by_side for bar in bars)


@given(order=orders())
@fewer(1 / 8)
def test_the_bars_hold_the_wood_and_no_more_than_the_handiest_way_takes(order):
    """Between the length of the parts and longest first into the first strip with room, in long bars only."""
    parts, lengths, kerf, side_by_side = order
    total = sum(bar.length for bar in cut_from(parts, lengths, kerf, side_by_side).bars)
    longest, rooms = max(lengths), []
    for part in sorted(parts, reverse=True):
        fits = next((place for place, room in enumerate(rooms) if room >= part.length), None)
        if fits is None:
            fits = len(rooms)
            rooms.append(longest)
        rooms[fits] -= part.length + kerf

    assert sum(part.length for part in parts) <= total * side_by_side + 1e-6
    assert total <= longest * -(-len(rooms) // side_by_side) + 1e-6


@given(order=orders(most=6))
@fewer(1 / 10)
def test_no_choice_of_bars_is_shorter_or_as_short_with_fewer_bars(order):
    """By brute force: every choice of up to six bars, shortest first, and every way to put the parts in."""
    parts, lengths, kerf, side_by_side = order
    bars = cut_from(parts, lengths, kerf, side_by_side).bars
    best = least_bars([part.length for part in parts], lengths, kerf, side_by_side)

    assert sum(bar.length for bar in bars) == pytest.approx(sum(best), abs=1e-3)
    assert len(bars) == len(best)


def test_a_bar_that_parts_fill_to_the_last_cut_is_enough():
    """Two of 1198.4 mm and one kerf of 3.2 mm out of 2400 mm; not out of a hundredth less, nor with a thicker saw."""
    parts = [Part(1198.4, "half")] * 2

    assert len(cut_from(parts, [2400.0], 3.2).bars) == 1
    assert len(cut_from(parts, [2399.99], 3.2).bars) == 2
    assert len(cut_from(parts, [2400.0], 3.21).bars) == 2


def test_what_cannot_be_looked_at_whole_is_refused_at_once():
    """Forty lengths that differ, many to a bar."""
    with pytest.raises(TooManyWaysError, match="more than 20000 ways to cut 40 lengths from 2400 mm"):
        cut_from([Part(200.0 + number, "short") for number in range(40)], [2400.0], 3.2)


def test_of_two_choices_as_long_the_one_with_fewer_bars_is_bought():
    """One of 4.8 m and one of 3 m, not 1.8 and 3 and 3 m, which come to as much."""
    parts = [Part(length, "part") for length in (704.0, 2943.0, 2943.0, 704.0)]
    bars = cut_from(parts, [1800.0, 3000.0, 4800.0], 3.2).bars

    assert sorted(bar.length for bar in bars) == [3000.0, 4800.0]


@given(order=orders())
@fewer(3 / 80)
def test_where_the_time_runs_out_the_best_found_is_said_to_be_that(order):
    """Every part is cut once all the same, no strip is short, and longest first would not have been less."""
    parts, lengths, kerf, side_by_side = order
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(boards, "MOST_SECONDS", 0.0)
        boards._cut_from.cache_clear()
        hasty = cut_from(parts, lengths, kerf, side_by_side)
        boards._cut_from.cache_clear()
    best = cut_from(parts, lengths, kerf, side_by_side)

    assert Counter(part for _, strip in strips_of(hasty.bars) for part in strip) == Counter(parts)
    for length, strip in strips_of(hasty.bars):
        assert length in lengths
        assert sum(part.length for part in strip) + kerf * (len(strip) - 1) <= length + 1e-6
    assert all(1 <= len(bar.strips) <= side_by_side for bar in hasty.bars)
    total, least = (sum(bar.length for bar in found.bars) for found in (hasty, best))
    assert least <= total + 1e-6 or not best.least
    assert not hasty.least or total == pytest.approx(least)


def test_twelve_blanks_over_fifteen_lengths_of_board_end_in_time_and_print_nothing(monkeypatch, capfd):
    """The solver would look for half a minute; what it says itself must not get between the lines of a table."""
    monkeypatch.setattr(boards, "MOST_SECONDS", 0.2)
    boards._cut_from.cache_clear()
    lengths = [
        1200.0 + 7 * number for number in (19, 97, 133, 171, 208, 254, 287, 311, 342, 390, 421, 455, 488, 513, 541)
    ]
    parts = [Part(300.0 + 61.7 * number, "blank") for number in range(12)]
    start = time.perf_counter()
    found = cut_from(parts, lengths, 3.2)
    boards._cut_from.cache_clear()

    assert not found.least
    assert time.perf_counter() - start < 8
    assert capfd.readouterr() == ("", "")
