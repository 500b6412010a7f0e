"""The sentences of the flags about finishing and a panel; `flags.py` picks them by their codes."""

from __future__ import annotations

from sweep.check.flag import Flag
from sweep.units import Units


def gap_small(flag: Flag, u: Units) -> str:
    """Return the sentence of `gap-small`."""
    return (
        f"at {100 * flag.figure('moisture'):.3g} % moisture the panel's edge moves out {u.length(flag.limit)} and the "
        f"gap behind it is {u.length(flag.value)}: it would burst the frame or split; leave more room"
    )


def lip_short(flag: Flag, u: Units) -> str:
    """Return the sentence of `lip-short`."""
    return (
        f"at {100 * flag.figure('moisture'):.3g} % moisture the panel's edge draws back "
        f"{u.length(flag.figure('drawn_back'))} and the lip laps over it {u.length(flag.value)} when fitted: let it "
        f"lap at least {u.length(flag.limit)}"
    )


def finish_nothing(flag: Flag, u: Units) -> str:
    """Return the sentence of `finish-nothing`."""
    return f"{_operation(flag)} takes nothing: move it, or leave it out"


def finish_through(flag: Flag, u: Units) -> str:
    """Return the sentence of `finish-through`."""
    return (
        f"{_operation(flag)} breaks into the cove and takes {u.length(flag.value)} of its line: make it smaller, or "
        "move it"
    )


def finish_thin(flag: Flag, u: Units) -> str:
    """Return the sentence of `finish-thin`."""
    return (
        f"{_operation(flag)} leaves {u.length(flag.value)} of wood behind the face it cuts, less than "
        f"{u.length(flag.limit)}: make it smaller, or move it"
    )


def _operation(flag: Flag) -> str:
    piece = f", piece {flag.figure('piece'):.0f}" if flag.has("piece") else ""
    return f"finish {flag.figure('number'):.0f} ({flag.part}{piece})"
