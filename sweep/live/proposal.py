"""What would bring a scene closer to its target: a set-up that can be set, and passes planned for it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from sweep.check.judge import Outcome, judge
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.live.made import judged
from sweep.plan.complete import complete
from sweep.plan.grid import height_step
from sweep.plan.heights import plan_passes
from sweep.plan.setup import Candidate
from sweep.scene.edits import Edit
from sweep.scene.keys import Setup
from sweep.scene.model import SetUpScene, WholeScene
from sweep.scene.places import Tables
from sweep.tolerance import AS_DRAGGED, AS_RUN, SAME_HEIGHT
from sweep.units import MM_PER_INCH, Units, degrees

_INCH = MM_PER_INCH
ROUNDINGS = (
    (0.5, 1.0, _INCH / 32),
    (0.1, 0.5, _INCH / 64),
    (0.1, 0.1, _INCH / 128),
    (0.05, 0.1, _INCH / 128),
    (0.01, 0.1, _INCH / 128),
    (0.01, 0.01, _INCH / 1000),
)
"""Steps of angles, deg, and of the offset, mm, in a scene in mm and in inches: the coarsest that does is taken."""

SAME_SETTING = 1e-6
"""rad or mm: settings that differ by less are one."""

SPOILT = 0.2
"""The share of the tolerance by which rounding may spoil the shape."""


@dataclass(frozen=True)
class Proposal:
    """A proposal, beside what is set now.

    Parameters
    ----------
    edits : tuple of (str, Edit)
        What it would change: ``set-up`` or ``passes``, and the change.
    rows : tuple of (str, str, str)
        What is told, now and as it is proposed.
    notes : tuple of str
        What is to be known first: more flags than now, why the target is out of reach.
    is_far : bool
        Whether it is out of tolerance.
    """

    edits: tuple[tuple[str, Edit], ...]
    rows: tuple[tuple[str, str, str], ...]
    notes: tuple[str, ...]
    is_far: bool


def proposed(data: Tables, scene: WholeScene, units: Units) -> Proposal:
    """Return what would bring a scene closest to its target with the blade as it is.

    Parameters
    ----------
    data : dict
        The scene's tables, in whose notation it is written.
    scene : WholeScene
        The same, read.
    units : Units
        In which it is told.

    Raises
    ------
    SceneError
        Where there is no target, or nothing like it can be cut.
    """
    if scene.target is None:
        raise SceneError("target", "nothing is marked", "write what is wanted under Marks")
    found = complete(scene.left_open())
    best = found.candidates[0] if found.candidates else None
    whole = found.scene if best is None else _as_set(scene, found.scene, best)
    before, after = (judged(one, one.finish, AS_RUN) for one in (scene, whole))
    return Proposal(
        _edits(data, scene, whole),
        _rows(before, after, units),
        _notes(before, after, best, units),
        not after.is_within_tolerance,
    )


def _as_set(scene: WholeScene, found: WholeScene, best: Candidate) -> WholeScene:
    """Return the set-up that was found, as coarse as spoils its shape little, with passes planned for it."""
    assert scene.target is not None
    allowed, tolerance = best.fit.deviation + SPOILT * scene.target.tolerance, scene.target.tolerance
    if best.fit.deviation <= tolerance:
        allowed = min(allowed, tolerance)
    inches, step = scene.stock.in_inches, height_step(scene)
    for angle, metric, imperial in ROUNDINGS:
        setup = found.setup.model_copy(
            update={
                "fence_angle": _stepped(found.setup.fence_angle, math.radians(angle)),
                "blade_tilt": _stepped(found.setup.blade_tilt, math.radians(angle)),
                "blade_height": _stepped(found.setup.blade_height, step),
                "offset": _stepped(found.setup.offset, imperial if inches else metric),
            }
        )
        try:
            set_up = _set_up(scene, setup)
            if _deviation(set_up, found) <= allowed:
                return set_up.with_passes(plan_passes(set_up).passes)
        except SceneError:
            continue  # a height that is a little too high, for one
    return found


def _set_up(scene: WholeScene, setup: Setup) -> SetUpScene:
    """Return the scene with another set-up of the same blade and the same side of the fence."""
    kept = {"fence_side": scene.setup.fence_side, "blade": scene.setup.blade}
    return scene.left_open().set_up(setup.model_copy(update=kept))


def _deviation(set_up: SetUpScene, found: WholeScene) -> float:
    """Return how far the cove of a set-up lies from the target, mm, cut in one pass."""
    top = found.passes.model_copy(
        update={"heights": (set_up.setup.blade_height,), "last_feed_speed": None, "feeds": None, "stop": (None,)}
    )
    profile = judge(simulate(set_up.with_passes(top).model_copy(update={"finish": ()}), AS_DRAGGED)).profile
    return math.inf if profile is None else profile.max_deviation


def _stepped(value: float, step: float) -> float:
    return round(value / step) * step


def _edits(data: Tables, scene: WholeScene, whole: WholeScene) -> tuple[tuple[str, Edit], ...]:
    """Return every value that would change, written as the scene is."""
    units, edits = scene.units, []
    for name, written in (
        ("fence_angle", _degrees),
        ("blade_tilt", _degrees),
        ("blade_height", units.written),
        ("offset", units.written),
    ):
        now, then = getattr(scene.setup, name), getattr(whole.setup, name)
        if abs(now - then) > SAME_SETTING:
            edits.append(("set-up", Edit(path=f"setup.{name}", do="set", value=str(written(then)))))
    now, then = scene.passes, whole.passes
    same = len(now.heights) == len(then.heights) and np.allclose(now.heights, then.heights, rtol=0, atol=SAME_HEIGHT)
    if not same:
        heights: list[Any] = [str(units.written(height)) for height in then.heights]
        edits.append(("passes", Edit(path="passes.heights", do="set", value=heights)))
        if now.feeds is not None:
            edits.append(("passes", Edit(path="passes.feeds", do="set", value=None)))
        if len(now.stop) > 1:
            edits.append(("passes", Edit(path="passes.stop", do="set", value=data["passes"]["stop"][-1])))
    for name, place in (("feed_speed", 0), ("last_feed_speed", -1)):
        feed = units.feed(then.feed_speeds[place])
        if feed != units.feed(now.feed_speeds[place]):
            edits.append(("passes", Edit(path=f"passes.{name}", do="set", value=str(feed))))
    return tuple(edits)


def _degrees(angle: float) -> str:
    return f"{round(degrees(angle), 4) + 0.0:g} deg"


def _rows(before: Outcome, after: Outcome, units: Units) -> tuple[tuple[str, str, str], ...]:
    def told(outcome: Outcome) -> dict[str, str]:
        setup, passes = outcome.job.scene.setup, outcome.job.scene.passes
        heights = ", ".join(units.length(height).bare for height in passes.heights)
        feeds = (units.feed(passes.feed_speeds[0]), units.feed(passes.feed_speeds[-1]))
        return {
            "fence angle": f"{degrees(setup.fence_angle):.2f} deg",
            "blade height": units.length(setup.blade_height),
            "blade tilt": f"{degrees(setup.blade_tilt) + 0.0:.2f} deg",
            "offset": units.length(setup.offset),
            "passes": f"{len(passes.heights)}: {heights}",
            "feed, in the last pass": ", ".join(feeds),
            "furthest from the target": "" if outcome.profile is None else units.fine(outcome.profile.max_deviation),
            "flags": str(len(outcome.flags)),
        }

    now, then = told(before), told(after)
    return tuple((words, now[words], then[words]) for words in now)


def _notes(before: Outcome, after: Outcome, best: Candidate | None, units: Units) -> tuple[str, ...]:
    notes = []
    if len(after.flags) > len(before.flags):
        notes.append(f"It would flag more than now: {len(after.flags)} instead of {len(before.flags)}.")
    if best is not None and best.stopped_by is not None:
        apart = units.fine(best.fit.deviation)
        notes.append(f"Out of reach: {best.stopped_by.said(not units.metric)}. The nearest is {apart} off.")
    return tuple(notes)
