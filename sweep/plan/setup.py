"""The set-up for a target: exact for a plain cove, the least largest deviation for any other line.

Every blade of the scene is tried, and the candidates are ranked by how close they come, then by how
small the fence angle is: a smaller angle pushes the blade sideways less.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sweep.check.target import target_line
from sweep.errors import SceneError
from sweep.figure import length
from sweep.phrase import Phrase, phrase
from sweep.plan.dense import DenseCheck, dense_check
from sweep.plan.fit import Fit, Range, fit_blade, settle
from sweep.plan.grid import height_grid
from sweep.scene.keys import Blade, Setup
from sweep.scene.model import Scene
from sweep.shape.cove import LEAST_ANGLE, angle_for_width, widest
from sweep.shape.frame import highest_setting
from sweep.shape.outline import edges, settings
from sweep.tolerance import SAME_HEIGHT

SETTLED = 3
"""How many candidates, at most, that come nearly as close as the best are settled to the last digits."""

BEYOND = math.radians(1)
"""rad. How far beyond its limit a tilt is tried, to tell whether the limit is in the way."""

CLOSER = 0.001
"""mm. What counts as closer: a settled fit is right within less."""


@dataclass(frozen=True)
class Candidate:
    """One blade, set as close to the target as it can be.

    Parameters
    ----------
    blade : Blade
    fit : Fit
    stopped_by : Phrase or None
        What keeps it from coming within tolerance; None when nothing does.
    """

    blade: Blade
    fit: Fit
    stopped_by: Phrase | None


def find_setups(scene: Scene) -> tuple[Candidate, ...]:
    """Return every blade of a scene at its best, the closest first.

    Raises
    ------
    SceneError
        When no blade can cut anything like the target, in a sentence that says which limit stops it and
        what the nearest is that can be cut.
    """
    _meets_the_stock(scene)
    find = _exact if scene.wanted.shape == "cove" else _fitted
    candidates = sorted((one for one in (find(scene, blade) for blade in scene.choice) if one is not None), key=_rank)
    if not candidates:
        raise _unreachable(scene)
    near = [one for one in candidates if one.fit.deviation <= 1.03 * candidates[0].fit.deviation + 1e-3][:SETTLED]
    ranked = sorted([*(_settled(scene, one) for one in near), *candidates[len(near) :]], key=_rank)
    return tuple(replace(one, stopped_by=_stopped_by(scene, one)) for one in ranked)


def line_for(scene: Scene, candidate: Candidate) -> NDArray[np.float64]:
    """Return the line that a candidate is held against, (n, 2) mm: a plain cove's is the blade's own curve."""
    return target_line(scene.wanted, candidate.blade.tool, candidate.fit.blade_tilt)


def check_candidate(scene: Scene, candidate: Candidate) -> DenseCheck:
    """Look for a closer set-up of the same blade, at the same height where heights come in steps."""
    allowed = allowed_range(scene, candidate.blade)
    if height_grid(scene):
        allowed = replace(allowed, blade_height=(candidate.fit.blade_height,) * 2)
    return dense_check(candidate.blade.tool, line_for(scene, candidate), allowed, candidate.fit)


def setup_of(scene: Scene, candidate: Candidate) -> Setup:
    """Return a candidate as the `[setup]` of a scene."""
    fit = candidate.fit
    return Setup.model_construct(
        fence_angle=fit.fence_angle,
        blade_height=fit.blade_height,
        blade_tilt=fit.blade_tilt,
        offset=fit.offset,
        fence_side=scene.plan.fence_side,
        blade=candidate.blade.name if scene.blades else "",
    )


def allowed_range(scene: Scene, blade: Blade) -> Range:
    """Return what saw and stock leave to a blade: the wood that must stay above the cove is kept."""
    steepest = max(map(abs, scene.saw.tilts))
    reach = highest_setting(blade.tool, steepest) - 1e-3
    most = min(reach, scene.saw.max_height or math.inf, scene.stock.thickness - scene.limits.wood_above)
    return Range((LEAST_ANGLE, math.pi / 2), (min(0.1, most), most), scene.saw.tilts)


def _settled(scene: Scene, one: Candidate) -> Candidate:
    """Return a candidate brought to its last digits, at a height that can be set if that stays within tolerance."""
    line, allowed, grid = line_for(scene, one), allowed_range(scene, one.blade), height_grid(scene)
    exact = one if scene.wanted.shape == "cove" else replace(one, fit=settle(one.blade.tool, line, allowed, one.fit))
    if not grid:
        return exact
    steps = exact.fit.blade_height / grid
    fits = []
    for height in {math.floor(steps + 1e-9) * grid, math.ceil(steps - 1e-9) * grid}:
        if allowed.blade_height[0] <= height <= allowed.blade_height[1] + SAME_HEIGHT:
            there = replace(allowed, blade_height=(height, height))
            fits.append(settle(one.blade.tool, line, there, replace(exact.fit, blade_height=height)))
    closest = min(fits, key=lambda fit: fit.deviation, default=exact.fit)
    return replace(exact, fit=closest) if closest.deviation <= scene.wanted.tolerance else exact


def _meets_the_stock(scene: Scene) -> None:
    target, half = scene.wanted, scene.stock.width / 2
    if target.points is None:
        most = target.size[0] / 2
        least = -most
    else:
        least, most = target.points[0][0], target.points[-1][0]
    if least + target.across >= half or most + target.across <= -half:
        raise SceneError("target.across", "the target lies outside the stock", "move it, or take wider stock")


def _rank(one: Candidate) -> tuple[float, float]:
    return round(one.fit.deviation, 4), one.fit.fence_angle


def _exact(scene: Scene, blade: Blade) -> Candidate | None:
    """Return the set-up that hits both edges and the depth of a plain cove; None when the blade cannot."""
    target, allowed = scene.wanted, allowed_range(scene, blade)
    width, depth = target.size
    tilt = min(max(0.0, allowed.blade_tilt[0]), allowed.blade_tilt[1])
    if depth > allowed.blade_height[1] + SAME_HEIGHT:
        return None
    angle = angle_for_width(blade.tool, tilt, depth, width)
    if angle is None:
        return None
    left, right = (float(edge[0]) for edge in edges(blade.tool, settings(angle, tilt, depth)))
    offset = (left + right) / 2 - target.across
    return Candidate(blade, Fit(angle, depth, tilt, offset, 0.0, (), ()), None)


def _fitted(scene: Scene, blade: Blade) -> Candidate | None:
    allowed = allowed_range(scene, blade)
    if allowed.blade_height[1] <= 0:
        return None
    fit = fit_blade(blade.tool, target_line(scene.wanted, blade.tool, tilt=0.0), allowed)
    return None if fit is None else Candidate(blade, fit, None)


def _stopped_by(scene: Scene, one: Candidate) -> Phrase | None:
    if one.fit.deviation <= scene.wanted.tolerance:
        return None
    allowed = allowed_range(scene, one.blade)
    height = one.fit.blade_height
    if "blade height" in one.fit.at_limit and height > allowed.blade_height[1] - 1e-3:
        return _height_limit(scene, one.blade, allowed.blade_height[1])
    if "fence angle" in one.fit.at_limit or one.fit.fence_angle > math.radians(85):
        return phrase("the fence stands square to the blade and the target is wider than that")
    if "blade tilt" in one.fit.at_limit and _would_tilt_further(scene, one, allowed):
        return phrase("the tilt that the scene allows (saw.tilts) is at its end")
    return phrase("no setting gives this blade that curve")


def _would_tilt_further(scene: Scene, one: Candidate, allowed: Range) -> bool:
    """Return whether a tilt beyond its limit comes closer; upright is the end of many saws, and often the best."""
    least, most = allowed.blade_tilt
    wider = replace(allowed, blade_tilt=(least - BEYOND, most + BEYOND))
    further = settle(one.blade.tool, line_for(scene, one), wider, one.fit)
    return further.deviation < one.fit.deviation - CLOSER


def _height_limit(scene: Scene, blade: Blade, most: float) -> Phrase:
    if most == scene.stock.thickness - scene.limits.wood_above:
        words = "only {limit:down} may be cut away if {above} of wood is to be left above"
        return phrase(words, limit=length(most), above=length(scene.limits.wood_above))
    if most == scene.saw.max_height:
        return phrase("the saw raises the blade to {limit:down} at most", limit=length(most))
    return phrase("the blade reaches {limit:down} at most", limit=length(most))


def _unreachable(scene: Scene) -> SceneError:
    """Say which limit keeps every blade from a plain cove, and the nearest that can be cut."""
    depth = scene.wanted.size[1]
    deepest = max(allowed_range(scene, blade).blade_height[1] for blade in scene.choice)
    if deepest <= 0:
        return SceneError(
            "stock.thickness", "no wood may be cut away", "take thicker stock, or lower limits.wood_above"
        )
    if scene.wanted.shape == "cove" and depth > deepest + SAME_HEIGHT:
        blade = max(scene.choice, key=lambda one: allowed_range(scene, one).blade_height[1])
        return scene.wanted.too_deep(deepest, _height_limit(scene, blade, deepest))
    most = max(widest(blade.tool, 0.0, min(depth or 1.0, deepest))[0] for blade in scene.choice)
    return scene.wanted.too_wide(most)
