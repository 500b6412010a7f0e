"""What is said of a folder of profiles on the terminal: of a few each set-up, of many what is to be looked at."""

from __future__ import annotations

from dataclasses import replace

from sweep.shop.alike import Alike
from sweep.shop.row import Answer, Row, without_figures
from sweep.show.say.shop import MOST_ROWS, MOST_TOLD, profiles_table, sentences, summary_of
from sweep.units import Units

GOOD = Row("a.csv", "10 in", 1, 28.0, 16.0, 0.0, 0.0, 0.04, True, 7, 15.2, "", "", "cabinet")


def answers(count: int, **changed: object) -> list[Answer]:
    """So many profiles, all alike."""
    return [Answer(f"{k}.csv", (replace(GOOD, profile=f"{k}.csv", **changed),)) for k in range(count)]


def test_every_profile_of_a_few_is_told_with_its_set_up_and_what_is_wrong_with_it():
    """Blade and saw, fence, height, deviation, passes and minutes; tilt only where a blade is tilted."""
    beyond = replace(GOOD, profile="b.csv", within_tolerance=False, reason="no setting")
    unplanned = replace(GOOD, profile="c.csv", passes=None, minutes=None, flags=None, reason="the saw is too low")
    few = [
        *(Answer(row.profile, (row,)) for row in (GOOD, beyond, unplanned)),
        *answers(1, flags="push-hard"),
        without_figures("d\n.csv", "it is broken"),
    ]
    summary = summary_of(few, [])
    table = profiles_table(summary, Units())

    assert [column.heading for column in table.columns] == [
        "profile",
        "fence",
        "height",
        "off by",
        "passes",
        "at the saw",
    ]
    assert table.rows[0] == ("a.csv\n  10 in, on cabinet", "28.00 deg", "16.00 mm", "0.040 mm", "7", "16 min")
    assert len(table.rows) == 4
    assert sentences(summary, 2, Units()) == [
        "5 profiles: 3 within tolerance, 1 not, 2 flagged, 1 without a set-up.",
        "Known from an earlier run: 2; worked out now: 3.",
        "! b.csv: out of tolerance; no setting",
        "! c.csv: the saw is too low",
        "! 0.csv: push hard",
        "! d\\n.csv: it is broken",
    ]
    assert not summary.is_well and summary_of([few[0]], []).is_well
    tilted = profiles_table(summary_of(answers(1, blade_tilt_deg=3.0), []), Units())
    assert ("tilt" in [column.heading for column in tilted.columns]) and "3.00 deg" in tilted.rows[0]


def test_of_many_profiles_only_the_first_that_are_wrong_or_alike_are_told():
    """Each once, with its nearest; the files have all."""
    many = answers(MOST_ROWS + 1, within_tolerance=False)
    same = [Alike("0.csv", f"{k}.csv", "same", 0.01, False) for k in range(1, 30)]
    made = [Alike("0.csv", f"{k}.csv", "set-up", 0.01 * k, k == 1) for k in range(1, 9)]
    summary = summary_of(many, [*same, *made, Alike("1.csv", "2.csv", "same", 0.02, False)])
    said = sentences(summary, 0, Units())

    assert profiles_table(summary, Units()) is None and profiles_table(summary_of([], []), Units()) is None
    assert [sentence for sentence in said if not sentence.startswith(("  0.csv: the same", "! "))] == [
        f"{MOST_ROWS + 1} profiles: 0 within tolerance, {MOST_ROWS + 1} not, 0 flagged, 0 without a set-up.",
        "With a set-up of the drawer: 1 profile.",
        "  0.csv: made by the set-up of 1.csv, seen from its other end (within 0.010 mm)",
        "The same as another: 29 profiles.",
        f"  and {29 - MOST_TOLD} more (alike.csv)",
    ]
    assert said[-1] == f"! and {MOST_ROWS + 1 - MOST_TOLD} more (shop.csv)"
