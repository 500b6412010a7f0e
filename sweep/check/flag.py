"""One thing to look at before cutting. Data, not an error: the run is complete all the same."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Flag:
    """One thing to look at before cutting.

    Parameters
    ----------
    code : str
        Its short name, the same in every output.
    number : int or None
        The pass it belongs to; None when it belongs to the whole job.
    value, limit : float
        The figure and its limit, in mm, mm2, mm/s, rad/s, W or a count.
    message : str
        What is wrong and what to do, in one sentence, in the maker's units.
    """

    code: str
    number: int | None
    value: float
    limit: float
    message: str
