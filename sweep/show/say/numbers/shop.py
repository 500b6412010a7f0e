"""A whole folder of profiles, in numbers: what `sweep shop --json` prints."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any, Literal

from sweep.shop.alike import Alike
from sweep.shop.row import Answer, Row
from sweep.show.say.numbers.model import Head, Numbers, head_of
from sweep.words import visible


class ShopRow(Numbers):
    """One profile and one blade that came into question for it."""

    profile: str
    """The path of its file from the folder."""
    blade: str
    rank: int | None
    """1 is the closest; null where there is nothing but a reason."""
    fence_angle_deg: float | None
    blade_height_mm: float | None
    blade_tilt_deg: float | None
    offset_mm: float | None
    deviation_mm: float | None
    """The largest either way; of a whole moulding how deep it is cut into."""
    within_tolerance: bool | None
    passes: int | None
    minutes: float | None
    """At the saw, for one piece."""
    flags: str | None
    """Codes, parted by spaces; null where the set-up was not planned."""
    reason: str
    saw: str
    """Its name; empty where it has none."""


class AlikeRow(Numbers):
    """Another profile, or what another one's set-up cuts, within a profile's tolerance."""

    profile: str
    other: str
    how: Literal["same", "set-up"]
    """Whether the other profile is the same, or its set-up makes this one."""
    deviation_mm: float
    mirrored: bool
    """Whether it is so seen from its other end."""


class ShopAnswer(Head):
    """What `sweep shop` says."""

    rows: tuple[ShopRow, ...]
    alike: tuple[AlikeRow, ...]


def shop_answer(answers: Iterable[Answer], alike: Iterable[Alike]) -> ShopAnswer:
    """Return every row."""
    rows = tuple(ShopRow(**_told(row)) for answer in answers for row in answer.rows)
    return ShopAnswer(**head_of(""), rows=rows, alike=tuple(AlikeRow(**_told(one)) for one in alike))


def _told(row: Row | Alike) -> dict[str, Any]:
    """Return a row with its words as they can be shown: a file's name need be no text."""
    return {name: visible(value) if isinstance(value, str) else value for name, value in asdict(row).items()}
