"""What to buy: strips with their edges, and the longest blanks that save a board, against trying every way."""

from __future__ import annotations

import pytest
from bins import least_bars
from hypothesis import given
from hypothesis import strategies as st
from strategies import between, fewer

from sweep.plan import buying
from sweep.plan.buying import boards_for, shorter_blanks, strips_of
from sweep.scene.order import Order


def order(**keys: object) -> Order:
    """An order for a piece of 1 m with some keys, in mm where they are numbers."""
    written = {key: f"{value} mm" if isinstance(value, float) else value for key, value in keys.items()}
    return Order.model_validate({"lengths": ["1 m"]} | written)


@given(
    blank=between(400, 1600),
    boards=st.lists(between(1700, 3600), min_size=1, max_size=2),
    blanks=st.integers(1, 3),
    block=between(150, 300),
    kerf=st.sampled_from([0.0, 3.2]),
    wide=st.booleans(),
)
@fewer(1 / 12)
def test_the_longest_blanks_that_save_are_those_of_trying_every_length(blank, boards, blanks, block, kerf, wide):
    """At that length less is bought, by brute force; a hair longer, or anywhere up to the given length, no less."""
    sold = [f"{one} mm" for one in boards]
    wanted = order(boards=sold, saw_kerf=kerf, setup_block_length=block, **({"board_width": 200.0} if wide else {}))
    found = shorter_blanks(wanted, blank, 92.0, blanks, 300.0)

    def least(length: float) -> float:
        parts = [length] * (blanks + 1) + [block] * 2
        usable = [one - 40 for one in boards]
        return sum(least_bars(parts, usable, kerf, 2 if wide else 1)) + 1e-6

    now = least(blank)
    if found is None:
        assert least(300.0) >= now - 1e-3
        return
    assert 300 <= found.blank_length < blank
    assert least(found.blank_length) < now - 1e-3
    assert sum(found.board_lengths) - 40 * len(found.board_lengths) == pytest.approx(least(found.blank_length))
    for share in (1e-5, 0.1, 0.5, 0.9):
        longer = found.blank_length + share * (blank - found.blank_length)
        assert longer - found.blank_length < 1e-5 or least(longer) >= now - 1e-3


def test_two_boards_do_for_three_where_blanks_are_a_little_shorter():
    """Five of 1500 mm take 3 m each way: two to a board of 3 m, less 40 mm of ends, only up to 1478.4 mm."""
    wanted = order(boards=["3 m"], saw_kerf=3.2, setup_block_length=150.0, spares=1)
    # three blanks and a spare: four, and two blocks; two boards hold four blanks, but no blocks beside them
    found = shorter_blanks(wanted, 1500.0, 92.0, 3, 300.0)

    assert len(boards_for(wanted, 1500.0, 92.0, 3).bars) == 4
    assert len(found.board_lengths) == 3
    assert found.blank_length == pytest.approx((2960 + 3.2) / 2 - 3.2)


def test_a_strip_is_ripped_with_what_is_planed_off_both_edges():
    """Two of 92 mm with 1.5 mm on each edge and a kerf of 3.2 mm: 193.2 mm; one needs no more than its width."""
    wide = {"boards": ["3 m"], "saw_kerf": 3.2}

    assert strips_of(order(board_width=193.2, **wide), 92.0) == 2
    assert strips_of(order(board_width=193.19, **wide), 92.0) == 1
    assert strips_of(order(board_width=187.2, board_edge=0.0, **wide), 92.0) == 2
    assert strips_of(order(board_width=92.0, **wide), 92.0) == 1
    assert strips_of(order(board_width=300.0, **wide), 92.0) == 3
    assert strips_of(order(boards=["3 m"]), 92.0) == 1


def test_nothing_is_said_of_shorter_blanks_where_the_time_ran_out(monkeypatch):
    """The best found is no ground for it."""
    wanted = order(boards=["3 m"], saw_kerf=3.2)

    assert shorter_blanks(wanted, 1500.0, 92.0, 3, 300.0) is not None
    monkeypatch.setattr(buying, "MOST_SECONDS", 0.0)
    assert shorter_blanks(wanted, 1500.0, 92.0, 3, 300.0) is None
