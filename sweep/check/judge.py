"""All opinions on a job, gathered once for everything that shows them."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.check.flag import Flag
from sweep.check.limits import find_flags
from sweep.check.may_exceed import may_exceed
from sweep.check.profile import ProfileCheck, check_profile
from sweep.check.whole import WholeCheck, check_whole
from sweep.cut.job import Job


@dataclass(frozen=True, eq=False)
class Outcome:
    """A simulated job, its flags, and how its profile lies to the target.

    Parameters
    ----------
    job : Job
    flags : tuple of Flag
    may_exceed : tuple of Flag
        Mild ones: what the far end of an estimate's band is past; they leave a run's status alone.
    profile : ProfileCheck or None
        None when the scene names no target, or a whole moulding.
    whole : WholeCheck or None
        How it lies to a whole moulding; None when the scene names none.
    """

    job: Job
    flags: tuple[Flag, ...]
    may_exceed: tuple[Flag, ...]
    profile: ProfileCheck | None
    whole: WholeCheck | None

    @property
    def is_well(self) -> bool:
        """Whether nothing is flagged and the profile is within tolerance."""
        return not self.flags and self.is_within_tolerance

    @property
    def is_within_tolerance(self) -> bool:
        """Whether the profile is, or no target says otherwise."""
        return (self.profile is None or self.profile.within_tolerance) and (self.whole is None or self.whole.is_whole)

    def flags_of(self, number: int | None) -> tuple[Flag, ...]:
        """Return the flags of one pass, or with None those of the whole job."""
        return tuple(flag for flag in self.flags if flag.number == number)


def judge(job: Job) -> Outcome:
    """Return every opinion on a job."""
    flags = find_flags(job)
    return Outcome(job, flags, may_exceed(job, flags), check_profile(job), check_whole(job))
