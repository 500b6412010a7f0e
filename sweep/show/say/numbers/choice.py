"""The set-ups that were found for a whole moulding, in numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sweep.scene.setups import CoveSetup, RabbetSetup, RipSetup, SetupOfSeveral
from sweep.show.say.numbers.model import Head, Numbers, head_of
from sweep.units import degrees

if TYPE_CHECKING:  # the optimisers load only where set-ups are to be found
    from sweep.plan.several.choose import Curve
    from sweep.plan.several.solve import Solved


class CurveNumbers(Numbers):
    """What one number of set-ups takes."""

    setups: int
    """How many; a rabbet counts as two."""
    waste_share: float
    seconds: float
    """The time at the saw, for one piece, with setting it."""
    proven: bool
    """Whether no other choice of the cuts that were tried first does better."""
    chosen: bool


class ChosenNumbers(Numbers):
    """One of the set-ups that were chosen, as `[[setups]]` has it."""

    do: str
    """`cove`, `rip` or `rabbet`."""
    blade: str
    face: str
    """Which face of the stock, as it was planed, lies on the table."""
    ends: str
    fence_angle_deg: float | None
    """A cove has one, or else null."""
    blade_tilt_deg: float
    blade_height_mm: float | None
    """Null for a rip that comes out of the wood; of a rabbet, its depth."""
    offset_mm: float | None
    """A cove has one, or else null."""
    at_mm: float | None
    """A rip's middle of the kerf; null for others."""
    width_mm: float | None
    """A rabbet has one, or else null."""
    unsupported_mm: float
    """By how much it leaves too little flat to ride on; 0 where it leaves enough."""
    seconds: float


class SetupsAnswer(Head):
    """What `sweep solve` works out for a whole moulding."""

    leave_mm: float
    tried: int
    """How many cuts were left to choose from."""
    all_settings_tried: bool
    """False where there are so many blades that fewer angles and tilts are tried first."""
    curve: tuple[CurveNumbers, ...]
    setups: tuple[ChosenNumbers, ...]


def setups_answer(solved: Solved) -> SetupsAnswer:
    """Return the curve and the set-ups that were chosen."""
    curve, ordered = solved.curve, solved.curve.choice.ordered
    return SetupsAnswer(
        **head_of(solved.scene.title),
        leave_mm=solved.scene.plan.leave,
        tried=curve.tried,
        all_settings_tried=not curve.is_thinned,
        curve=curve_numbers(curve),
        setups=tuple(
            _chosen(one, short, seconds)
            for one, short, seconds in zip(solved.scene.setups, ordered.unsupported, ordered.seconds, strict=True)
        ),
    )


def curve_numbers(curve: Curve) -> tuple[CurveNumbers, ...]:
    """Return what each number of set-ups takes."""
    return tuple(
        CurveNumbers(
            setups=row.setups,
            waste_share=row.share,
            seconds=row.seconds,
            proven=row.proven,
            chosen=place == curve.chosen,
        )
        for place, row in enumerate(curve.rows)
    )


def _chosen(one: SetupOfSeveral, short: float, seconds: float) -> ChosenNumbers:
    return ChosenNumbers(
        do=one.do,
        blade=one.blade,
        face=one.face,
        ends=one.ends,
        fence_angle_deg=degrees(one.fence_angle) if isinstance(one, CoveSetup) else None,
        blade_tilt_deg=0.0 if isinstance(one, RabbetSetup) else degrees(one.blade_tilt),
        blade_height_mm=one.depth if isinstance(one, RabbetSetup) else one.blade_height,
        offset_mm=one.offset if isinstance(one, CoveSetup) else None,
        at_mm=one.at if isinstance(one, RipSetup) else None,
        width_mm=one.width if isinstance(one, RabbetSetup) else None,
        unsupported_mm=short,
        seconds=seconds,
    )
