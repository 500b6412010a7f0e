"""The words for set-ups that were found: what is marked, what is missing, and in which notation."""

from __future__ import annotations

from dataclasses import replace

import mouldings
import numpy as np
import pytest

from sweep.plan.several.solve import Solved, solve_setups
from sweep.scene.read import scene_from
from sweep.show.say.choice import curve_sentences, curve_table, setups_table
from sweep.show.say.numbers.choice import setups_answer
from sweep.units import Units


@pytest.fixture(scope="module")
def found() -> Solved:
    """A step along one edge and a groove, by one blade: a rabbet and a rip."""
    line = np.array([(-40.0, 0), (0, 0), (0, 8), (3.3, 8), (3.3, 0), (28, 0), (28, 9), (40, 9)])
    return solve_setups(scene_from(mouldings.scene_of(line, 80, 20, blades=1, tilts=0, leave="0 mm", most_setups=3)))


def test_the_chosen_number_of_set_ups_is_marked(found):
    """And each row takes more than the one before."""
    rows = curve_table(found.curve).rows

    assert [row[0].strip() for row in rows if row[0].startswith(">")] == ["> 3"]
    assert all(float(row[2].figure) > 0 for row in rows)


def test_each_set_up_is_told_as_the_saw_is_set_for_it(found):
    """The rabbet by its width and depth, the rip by the middle of its kerf."""
    told = {row[0].split()[1]: row for row in setups_table(found, Units("mm")).rows}

    assert set(told) == {"rabbet", "rip"}
    assert [cell.figure for cell in told["rabbet"][6:8]] == ["9.00", "12.00"]
    assert float(told["rip"][7].figure) == pytest.approx(1.65, abs=0.06)
    assert {one.do: one.width_mm for one in setups_answer(found).setups}["rabbet"] == pytest.approx(12, abs=1e-3)


@pytest.mark.parametrize(
    ("short", "says"), [((0.0, 0.0), ""), ((0.0, 2.0), "Set-up 2 leaves"), ((1.0, 2.0), "1 and 2 leave")]
)
def test_too_little_to_ride_on_is_said_with_what_makers_do(found, short, says):
    """Only where it is so."""
    rows = (*found.curve.rows[:-1], found.curve.rows[-1])
    chosen = replace(found.curve.choice, ordered=replace(found.curve.choice.ordered, unsupported=short))
    curve = replace(found.curve, rows=tuple(chosen if row is found.curve.choice else row for row in rows))
    sentences = curve_sentences(replace(found, curve=curve), Units("mm"))

    assert len(sentences) == (3 if says else 2)
    assert says in sentences[-1] and ("runners" in sentences[-1]) == bool(says)


def test_who_reads_inches_is_told_in_inches(found):
    """Everywhere but in the time."""
    words = [
        *curve_sentences(found, Units("in")),
        *(cell for row in setups_table(found, Units("in")).rows for cell in row),
    ]

    assert not any("mm" in word for word in words)


def test_many_blades_are_told_to_be_tried_more_coarsely(found):
    """In words and in numbers; with one blade neither says so."""
    thinned = replace(found, curve=replace(found.curve, is_thinned=True))

    assert any("fewer angles and tilts" in said for said in curve_sentences(thinned, Units("mm")))
    assert not any("fewer angles and tilts" in said for said in curve_sentences(found, Units("mm")))
    assert not setups_answer(thinned).all_settings_tried and setups_answer(found).all_settings_tried
