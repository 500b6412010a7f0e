"""Estimated forces and powers: two figures, and never more than their band allows."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sweep.shown import Shown, significant
from sweep.units import FORCE, Kind, Units

_FINEST = {FORCE: 1}
"""Digits behind the point beyond which no metric force is shown; powers have none, and all of inches has 2."""


def estimate(value: float, kind: Kind, units: Units) -> Shown:
    """Return an estimated force (N) or power (W): two figures, but no finer than 0.1 N, 0.01 lbf, 1 W, 0.01 hp.

    Examples
    --------
    >>> from sweep.units import POWER
    >>> estimate(1663.0, POWER, Units()), estimate(1663.0, POWER, Units("in")), estimate(2.4, FORCE, Units("in"))
    ('1700 W', '2.2 hp', '0.54 lbf')
    """
    return estimates((value,), kind, units)[0]


def estimates(values: Sequence[float], kind: Kind, units: Units) -> tuple[Shown, ...]:
    """Return estimates of one thing, its usual value and the ends of its band: two figures each.

    Where they lie on both sides of nought they are what is left of larger ones, and none is known more finely than the
    second figure of the largest.

    Examples
    --------
    >>> estimates((5.89, -60.9, 14.03), FORCE, Units()), estimates((0.0066, 64.1, 1238.0), FORCE, Units())
    (('6 N', '-61 N', '14 N'), ('0 N', '64 N', '1200 N'))
    """
    finest = _FINEST.get(kind, 0) if units.metric else 2
    figures = [units.figure(value, kind) for value in values]
    if min(figures) < 0 < max(figures):
        finest = min(finest, 1 - math.floor(math.log10(max(map(abs, figures)))))
    rounded = [round(figure, finest) + 0.0 for figure in figures]
    return tuple(Shown(significant(one, 2, max(0, finest)) if one else "0", units.unit(kind)) for one in rounded)


def estimate_past(value: float, limit: float, kind: Kind, units: Units) -> Shown:
    """Return an estimate that is said to be past a limit: as many figures as show it to be, two at least.

    Examples
    --------
    >>> from sweep.units import POWER
    >>> estimate_past(2066.0, 1105.0, POWER, Units()), estimate_past(1108.0, 1105.0, POWER, Units())
    ('2100 W', '1110 W')
    """
    value, limit = units.figure(value, kind), units.figure(limit, kind)
    shown = (float(f"{value:.{figures}g}") for figures in range(2, 7))
    past = next((one for one in shown if one != limit and (one > limit) == (value > limit)), value)
    return Shown(f"{past:g}", units.unit(kind))
