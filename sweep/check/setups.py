"""All opinions on a moulding of several set-ups: on each of them as if it were alone, and on the whole.

What only several have: a set-up with nothing flat to ride on, because earlier ones took it, and what falls off beside
the turning blade.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sweep.check.finish import flags_of_finishing
from sweep.check.flag import Flag
from sweep.check.judge import Outcome, judge
from sweep.check.panel import flags_of_panel
from sweep.check.whole import WholeCheck, check_whole
from sweep.cut.job import Job
from sweep.cut.moulding import Fallen, Moulding
from sweep.figure import length, named
from sweep.shape import section
from sweep.units import LENGTH

SMALL_STRIP = 25.0
"""mm. What falls off and is no wider or no higher than this can be caught and thrown (1 in); our choice."""

FLAT = 0.5
"""mm. Less than this rides on nothing: it is crushed before it bears."""

OF_EVERY = ("stock-short", "moisture-unknown")
"""Codes of what is the same for every set-up: told once, of the whole."""


@dataclass(frozen=True, eq=False)
class Verdict:
    """A moulding of several set-ups and what is to be said of it.

    Parameters
    ----------
    moulding : Moulding
    outcomes : tuple of Outcome
        One for each setting, its flags among it.
    flags : tuple of Flag
        Those of the whole: what every set-up shares, and of what follows them.
    whole : WholeCheck or None
        How it lies to a whole moulding that is wanted; None when the scene names none.
    """

    moulding: Moulding
    outcomes: tuple[Outcome, ...]
    flags: tuple[Flag, ...]
    whole: WholeCheck | None

    @property
    def profile(self) -> None:
        """None: what a single cove is compared with is not asked of several set-ups."""
        return None

    @property
    def is_well(self) -> bool:
        """Whether nothing is flagged, in any set-up or in the whole, and nothing wanted is cut away."""
        return not self.flags and all(one.is_well for one in self.outcomes) and self.is_within_tolerance

    @property
    def is_within_tolerance(self) -> bool:
        """Whether nothing is cut into the moulding that is wanted, or none is."""
        return self.whole is None or self.whole.is_whole


def judge_setups(moulding: Moulding) -> Verdict:
    """Return every opinion on a moulding."""
    outcomes = [_of_one(judge(job), moulding, place) for place, job in enumerate(moulding.jobs)]
    shared = [flag for flag in outcomes[0].flags if flag.code in OF_EVERY]
    kept = [replace(one, flags=tuple(flag for flag in one.flags if flag.code not in OF_EVERY)) for one in outcomes]
    flags = (*shared, *flags_of_finishing(moulding), *flags_of_panel(moulding.scene))
    return Verdict(moulding, tuple(kept), flags, check_whole(moulding))


def _of_one(outcome: Outcome, moulding: Moulding, place: int) -> Outcome:
    """Return the opinions on one set-up, those that only several have among them."""
    setting, job = moulding.settings[place], moulding.jobs[place]
    fallen = [one for one in moulding.fallen if one.setting is setting]
    flags = [flag for flag in outcome.flags if flag.code != "piece-freed" and not _rides_on_nothing(flag)]
    flags += [
        Flag("no-flat", None, flag.value, flag.limit, LENGTH, flag.part)
        for flag in outcome.flags
        if _rides_on_nothing(flag)
    ]
    flags += [flag for one in fallen for flag in _of_strip(job, one)]
    whole, of_passes = ([flag for flag in flags if (flag.number is None) is wanted] for wanted in (True, False))
    return replace(outcome, flags=(*whole, *of_passes))


def _rides_on_nothing(flag: Flag) -> bool:
    return flag.code == "shoulder-narrow" and flag.value < FLAT


def _of_strip(job: Job, fallen: Fallen) -> list[Flag]:
    """Return a flag where what falls off lies between blade and fence, or is small enough to be thrown.

    What is to be kept may lie at the fence where it is large: it is pushed through as any ripped board is.
    """
    left, low, right, high = section.bounds_of(fallen.figure)
    blade_at = -job.scene.setup.offset
    by_fence = (section.middle_of(fallen.figure) > blade_at) == (job.scene.setup.fence_side == "near")
    sizes = named(width=length(right - left), height=length(high - low))
    smaller = min(right - left, high - low)
    if by_fence and not (fallen.is_kept and smaller > SMALL_STRIP):
        return [Flag("strip-trapped", None, smaller, SMALL_STRIP, LENGTH, figures=sizes)]
    return [Flag("strip-falls", None, smaller, SMALL_STRIP, LENGTH, figures=sizes)] if smaller <= SMALL_STRIP else []
