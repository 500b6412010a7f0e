"""The sentences of mild flags: what the far end of an estimate's band is past, and what to look out for."""

from __future__ import annotations

from sweep.check.flag import Flag
from sweep.show.say.estimates import estimate, estimate_past
from sweep.units import FORCE, POWER, Units


def mild_sentence(flag: Flag, units: Units) -> str:
    """Return the sentence of a mild flag; raise ValueError for a code that is never mild."""
    match flag.code:
        case "chip-thick":
            return _chip_thick(flag, units)
        case "power-high":
            return _power_high(flag, units)
        case "push-hard":
            return _push_hard(flag, units)
        case "plate-bends":
            return _plate_bends(flag, units)
        case "off-the-fence":
            return _off_the_fence(flag, units)
        case _:
            raise ValueError(flag.code)


def _chip_thick(flag: Flag, u: Units) -> str:
    """Return the sentence of `chip-thick`, by run-out and wobble."""
    return (
        f"with run-out and wobble one tooth may take {u.fine(flag.value)}, more than {u.fine(flag.limit)} (equal teeth "
        f"take {u.fine(flag.figure('usual'))}): feed slower where the cut is rough, or have the blade trued"
    )


def _power_high(flag: Flag, u: Units) -> str:
    """Return the sentence of `power-high`, by hard wood and dull edges."""
    most, usual = estimate_past(flag.value, flag.limit, POWER, u), estimate(flag.figure("usual"), POWER, u)
    return (
        f"it may take up to {most} at the arbor in hard wood with dull edges, more than the {u.power(flag.limit)} that "
        f"the motor gives it (the estimate is {usual}): feed slower or rise less where the motor labours"
    )


def _push_hard(flag: Flag, u: Units) -> str:
    """Return the sentence of `push-hard`, by hard wood and dull edges."""
    most, usual = estimate_past(flag.value, flag.limit, FORCE, u), estimate(flag.figure("usual"), FORCE, u)
    return (
        f"it may take up to {most} to push, friction in it, more than {u.force(flag.limit)} (the estimate is {usual}): "
        "rise less where it is hard to feed"
    )


def _plate_bends(flag: Flag, u: Units) -> str:
    """Return the sentence of `plate-bends`, by hard wood and dull edges."""
    return (
        f"the plate may bend by up to {u.fine(flag.value)}, more than {u.fine(flag.limit)} (the estimate is "
        f"{u.fine(flag.figure('usual'))}): keep the blade sharp, and feed slower where the cut wanders"
    )


def _off_the_fence(flag: Flag, u: Units) -> str:
    """Return the sentence of `off-the-fence`, where the sign is not known."""
    off, into = u.force(flag.value), u.force(flag.figure("into"))
    when = "as the blade enters or leaves the stock " if flag.has("steady") else ""
    said = f"{when}the force across is between {off} off the fence and {into} into it: the "
    if flag.has("second_fence_cut"):
        cut = u.length(flag.figure("second_fence_cut"))
        return (
            f"{said}sign is not known, and the blade would cut a second fence by {cut}; hold the work by featherboards "
            "clear of the blade, or cut the cove in wider stock"
        )
    return f"{said}sign is not known, hold the work from both sides"


def in_short(flags: tuple[Flag, ...]) -> str:
    """Return all of them in one sentence, for where there is little room; nothing where there are none."""
    names = [f"{flag.code.replace('-', ' ')} (pass {flag.number})" for flag in flags if flag.code != "off-the-fence"]
    return f"In hard wood with dull edges: {', '.join(names)}." if names else ""
