"""The set-up in one line, and what there is to say of each pass."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from sweep.check.flag import Flag
from sweep.check.judge import Outcome
from sweep.check.shares import governing, shares_of
from sweep.cut.fence import fence_on_table
from sweep.cut.load import Load
from sweep.cut.passes import Pass
from sweep.scene.model import Scene, WholeScene
from sweep.show.say.estimates import estimate
from sweep.show.say.fence import rip_side
from sweep.show.say.table import Column, Table
from sweep.units import POWER, Shown, Units, degrees

HEADINGS = ("height", "rise", "width", "area", "feed", "chip", "power", "limit", "share")


def title_of(scene: Scene, letters: int | None = None) -> str:
    """Return the job's name, cut off after so many letters if any are given, or words for one that has none."""
    title = scene.title or "Untitled job"
    return title if letters is None or len(title) <= letters else f"{title[: letters - 1]}…"


def fence_of(outcome: Outcome, units: Units) -> str:
    """Return how the fence is set, in half a sentence."""
    setup = outcome.job.scene.setup
    if not outcome.job.scene.feed.along_blade:
        return f"fence at {degrees(setup.fence_angle):.2f} deg"
    apart = units.length(fence_on_table(outcome.job.scene).clear)
    return f"rip fence on the {rip_side(setup.fence_side)}, {apart} clear of the blade"


def set_up_of(outcome: Outcome, units: Units) -> str:
    """Return the set-up in one line."""
    setup, count = outcome.job.scene.setup, len(outcome.job.passes)
    return (
        f"{fence_of(outcome, units)}, blade {units.length(setup.blade_height)} high, "
        f"tilted {degrees(setup.blade_tilt):.2f} deg, {count} pass{'' if count == 1 else 'es'}"
    )


def headline_of(outcome: Outcome, units: Units) -> str:
    """Return the job and its set-up in one line."""
    return f"{title_of(outcome.job.scene)}: {set_up_of(outcome, units)}"


@dataclass(frozen=True)
class PassRow:
    """One pass as it is read.

    Parameters
    ----------
    number : int
    height, rise, width, area, feed, chip, power : Shown
        Width and rise are read, not set: in inches the width is shown to the nearest 1/64, and a rise that is no
        64th to 0.001 in. Power is the band of the estimate; a dash where nothing is known of the wood.
    limit : str
        The limit that the pass comes closest to.
    used : Shown
        How much of that limit, in per cent.
    share : float
        The same, 1 at the limit.
    flags : tuple of Flag
    """

    number: int
    height: Shown
    rise: Shown
    width: Shown
    area: Shown
    feed: Shown
    chip: Shown
    power: Shown
    limit: str
    used: Shown
    share: float
    flags: tuple[Flag, ...]

    @property
    def cells(self) -> tuple[str, ...]:
        """What stands under `HEADINGS`."""
        return (
            self.height,
            self.rise,
            self.width,
            self.area,
            self.feed,
            self.chip,
            self.power,
            self.limit,
            self.used,
        )


def pass_rows(outcome: Outcome, units: Units) -> tuple[PassRow, ...]:
    """Return every pass in order."""
    job, rows = outcome.job, []
    for one, taken, load in zip(job.passes, job.sections, job.loads, strict=True):
        shares = shares_of(job.scene, one, taken.area, load)
        limit = governing(shares)
        rows.append(
            PassRow(
                number=one.number,
                height=units.length(one.height),
                rise=units.as_read(one.rise),
                width=units.nearest(taken.width),
                area=units.area(taken.area),
                feed=units.feed(one.feed_speed),
                chip=units.fine(load.chip_thickness_max),
                power=_band(load, units),
                limit=limit,
                used=Shown(f"{100 * shares[limit]:.0f}", "%"),
                share=shares[limit],
                flags=outcome.flags_of(one.number),
            )
        )
    return tuple(rows)


def pass_table(rows: tuple[PassRow, ...]) -> Table:
    """Return the passes as a table; numbers and flags stand beside it as each output likes."""
    return Table(tuple(Column(heading) for heading in HEADINGS), tuple(row.cells for row in rows))


def fed_in(scene: WholeScene, one: Pass) -> float:
    """Return how much of the stock's length goes past the blade in a pass, mm."""
    return scene.stock.length if one.stop is None else min(one.stop, scene.stock.length)


def turns_of(height: float, scene: WholeScene) -> str:
    """Return turns of the wheel: in the parts of a turn that were asked for where they fit, else to a hundredth."""
    lift, part = scene.saw.lift_per_turn, scene.plan.turn
    if lift is None:
        return ""
    turns = height / lift
    if part is None or abs(turns / part - round(turns / part)) > 1e-4:
        return f"{turns:.2f}"
    whole, over = divmod(round(turns / part) * Fraction(part).limit_denominator(1000), 1)
    return " ".join(str(piece) for piece in (whole, over) if piece) or "0"


def _band(load: Load, units: Units) -> Shown:
    """Return the band of power, two figures each; a dash where nothing is known of the wood."""
    if load.band is None:
        return Shown("-", units.unit(POWER))
    ends = [estimate(end.power, POWER, units) for end in (load.band[0], load.band[-1])]
    return Shown("-".join(end.figure for end in ends), ends[0].unit)
