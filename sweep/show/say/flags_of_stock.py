"""The sentences of the flags about stock, blade and wood; `flags.py` picks them by their codes."""

from __future__ import annotations

from sweep.check.flag import Flag
from sweep.units import ROTATION, Units, rpm


def stock_short(flag: Flag, u: Units) -> str:
    """Return the sentence of `stock-short`."""
    return (
        f"the stock is {u.length(flag.value)} long, too short to pass safely under {u.length(flag.limit)}: cut the "
        "cove on a longer piece and crosscut afterwards"
    )


def stock_narrow(flag: Flag, u: Units) -> str:
    """Return the sentence of `stock-narrow`."""
    return (
        f"the stock is {u.length(flag.value)} wide, too narrow to be held over the blade under {u.length(flag.limit)}: "
        "cut the cove on a wider board and rip it to width afterwards"
    )


def stock_thin(flag: Flag, u: Units) -> str:
    """Return the sentence of `stock-thin`."""
    return (
        f"the stock is {u.length(flag.value)} thick, too thin to be held over the blade under {u.length(flag.limit)}: "
        "cut the cove in a thicker board and take the back down afterwards"
    )


def stock_missed(flag: Flag, u: Units) -> str:
    """Return the sentence of `stock-missed`."""
    passes_by = f"passes {u.length(flag.value)} beside the stock" if flag.value > 0 else "only touches the stock"
    if flag.part == "at":
        return f"the blade {passes_by} and cuts nothing: move it, or make it before the set-up that took the wood"
    return f"the blade {passes_by} and cuts nothing: mend setup.offset, or the stock's width"


def rim_fast(flag: Flag, u: Units) -> str:
    """Return the sentence of `rim-fast`."""
    if flag.kind == ROTATION:
        return (
            f"the saw turns at {rpm(flag.value):.0f} rpm and the blade is marked for {rpm(flag.limit):.0f} rpm: "
            "do not run this blade on this saw"
        )
    return (
        f"the rim runs at {u.rim_speed(flag.value)}, above {u.rim_speed(flag.limit)}: "
        "use a smaller blade, or a slower saw, and look up what the blade is marked for"
    )


def piece_freed(flag: Flag, u: Units) -> str:
    """Return the sentence of `piece-freed`."""
    return (
        f"the cut leaves {flag.value:.0f} separate pieces, the smallest of {u.volume(flag.figure('smallest'))}, which "
        "the blade can throw: move the cut, or leave a strip that holds them together"
    )


def moisture_unknown(flag: Flag, u: Units) -> str:
    """Return the sentence of `moisture-unknown`."""
    return (
        f"at {100 * flag.value:.0f} % moisture forces and power are not known: their constants are for about 12 %, "
        "and are shown unchanged; dry the wood, or trust the figures less"
    )


def wood_above_thin(flag: Flag, u: Units) -> str:
    """Return the sentence of `wood-above-thin`."""
    return (
        f"{u.length(flag.value)} of wood is left above the cove, less than {u.length(flag.limit)}: take thicker "
        "stock, or a shallower cove"
    )


def shoulder_narrow(flag: Flag, u: Units) -> str:
    """Return the sentence of `shoulder-narrow`."""
    return (
        f"{u.length(flag.value)} of flat is left to ride on the table on the {flag.part} (looking along the feed), "
        f"less than {u.length(flag.limit)}: cut the cove in wider stock and rip the rest off afterwards"
    )


def contact_small(flag: Flag, u: Units) -> str:
    """Return the sentence of `contact-small`."""
    return (
        f"in all {u.length(flag.value)} of flat is left to ride on the table beside the cove, less than "
        f"{u.length(flag.limit)}: the stock can rock; cut the cove on a wider board and rip it to width afterwards"
    )


def no_flat(flag: Flag, u: Units) -> str:
    """Return the sentence of `no-flat`."""
    return (
        f"nothing flat is left to ride on the table on the {flag.part} of the cut (looking along the feed): make this "
        "set-up before the one that takes it, leave runners on both edges and rip them off last, or screw the stock "
        "to a carrier"
    )


def strip_falls(flag: Flag, u: Units) -> str:
    """Return the sentence of `strip-falls`."""
    return (
        f"a strip {_size(flag, u)} falls off beside the turning blade, which can catch and throw it: stand aside, let "
        "the saw come to rest before it is taken away, or turn the strip into shavings by more passes"
    )


def strip_trapped(flag: Flag, u: Units) -> str:
    """Return the sentence of `strip-trapped`."""
    return (
        f"a strip {_size(flag, u)} falls off between the blade and the fence, where it is pinched and thrown back: "
        "set the fence on the other side of the stock, or turn the stock end for end"
    )


def _size(flag: Flag, u: Units) -> str:
    return f"{u.length(flag.figure('width'))} wide and {u.length(flag.figure('height'))} high"
