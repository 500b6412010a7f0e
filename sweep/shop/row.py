"""What is told of a profile: a row for each blade that came into question, and what a page draws of it."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields
from typing import Any

Polyline = tuple[tuple[int, int], ...]
"""Points (y, z) in hundredths of a mm: finer than a page draws, and short to write."""


FAULT = "a fault of sweep, not of what you wrote; please report it"
"""What a row says where the program failed: the others go on."""


@dataclass(frozen=True)
class Row:
    """One profile and one blade; figures that are not known are None. The columns of the table, in their order.

    Parameters
    ----------
    profile, blade : str
        Names; of several set-ups the blades joined by `` + ``.
    rank : int or None
        1 is the closest; None where nothing was found.
    fence_angle_deg, blade_tilt_deg : float
        None of several set-ups.
    blade_height_mm, offset_mm : float
    deviation_mm : float
        The largest either way; of a whole moulding how deep it is cut into, 0 where it is not.
    within_tolerance : bool
    passes : int
    minutes : float
        At the saw, for one piece.
    flags : str
        Codes, each once, parted by spaces; nothing where nothing is flagged, None where it was not looked at.
    reason : str
        Why there is no figure, or what keeps it from coming closer.
    saw : str
        Its name; nothing where it has none.
    """

    profile: str
    blade: str
    rank: int | None = None
    fence_angle_deg: float | None = None
    blade_height_mm: float | None = None
    blade_tilt_deg: float | None = None
    offset_mm: float | None = None
    deviation_mm: float | None = None
    within_tolerance: bool | None = None
    passes: int | None = None
    minutes: float | None = None
    flags: str | None = None
    reason: str = ""
    saw: str = ""


COLUMNS = tuple(field.name for field in fields(Row))
"""The names of the columns."""


@dataclass(frozen=True)
class Answer:
    """All that is told of one profile.

    Parameters
    ----------
    profile : str
    rows : tuple of Row
        By rank; one without a rank where there is nothing but a reason.
    whole, inches : bool
        Whether it is a whole moulding, and whether it is written in inches.
    wanted, cut : Polyline
        The profile, and what the first row's set-up leaves of it; nothing where there is none.
    stock_mm : (float, float)
        Width and thickness of the stock about it.
    scene : str
        The first row's job as a scene, TOML; nothing where there is none.
    """

    profile: str
    rows: tuple[Row, ...]
    whole: bool = False
    inches: bool = False
    wanted: Polyline = ()
    cut: Polyline = ()
    stock_mm: tuple[float, float] = (0.0, 0.0)
    scene: str = ""

    @property
    def best(self) -> Row:
        """The first row."""
        return self.rows[0]

    def as_text(self) -> str:
        """Return it on one line, the same wherever it is written."""
        return json.dumps(asdict(self), sort_keys=True, ensure_ascii=True)


def answer_in(text: str) -> Answer:
    """Return the answer on a line.

    Raises
    ------
    ValueError, TypeError, KeyError
        Where it holds none.
    """
    told: dict[str, Any] = json.loads(text)
    told["rows"] = tuple(Row(**row) for row in told["rows"])
    for name in ("wanted", "cut"):
        told[name] = tuple((y, z) for y, z in told[name])
    told["stock_mm"] = tuple(told["stock_mm"])
    return Answer(**told)


def without_figures(profile: str, reason: str, whole: bool = False, inches: bool = False) -> Answer:
    """Return the answer for a profile of which there is nothing but a reason."""
    return Answer(profile, (Row(profile, "", reason=reason),), whole, inches)
