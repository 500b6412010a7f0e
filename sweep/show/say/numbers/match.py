"""What an offcut tells, in numbers: what `sweep match --json` prints."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sweep.plan.match import Estimate, Match
from sweep.plan.rivals import Rivals
from sweep.scene.keys import Blade
from sweep.show.say.numbers.model import Head, Numbers, head_of
from sweep.units import degrees


class AngleEstimate(Numbers):
    """An angle as the points tell it."""

    value_deg: float
    half_width_deg: float | None
    """Half of its 95 % interval; 0 where it was given, null where the points do not tell it."""


class LengthEstimate(Numbers):
    """A length as the points tell it."""

    value_mm: float
    half_width_mm: float | None


class RivalNumbers(Numbers):
    """Another set-up that fits as well."""

    fence_angle_deg: float
    blade_height_mm: float
    blade_tilt_deg: float


class MatchNumbers(Numbers):
    """What the points tell of one blade."""

    by_this_blade: bool
    """Whether the blade can have cut the outline."""
    fence_angle: AngleEstimate
    blade_height: LengthEstimate
    blade_tilt: AngleEstimate
    rotation: AngleEstimate
    """How far the piece lies turned in the axes of the points, anticlockwise."""
    shift_y: LengthEstimate
    shift_z: LengthEstimate
    untold: tuple[str, ...]
    """Settings that the points do not tell."""
    rms_mm: float
    largest_mm: float
    scatter_mm: float
    points: int
    left_out: int
    on_face_left: int
    on_face_right: int
    accuracy_mm: float
    rough: bool
    in_waves: bool
    at_limit: bool
    rivals: tuple[RivalNumbers, ...]


class MatchAnswer(MatchNumbers, Head):
    """What `sweep match` says of one blade."""


class TriedNumbers(MatchNumbers):
    """What the points tell of one blade of several."""

    blade: str
    """Its name."""
    can: bool
    """Whether it can have cut the piece on this saw."""
    too_high: bool
    """Whether it would have to stand higher than the saw raises it."""


class LikenessNumbers(Numbers):
    """How nearly the best two blades leave the same outline."""

    largest_mm: float
    rms_mm: float
    mistaken: float
    """How often these points would take one for the other, 0.5 where nothing tells them."""
    needed_accuracy_mm: float
    """The accuracy of each point that would tell them apart, but for 1 time in 20."""
    told_apart: bool


class BladesAnswer(Head):
    """What `sweep match` says where it tries several blades."""

    blades: tuple[TriedNumbers, ...]
    """The likeliest first, those that cannot have cut the piece last."""
    likeness: LikenessNumbers | None
    """How alike the first two are; null where fewer than two can have cut it."""


def match_answer(match: Match) -> MatchAnswer:
    """Return what the points tell of one blade."""
    return MatchAnswer(**head_of(""), **_told(match))


def blades_answer(rivals: Rivals, blades: Sequence[Blade]) -> BladesAnswer:
    """Return what the points tell of several blades."""
    alike = rivals.likeness
    return BladesAnswer(
        **head_of(""),
        blades=tuple(
            TriedNumbers(
                blade=blades[one.number].name, can=bool(one.can), too_high=bool(one.too_high), **_told(one.match)
            )
            for one in rivals.tried
        ),
        likeness=None
        if alike is None
        else LikenessNumbers(
            largest_mm=alike.largest,
            rms_mm=alike.rms,
            mistaken=alike.mistaken,
            needed_accuracy_mm=alike.needed,
            told_apart=alike.told_apart,
        ),
    )


def _told(match: Match) -> dict[str, Any]:
    return dict(
        by_this_blade=bool(match.by_this_blade),
        fence_angle=_angle(match.fence_angle),
        blade_height=_length(match.blade_height),
        blade_tilt=_angle(match.blade_tilt),
        rotation=_angle(match.rotation),
        shift_y=_length(match.shift[0]),
        shift_z=_length(match.shift[1]),
        untold=tuple(match.untold),
        rms_mm=float(match.rms),
        largest_mm=float(match.largest),
        scatter_mm=float(match.scatter),
        points=int(match.count),
        left_out=int(match.left_out),
        on_face_left=int(match.on_face[0]),
        on_face_right=int(match.on_face[1]),
        accuracy_mm=float(match.accuracy),
        rough=bool(match.rough),
        in_waves=bool(match.in_waves),
        at_limit=bool(match.at_limit),
        rivals=tuple(
            RivalNumbers(fence_angle_deg=degrees(angle), blade_height_mm=float(height), blade_tilt_deg=degrees(tilt))
            for angle, height, tilt in match.rivals
        ),
    )


def _angle(estimate: Estimate) -> AngleEstimate:
    wide = estimate.half_width
    return AngleEstimate(value_deg=degrees(estimate.value), half_width_deg=None if wide is None else degrees(wide))


def _length(estimate: Estimate) -> LengthEstimate:
    wide = estimate.half_width
    return LengthEstimate(value_mm=float(estimate.value), half_width_mm=None if wide is None else float(wide))
