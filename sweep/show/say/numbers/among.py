"""What a record says of a measured piece, in numbers: what `sweep match --among --json` prints."""

from __future__ import annotations

from sweep.shop.among import Likeness
from sweep.shop.held import Told
from sweep.show.say.numbers.model import Head, Numbers, head_of


class JobNumbers(Numbers):
    """A job and how near the piece lies to it."""

    job: str
    """Its file, from the folder."""
    title: str
    date: str
    held_against: Told
    """What was measured on its wood, what its set-up cuts, the target, or the points of a file."""
    rms_mm: float
    largest_mm: float
    tolerance_mm: float
    mirrored: bool
    """Whether the piece was measured from its other end."""
    can_have_made_it: bool
    """Whether measuring explains all that the points lie off."""
    within_tolerance: bool
    covered: float
    """Which share of the job's cove, across, the points reach over."""


class NotCompared(Numbers):
    """A file that the piece was not held against."""

    name: str
    reason: str


class AmongAnswer(Head):
    """What `sweep match --among` says."""

    points: int
    accuracy_mm: float
    jobs: tuple[JobNumbers, ...]
    """The likeliest, the closest first."""
    count: int
    """How many jobs there are."""
    not_compared: tuple[NotCompared, ...]


def among_answer(answer: Likeness) -> AmongAnswer:
    """Return what a record says of a piece."""
    return AmongAnswer(
        **head_of(""),
        points=answer.points,
        accuracy_mm=answer.accuracy,
        jobs=tuple(
            JobNumbers(
                job=one.job.name,
                title=one.job.title,
                date=one.job.date,
                held_against=one.job.told,
                rms_mm=one.rms,
                largest_mm=one.largest,
                tolerance_mm=one.job.tolerance,
                mirrored=one.mirrored,
                can_have_made_it=one.same,
                within_tolerance=one.within,
                covered=one.covered,
            )
            for one in answer.compared
        ),
        count=answer.jobs,
        not_compared=tuple(NotCompared(name=one.name, reason=one.reason) for one in answer.not_compared),
    )
