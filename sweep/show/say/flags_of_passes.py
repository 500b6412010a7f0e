"""The sentences of the flags that belong to one pass; `flags.py` picks them by their codes."""

from __future__ import annotations

from sweep.check.flag import Flag
from sweep.show.say.estimates import estimate, estimate_past, estimates
from sweep.units import FORCE, POWER, Kind, Units


def rise_large(flag: Flag, u: Units) -> str:
    """Return the sentence of `rise-large`."""
    return f"it rises {u.length(flag.value)}, more than {u.length(flag.limit)}: {_split(flag)}"


def chip_thick(flag: Flag, u: Units) -> str:
    """Return the sentence of `chip-thick`."""
    return (
        f"shavings are up to {u.fine(flag.value)} thick, more than {u.fine(flag.limit)}: feed at "
        f"{u.feed(flag.figure('feed_speed'))} or slower"
    )


def area_large(flag: Flag, u: Units) -> str:
    """Return the sentence of `area-large`."""
    return f"it takes {u.area(flag.value)} from the section, more than {u.area(flag.limit)}: {_split(flag)}"


def gullet_full(flag: Flag, u: Units) -> str:
    """Return the sentence of `gullet-full`."""
    return (
        f"chips fill {100 * flag.value:.0f} % of a gullet's usable room, more than {100 * flag.limit:.0f} %: feed at "
        f"{u.feed(flag.figure('feed_speed'))} or slower, or use a blade with fewer, deeper gullets"
    )


def power_high(flag: Flag, u: Units) -> str:
    """Return the sentence of `power-high`."""
    return (
        f"it takes about {_band(flag, flag.value, POWER, u, flag.limit)} at the arbor (an estimate), more than the "
        f"{u.power(flag.limit)} that the motor gives it: {_way_out(flag, u)}"
    )


def push_hard(flag: Flag, u: Units) -> str:
    """Return the sentence of `push-hard`."""
    teeth, friction = u.force(flag.figure("teeth")), u.force(flag.figure("friction"))
    return (
        f"it takes about {_band(flag, flag.value, FORCE, u, flag.limit)} to push (estimates: {teeth} on the teeth, "
        f"{friction} of friction), more than {u.force(flag.limit)}: "
        + (_way_out(flag, u) if flag.has("passes") else "cut shorter stock, wax the table, ease the featherboards")
    )


def plate_bends(flag: Flag, u: Units) -> str:
    """Return the sentence of `plate-bends`."""
    return (
        f"the side load of about {_band(flag, flag.figure('side_force'), FORCE, u)} (an estimate) bends the plate by "
        f"{u.fine(flag.value)}, more than {u.fine(flag.limit)}: {_split(flag)}, or use a thicker plate, larger collars "
        "or a smaller fence angle"
    )


def edge_rubs(flag: Flag, u: Units) -> str:
    """Return the sentence of `edge-rubs`."""
    return (
        f"shavings are at most {u.fine(flag.value)} thick, less than {u.fine(flag.limit)}: the edge rubs and burns; "
        f"use a blade with fewer teeth ({flag.figure('teeth'):.0f} or fewer), or take more in a pass; only where "
        f"neither serves feed at {u.feed(flag.figure('feed_speed'))} or faster"
    )


def last_pass_heavy(flag: Flag, u: Units) -> str:
    """Return the sentence of `last-pass-heavy`."""
    return (
        f"the last pass rises {u.length(flag.value)}, no less than the lightest before it ({u.length(flag.limit)}): "
        "make it the lightest, and feed it slowly"
    )


def single_pass(flag: Flag, u: Units) -> str:
    """Return the sentence of `single-pass`."""
    return (
        f"the whole cove is taken in one pass that rises {u.length(flag.value)}, with nothing lower to try the set-up "
        f"by: take it in at least 2, the last one light ({u.length(flag.limit)} or less)"
    )


def _split(flag: Flag) -> str:
    return f"take it in {flag.figure('passes'):.0f} passes"


def _way_out(flag: Flag, u: Units) -> str:
    """Return a slower feed where one serves, and how many passes do."""
    if flag.has("feed_speed"):
        return f"feed at {u.feed(flag.figure('feed_speed'))} or slower, or {_split(flag)}"
    return _split(flag)


def _band(flag: Flag, usual: float, kind: Kind, u: Units, limit: float | None = None) -> str:
    """Return an estimate with its band, the unit once; past its limit where it is held against one."""
    low, high = estimates((flag.figure("low"), flag.figure("high")), kind, u)
    shown = estimate(usual, kind, u) if limit is None else estimate_past(usual, limit, kind, u)
    return f"{shown.bare} ({low.bare} to {high.bare}) {shown.unit}"
