"""One report a run: every fact that an output shows, worked out once, in the program's own units.

What says a fact in words takes the report, or the part it needs, and words it in the maker's units; outputs only set
what is said. Whatever takes long or is shown by some outputs only is worked out when it is first asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sweep.check.flag import Flag
from sweep.check.judge import Outcome
from sweep.check.panel import PanelCheck, check_panel
from sweep.check.profile import ProfileCheck
from sweep.check.whole import WholeCheck
from sweep.cut.fence import FenceLayout, fence_on_table
from sweep.cut.job import Job
from sweep.cut.surface import Surface, surface_of
from sweep.plan.accuracy import Care, care_needed
from sweep.plan.complete import Completed
from sweep.plan.cutlist import CutList, cut_list
from sweep.plan.heights import PassPlan
from sweep.plan.setup import Candidate
from sweep.scene.model import WholeScene
from sweep.show.say.fence import beside
from sweep.show.say.order_of_work import order_of_work
from sweep.show.say.steps import Step
from sweep.units import Units


@dataclass(frozen=True, eq=False)
class Report:
    """Everything there is to say of one run.

    Parameters
    ----------
    outcome : Outcome
        The simulated job and the opinions on it.
    units : Units
        Those that the maker reads.
    completed : Completed or None
        How what the scene left out was worked out; None where nobody asks.
    """

    outcome: Outcome
    units: Units
    completed: Completed | None = None

    @property
    def job(self) -> Job:
        """The simulated job: set-up, passes, solids, finishing."""
        return self.outcome.job

    @property
    def scene(self) -> WholeScene:
        """The scene, complete."""
        return self.outcome.job.scene

    @property
    def profile(self) -> ProfileCheck | None:
        """How the profile lies to a target that is one cove; None without one."""
        return self.outcome.profile

    @property
    def whole(self) -> WholeCheck | None:
        """How the finished wood lies to a whole moulding; None without one."""
        return self.outcome.whole

    @property
    def is_within_tolerance(self) -> bool:
        """Whether the profile is, or no target says otherwise."""
        return self.outcome.is_within_tolerance

    @property
    def flags(self) -> tuple[Flag, ...]:
        """Everything flagged, that of the whole job first."""
        return self.outcome.flags

    def flags_of(self, number: int | None) -> tuple[Flag, ...]:
        """Return the flags of one pass, or those of the whole job."""
        return self.outcome.flags_of(number)

    @property
    def candidates(self) -> tuple[Candidate, ...]:
        """Every blade at its best, the chosen one first; none where the scene has its set-up."""
        return () if self.completed is None else self.completed.candidates

    @property
    def plan(self) -> PassPlan | None:
        """How the passes were planned; None where the scene has them."""
        return None if self.completed is None else self.completed.plan

    @cached_property
    def layout(self) -> FenceLayout:
        """Where the fence runs, measured where the maker would measure."""
        return fence_on_table(self.scene, beside(self.units))

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """The order of work at the saw."""
        return order_of_work(self.job, self.layout, self.units)

    @cached_property
    def surface(self) -> Surface:
        """The tooth marks that the last pass leaves."""
        return surface_of(self.scene)

    @cached_property
    def care(self) -> Care | None:
        """How exactly the saw must be set; None without a target that is one cove. Ten thousand set-ups: a second."""
        return None if self.scene.target is None or self.scene.target.whole else care_needed(self.scene)

    @cached_property
    def cut_list(self) -> CutList | None:
        """What to cut and what to buy; None where nothing is ordered."""
        return cut_list(self.job)

    @cached_property
    def panel(self) -> PanelCheck | None:
        """What the panel does through the year; None where there is none."""
        return check_panel(self.scene)
