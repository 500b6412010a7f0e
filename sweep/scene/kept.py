"""What was made, as the shop's record has it: `[kept]` and `[[measured]]` in a scene, and the file a phone leaves.

A kept job is a scene like any other, with everything written that it was cut by, and with two more tables:

    [kept]                        # one: when, from what, and what is kept with it
    date = "2026-11-26"
    program = "0.1.0"
    scene = "corner-cupboard-cornice.toml"
    block = "no. 14, on the nail above the saw"
    notes = "fence came a hair off at pass 5"

    [[measured]]                  # one for each time that somebody measured the wood; the last stands for the moulding
    setup = 1                     # which of [[setups]], where there are several
    after_pass = 8                # left out: after the last
    width = "60.9 mm"             # of the cove at the table; each of these may be left out, not all
    depth = "16.1 mm"
    flat = "15.6 mm"              # from the edge that runs along the fence to the cove
    points = [[-40, 0], [0, 16]]  # [[y, z], ...] mm, points of the profile in axes of their own
    accuracy = "0.1 mm"           # one standard deviation of each of these

A phone at the saw leaves a file of its own, which `sweep keep SCENE --record FILE` puts into the record:

    record = 1                    # the number of this form
    title = "Corner cupboard, cornice cove"   # of the scene; that of another one is refused
    date = "2026-11-26"
    block = ""
    notes = ""
    steps = 44                    # how many steps the order of work has
    ticked = [1, 2, 3]            # numbers of those that were ticked
    counted = [5, 5, 4]           # blanks counted off at each height, in order
    [[measured]]                  # as above

All but `record` may be left out; any other key is refused. Lengths are text with a unit, in mm or in inches.
"""

from __future__ import annotations

from datetime import date as Day  # noqa: N812
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from sweep.errors import SceneError, UnusableError
from sweep.scene.fields import Detail, Exact, Number, Title
from sweep.scene.keys import Section
from sweep.scene.limits import CALLIPERS, CALLIPERS_IN_INCHES, CALLIPERS_WHY
from sweep.scene.written import key
from sweep.words import fit

MOST_TIMES = 500
"""How often a job can have been measured."""

MOST_POINTS = 3000
"""Points of one profile that is matched; see `plan/match.py`."""

MOST_STEPS = 2000
"""Steps of an order of work, and passes."""


def _day(text: str) -> str:
    try:
        Day.fromisoformat(text)
    except ValueError:
        raise UnusableError(f"'{text}' is no date", 'write year, month and day, for example "2026-11-26"') from None
    return text


Date = Annotated[str, Field(max_length=10), AfterValidator(_day)]
Notes = Annotated[str, Field(max_length=2000), AfterValidator(fit)]
Count = Annotated[int, Field(strict=True, ge=1, le=MOST_STEPS)]
Blanks = Annotated[int, Field(strict=True, ge=0, le=100_000)]


class Kept(Section):
    """When a job was made, from what, and what is kept with it; for people, no figure follows from it."""

    date: Date = key('the day on which it was made, `"2026-11-26"`')
    program: Title = key("version of the program that worked it out", "")
    scene: Title = key("the file that it was kept from", "")
    block: Title = key("the set-up block or piece that is kept with it, and where", "")
    notes: Notes = key("anything else, on one line", "")


class Measured(Section):
    """What was measured on the wood at one time; lengths in mm, points in axes of their own."""

    setup: Count = key("which of `[[setups]]`, from 1", 1)
    after_pass: Count | None = key("after which pass of it, from 1", None, unless_given="after the last")
    width: Detail | None = key("of the cove at the table; it, depth, flat or points are required", None)
    depth: Detail | None = key("of the cove, from the face on the table", None)
    flat: Detail | None = key("from the edge that runs along the fence to the cove", None)
    points: Annotated[tuple[tuple[Number, Number], ...], Field(max_length=MOST_POINTS)] | None = key(
        "`[[y, z], ...]` in mm, measured on the profile; how it lies need not be known", None
    )
    accuracy: Exact = key("one standard deviation of each", CALLIPERS, inches=CALLIPERS_IN_INCHES, why=CALLIPERS_WHY)

    @model_validator(mode="after")
    def _something(self) -> Measured:
        if all(value is None for value in (self.width, self.depth, self.flat, self.points)):
            raise SceneError("measured", "nothing is measured in it", 'write, for example, width = "60.9 mm"')
        return self


Times = Annotated[tuple[Measured, ...], Field(max_length=MOST_TIMES)]


class Record(Section):
    """What a phone at the saw wrote down; `title` is that of the scene, empty where it has none."""

    record: Literal[1]
    title: Title = ""
    date: Date | None = None
    block: Title = ""
    notes: Notes = ""
    steps: Annotated[int, Field(strict=True, ge=0, le=MOST_STEPS)] = 0
    ticked: Annotated[tuple[Count, ...], Field(max_length=MOST_STEPS)] = ()
    counted: Annotated[tuple[Blanks, ...], Field(max_length=MOST_STEPS)] = ()
    measured: Times = ()
