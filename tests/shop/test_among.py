"""A piece held against a record: the job that made it is found however it was measured, and no other taken for it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from demos import SCENES
from strategies import fewer
from terminal import sweep_here

from sweep.errors import SceneError
from sweep.plan.closeness import sampled
from sweep.scene.points import read_points
from sweep.shape.outline import curves, settings
from sweep.shape.tool import flat_tips
from sweep.shop.among import among
from sweep.shop.held import levelled
from sweep.shop.profile import Profile, Unread
from sweep.show.say.among import among_sentences
from sweep.show.say.numbers.among import AmongAnswer
from sweep.units import Units

BLADE = flat_tips(127.0, 3.2)


def cove(angle, height, tilt=0.0, chords=24):
    """The curve that the blade cuts, angles in deg."""
    row = settings(math.radians(angle), math.radians(tilt), height)
    return curves(BLADE, row, chords)[0]


def job(name, line, **tables):
    """A kept job whose set-up cuts a line."""
    return Profile(name, line, False, False, tables, line)


def piece(line, rng, noise, mirrored=False):
    """A line measured with the flats beside it, in axes of its own and in any order."""
    flat = np.column_stack([np.linspace(1, 9, 7), np.zeros(7)])
    points = np.vstack([line[0] - flat, line[::3], line[-1] + flat]) * (-1 if mirrored else 1, 1)
    turn = rng.uniform(-math.pi, math.pi)
    turned = points @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    return rng.permutation(turned + rng.uniform(-99, 99, 2) + noise * rng.standard_normal(points.shape))


def test_the_job_that_made_a_piece_is_found_however_it_was_measured():
    """Among 20 random jobs, turned anyhow, from either end, in any order; and no job that lies off is taken for it."""
    rng, count = np.random.default_rng(7), fewer(1 / 8).max_examples // 6
    found, explained = 0, 0
    for _ in range(count):
        lines = [cove(rng.uniform(15, 45), rng.uniform(8, 24), rng.uniform(-20, 20)) for _ in range(20)]
        made, mirrored = int(rng.integers(20)), bool(rng.integers(2))
        jobs = [job(str(number), line) for number, line in enumerate(lines)]
        answer = among(jobs, piece(lines[made], rng, 0.05, mirrored), 0.05)
        found += answer.compared[0].job.name == str(made) and answer.compared[0].mirrored == mirrored
        explained += answer.compared[0].same
        others = [one for one in answer.compared if one.same and one.job.name != str(made)]

        assert all(np.abs(one.job.line - lines[made]).max() < 1.0 for one in others)

    assert found == count
    assert explained >= count - 1 - count // 50  # measuring explains 99 in 100


def test_what_was_measured_on_the_wood_goes_before_what_was_set():
    """The fence slipped: the piece is the slipped one's, and only where the finished wood was measured."""
    rng, real = np.random.default_rng(1), cove(29.5, 16.0)
    points = piece(real, rng, 0.02).tolist()
    finished = job("slipped", cove(28.0, 16.0), measured=[{"points": points, "accuracy": "0.02 mm"}])
    midway = job("midway", cove(28.0, 16.0), measured=[{"after_pass": 3, "points": points, "accuracy": "0.02 mm"}])
    last = [{"after_pass": 3, "points": points, "accuracy": "0.02 mm"}]
    at_the_last = job("last", cove(28.0, 16.0), measured=last, passes={"heights": ["5 mm", "11 mm", "16 mm"]})
    answer = among([finished, midway, at_the_last], piece(real, rng, 0.05), 0.05)

    assert [(one.job.name, one.job.told, one.same) for one in answer.compared] == [
        ("last", "measured", True),
        ("slipped", "measured", True),
        ("midway", "set-up", False),
    ]


def test_a_piece_within_tolerance_of_another_job_is_not_said_to_be_of_it():
    """It would serve in its place, and that is all that is said."""
    rng = np.random.default_rng(2)
    near, far = job("near", cove(28.2, 16.0)), job("far", cove(31.0, 16.0))
    answer = among([near, far], piece(cove(28.0, 16.0), rng, 0.01), 0.01)

    assert [(one.job.name, one.same, one.within) for one in answer.compared] == [
        ("near", False, True),
        ("far", False, False),
    ]


def test_points_on_a_part_of_a_cove_are_said_to_be_that():
    """Half of it tells less, and the share is that which they reach over."""
    line = cove(28.0, 16.0)
    points = line[: len(line) * 6 // 10]
    answer = among([job("whole", line)], points + 0.001 * np.random.default_rng(3).standard_normal(points.shape), 0.1)
    share = np.ptp(points[:, 0]) / np.ptp(line[:, 0])

    assert answer.compared[0].covered == pytest.approx(share, abs=0.1)


def test_what_is_no_job_is_told_and_ends_nothing():
    """A file that could not be read, and no job at all."""
    answer = among([Unread("broken", "it is empty")], piece(cove(28.0, 16.0), np.random.default_rng(4), 0.05), 0.05)

    assert (answer.compared, answer.jobs) == ((), 0)
    assert [one.name for one in answer.not_compared] == ["broken"]


def test_any_part_of_a_closed_outline_is_found():
    """Half of it or more, turned anyhow and from either end, among others of the same kind and a cove."""
    rng, rings = np.random.default_rng(5), []
    for waves in (1, 2, 3):  # a flat back, and a face of so many hollows, deeper to one side
        width, high = rng.uniform(30, 90), rng.uniform(15, 40)
        across = np.linspace(width, 0, 25)
        face = high - 0.6 * high * np.abs(np.sin(np.pi * across / width * waves)) * across / width
        rings.append(np.vstack([[0, 0], [width, 0], np.column_stack([across, face]), [0, 0]]))
    jobs = [Profile(str(number), ring, True, False, {}) for number, ring in enumerate(rings)]
    for number, ring in enumerate(rings):
        along = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))])
        places = (rng.uniform() + np.linspace(0, rng.uniform(0.5, 1), 60)) * along[-1] % along[-1]
        points = np.column_stack([np.interp(places, along, ring[:, k]) for k in (0, 1)])
        mirrored, turn = bool(number % 2), rng.uniform(-3, 3)
        points = points * (-1 if mirrored else 1, 1)
        points = points @ [[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]] + (30, -70)
        answer = among([*jobs, job("cove", cove(28.0, 16.0))], points + 0.05 * rng.standard_normal(points.shape), 0.06)

        assert [(one.job.name, one.mirrored) for one in answer.made_by] == [(str(number), mirrored)]


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_whole_moulding_is_found_among_coves(mirrored):
    """The demo's ogee from edge to edge, from either end, and not one that is a sixth higher."""
    rng, ogee = np.random.default_rng(8), np.array(read_points(SCENES / "ogee-crown.csv"))
    target = {"target": {"shape": "points", "whole": True}}
    wholes = [Profile(name, ogee * (1, high), True, False, target) for name, high in (("ogee", 1), ("higher", 1.17))]
    coves = [job(str(angle), cove(angle, 16.0)) for angle in (20, 28, 36)]
    turn = rng.uniform(-3, 3)
    points = sampled(ogee, 90) * (-1 if mirrored else 1, 1)
    points = points @ [[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]] + (30, -70)
    answer = among([*wholes, *coves], points + 0.05 * rng.standard_normal(points.shape), 0.06)

    assert (answer.compared[0].job.name, answer.compared[0].mirrored) == ("ogee", mirrored)
    assert [one.job.name for one in answer.made_by] == ["ogee"]


def test_a_part_of_a_whole_moulding_is_not_said_to_be_of_another():
    """Nothing is told of it, and what was to be measured is; of all of it the sentence says no such thing."""
    ogee = np.array(read_points(SCENES / "ogee-crown.csv"))
    whole = Profile("ogee", ogee, True, False, {"target": {"shape": "points", "whole": True}})
    points = sampled(ogee, 60)
    of_part, of_all = (" ".join(among_sentences(among([whole], some, 0.05), Units())) for some in (points[:24], points))

    assert "ogee is a whole moulding: of a piece that was not measured from edge to edge nothing is told" in of_part
    assert "can have made it" in of_all and "from edge to edge" not in of_all


def test_a_straight_line_is_refused():
    """Before any job is looked at."""
    with pytest.raises(SceneError, match="they lie on a straight line"):
        among([], np.column_stack([np.arange(20.0), np.arange(20.0)]), 0.1)


def test_points_are_laid_with_the_mouth_of_the_hollow_level():
    """Whichever way up, and through every turn."""
    rng, line = np.random.default_rng(6), cove(28.0, 16.0)
    for _ in range(8):
        level = levelled(piece(line, rng, 0.0))

        assert level[:, 1].min() == pytest.approx(0.0, abs=1e-9)
        assert level[:, 1].max() == pytest.approx(16.0, abs=0.05)
        assert np.all(np.diff(level[:, 0]) >= 0)


def test_the_demo_offcut_is_the_kept_cornice(tmp_path):
    """In words and in numbers, and another piece is of no kept job."""
    record = SCENES / "record"
    run = sweep_here("match", SCENES / "cornice-offcut.csv", "--among", record, folder=tmp_path)
    text = run.stdout.decode()
    numbers = sweep_here("match", SCENES / "cornice-offcut.csv", "--among", record, "--json", folder=tmp_path)
    answer = AmongAnswer.model_validate_json(numbers.stdout)
    other = sweep_here("match", SCENES / "measured-offcut.csv", "--among", record, folder=tmp_path)

    assert (run.returncode, numbers.returncode, other.returncode) == (0, 0, 1)
    assert "can have made it: the points lie at most " in text
    assert "Its fence stood at 28 deg, the blade 16 mm high, tilted 0 deg." in text
    assert (answer.jobs[0].held_against, answer.jobs[0].can_have_made_it) == ("set-up", True)
    assert b"Without --among a set-up is found anew." in other.stdout


def test_the_points_themselves_are_no_job(tmp_path):
    """Though they lie in the folder that is looked through."""
    points = tmp_path / "offcut.csv"
    points.write_bytes((SCENES / "cornice-offcut.csv").read_bytes())
    run = sweep_here("match", points, "--among", tmp_path, folder=tmp_path)

    assert run.returncode == 1
    assert run.stdout.startswith(b"There is no job to compare with.")


def test_a_folder_that_is_none_is_refused(tmp_path):
    """In one sentence."""
    run = sweep_here("match", SCENES / "cornice-offcut.csv", "--among", "none", folder=tmp_path)

    assert (run.returncode, run.stdout) == (2, b"")
    assert b"none: there is no such folder" in run.stderr
