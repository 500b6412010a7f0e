"""The sentences of the flags about the fence and the saw's table; `flags.py` picks them by their codes."""

from __future__ import annotations

from sweep.check.flag import Flag
from sweep.units import Units, degrees

_OTHER_SIDE = {"near": "far", "far": "operator's"}


def off_the_fence(flag: Flag, u: Units) -> str:
    """Return the sentence of `off-the-fence`."""
    when = "as it enters or leaves the stock " if flag.has("steady") else ""
    if flag.has("second_fence_cut"):
        return (
            f"{when}the blade pulls the work off the fence with about {u.force(-flag.value)} (an estimate), and it "
            f"would cut a second fence by {u.length(flag.figure('second_fence_cut'))}: nothing holds the work safely "
            "like this; set the fence on the other side of the blade, or cut the cove in wider stock"
        )
    return (
        f"{when}the blade pulls the work off the fence with about {u.force(-flag.value)} (an estimate), and this "
        f"fence alone is not safe: clamp a second one on the {_OTHER_SIDE[flag.part]} side of the stock, or set the "
        "fence on the other side of the blade"
    )


def fence_steep(flag: Flag, u: Units) -> str:
    """Return the sentence of `fence-steep`."""
    return (
        f"the fence stands at {degrees(flag.value):.2f} deg to the blade, more than {degrees(flag.limit):g} deg, so "
        "the stock goes into the blade's side rather than along it and the plate is pushed aside: take a smaller "
        "angle, with a larger blade where the cove must stay as wide"
    )


def fence_cut(flag: Flag, u: Units) -> str:
    """Return the sentence of `fence-cut`."""
    return (
        f"the blade reaches {u.length(flag.value)} into the fence: set the fence on the stock's other side where the "
        "blade keeps clear of it, or cut wider stock and rip the rest off afterwards"
    )


def second_fence_cut(flag: Flag, u: Units) -> str:
    """Return the sentence of `second-fence-cut`."""
    return (
        f"the blade reaches {u.length(flag.value)} beyond the stock's other edge: set no second fence there and keep "
        "featherboards clear of the blade, or cut the cove in wider stock and rip the rest off afterwards"
    )


def fence_off_table(flag: Flag, u: Units) -> str:
    """Return the sentence of `fence-off-table`."""
    return (
        f"beside the cut {u.length(flag.value)} of the fence has no table under it: set it on the "
        f"{_OTHER_SIDE[flag.part]} side of the blade, or fix a board level with the table there"
    )


def fence_short(flag: Flag, u: Units) -> str:
    """Return the sentence of `fence-short`."""
    return (
        f"a fence {u.length(flag.value)} long cannot be clamped at both edges of the table: take one at least "
        f"{u.length(flag.limit)} long"
    )


def throat_tight(flag: Flag, u: Units) -> str:
    """Return the sentence of `throat-tight`."""
    return (
        f"the opening of the throat plate is {u.length(flag.value)} {flag.part}, and the blade needs "
        f"{u.length(flag.limit)} through a plate {u.length(flag.figure('throat_thickness'))} thick: fit a plate with a "
        "larger opening before the blade is raised"
    )


def stock_unsupported(flag: Flag, u: Units) -> str:
    """Return the sentence of `stock-unsupported`."""
    when = {"before": "as a pass begins", "after": "as a pass ends"}[flag.part]
    return (
        f"{when} the middle of the stock is {u.length(flag.value)} beyond the table's edge, and supports reach "
        f"{u.length(flag.limit)}: set stands or rollers further out (saw.support_{flag.part}), or cut shorter stock"
    )
