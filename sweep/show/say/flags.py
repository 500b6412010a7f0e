"""Every flag in words: what is wrong and what to do, in one sentence, in the maker's units."""

from __future__ import annotations

from collections.abc import Callable

from sweep.check.flag import Code, Flag
from sweep.show.say import flags_of_passes as passes
from sweep.show.say.may_exceed import SENTENCES as MAY
from sweep.units import ROTATION, Units, degrees, rpm

_OTHER_SIDE = {"near": "far", "far": "operator's"}


def sentence_of(flag: Flag, units: Units) -> str:
    """Return a flag's sentence, without a full stop: what is wrong, a colon, what to do."""
    return (MAY if flag.may else SENTENCES)[flag.code](flag, units)


def flag_line(flag: Flag, units: Units) -> str:
    """Return a flag on a line of its own, with what it belongs to and its code."""
    return f"{'?' if flag.may else '!'} {owner_of(flag)}: {sentence_of(flag, units)}. ({flag.code})"


def owner_of(flag: Flag) -> str:
    """Return what a flag belongs to: the whole job, or a pass."""
    return "job" if flag.number is None else f"pass {flag.number}"


def names_of(flags: tuple[Flag, ...]) -> tuple[str, ...]:
    """Return the codes of flags as words, each once, for where there is no room for sentences."""
    return tuple(dict.fromkeys(flag.code.replace("-", " ") for flag in flags))


def in_a_line(flags: tuple[Flag, ...], mild: tuple[Flag, ...], most: int) -> str:
    """Return the names of flags and of mild ones in one line, of either kind as many as there is room for."""
    strict, possible = (
        ", ".join(names[:most]) + ", ..." * (len(names) > most) for names in map(names_of, (flags, mild))
    )
    return (strict or "nothing flagged") + (f"   mild: {possible}" if possible else "")


def owned_flags(flags: tuple[Flag, ...], units: Units, job: str = "job") -> list[dict[str, str]]:
    """Return flags as codes and sentences, each with what it belongs to: `job`, or a pass."""
    owners = [job if flag.number is None else owner_of(flag) for flag in flags]
    return [{"of": owner, **words} for owner, words in zip(owners, flag_words(flags, units), strict=True)]


def flag_words(flags: tuple[Flag, ...], units: Units) -> list[dict[str, str]]:
    """Return flags as codes and sentences, for files and pages."""
    return [{"code": flag.code, "message": sentence_of(flag, units)} for flag in flags]


def _stock_short(flag: Flag, u: Units) -> str:
    return (
        f"the stock is {u.length(flag.value)} long, too short to pass safely under {u.length(flag.limit)}: cut the "
        "cove on a longer piece and crosscut afterwards"
    )


def _stock_narrow(flag: Flag, u: Units) -> str:
    return (
        f"the stock is {u.length(flag.value)} wide, too narrow to be held over the blade under {u.length(flag.limit)}: "
        "cut the cove on a wider board and rip it to width afterwards"
    )


def _stock_thin(flag: Flag, u: Units) -> str:
    return (
        f"the stock is {u.length(flag.value)} thick, too thin to be held over the blade under {u.length(flag.limit)}: "
        "cut the cove in a thicker board and take the back down afterwards"
    )


def _stock_missed(flag: Flag, u: Units) -> str:
    passes_by = f"passes {u.length(flag.value)} beside the stock" if flag.value > 0 else "only touches the stock"
    if flag.part == "at":
        return f"the blade {passes_by} and cuts nothing: move it, or make it before the set-up that took the wood"
    return f"the blade {passes_by} and cuts nothing: mend setup.offset, or the stock's width"


def _rim_fast(flag: Flag, u: Units) -> str:
    if flag.kind == ROTATION:
        return (
            f"the saw turns at {rpm(flag.value):.0f} rpm and the blade is marked for {rpm(flag.limit):.0f} rpm: "
            "do not run this blade on this saw"
        )
    return (
        f"the rim runs at {u.rim_speed(flag.value)}, above {u.rim_speed(flag.limit)}: "
        "use a smaller blade, or a slower saw, and look up what the blade is marked for"
    )


def _piece_freed(flag: Flag, u: Units) -> str:
    return (
        f"the cut leaves {flag.value:.0f} separate pieces, the smallest of {u.volume(flag.figure('smallest'))}, which "
        "the blade can throw: move the cut, or leave a strip that holds them together"
    )


def _moisture_unknown(flag: Flag, u: Units) -> str:
    return (
        f"at {100 * flag.value:.0f} % moisture forces and power are not known: their constants are for about 12 %, "
        "and are shown unchanged; dry the wood, or trust the figures less"
    )


def _off_the_fence(flag: Flag, u: Units) -> str:
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


def _fence_steep(flag: Flag, u: Units) -> str:
    return (
        f"the fence stands at {degrees(flag.value):.2f} deg to the blade, more than {degrees(flag.limit):g} deg, so "
        "the stock goes into the blade's side rather than along it and the plate is pushed aside: take a smaller "
        "angle, with a larger blade where the cove must stay as wide"
    )


def _fence_cut(flag: Flag, u: Units) -> str:
    return (
        f"the blade reaches {u.length(flag.value)} into the fence: set the fence on the stock's other side where the "
        "blade keeps clear of it, or cut wider stock and rip the rest off afterwards"
    )


def _second_fence_cut(flag: Flag, u: Units) -> str:
    return (
        f"the blade reaches {u.length(flag.value)} beyond the stock's other edge: set no second fence there and keep "
        "featherboards clear of the blade, or cut the cove in wider stock and rip the rest off afterwards"
    )


def _fence_off_table(flag: Flag, u: Units) -> str:
    return (
        f"beside the cut {u.length(flag.value)} of the fence has no table under it: set it on the "
        f"{_OTHER_SIDE[flag.part]} side of the blade, or fix a board level with the table there"
    )


def _fence_short(flag: Flag, u: Units) -> str:
    return (
        f"a fence {u.length(flag.value)} long cannot be clamped at both edges of the table: take one at least "
        f"{u.length(flag.limit)} long"
    )


def _throat_tight(flag: Flag, u: Units) -> str:
    return (
        f"the opening of the throat plate is {u.length(flag.value)} {flag.part}, and the blade needs "
        f"{u.length(flag.limit)} through a plate {u.length(flag.figure('throat_thickness'))} thick: fit a plate with a "
        "larger opening before the blade is raised"
    )


def _stock_unsupported(flag: Flag, u: Units) -> str:
    when = {"before": "as a pass begins", "after": "as a pass ends"}[flag.part]
    return (
        f"{when} the middle of the stock is {u.length(flag.value)} beyond the table's edge, and supports reach "
        f"{u.length(flag.limit)}: set stands or rollers further out (saw.support_{flag.part}), or cut shorter stock"
    )


def _wood_above_thin(flag: Flag, u: Units) -> str:
    return (
        f"{u.length(flag.value)} of wood is left above the cove, less than {u.length(flag.limit)}: take thicker "
        "stock, or a shallower cove"
    )


def _shoulder_narrow(flag: Flag, u: Units) -> str:
    return (
        f"{u.length(flag.value)} of flat is left to ride on the table on the {flag.part} (looking along the feed), "
        f"less than {u.length(flag.limit)}: cut the cove in wider stock and rip the rest off afterwards"
    )


def _contact_small(flag: Flag, u: Units) -> str:
    return (
        f"in all {u.length(flag.value)} of flat is left to ride on the table beside the cove, less than "
        f"{u.length(flag.limit)}: the stock can rock; cut the cove on a wider board and rip it to width afterwards"
    )


def _no_flat(flag: Flag, u: Units) -> str:
    return (
        f"nothing flat is left to ride on the table on the {flag.part} of the cut (looking along the feed): make this "
        "set-up before the one that takes it, leave runners on both edges and rip them off last, or screw the stock "
        "to a carrier"
    )


def _strip_falls(flag: Flag, u: Units) -> str:
    return (
        f"a strip {_size(flag, u)} falls off beside the turning blade, which can catch and throw it: stand aside, let "
        "the saw come to rest before it is taken away, or turn the strip into shavings by more passes"
    )


def _strip_trapped(flag: Flag, u: Units) -> str:
    return (
        f"a strip {_size(flag, u)} falls off between the blade and the fence, where it is pinched and thrown back: "
        "set the fence on the other side of the stock, or turn the stock end for end"
    )


def _size(flag: Flag, u: Units) -> str:
    return f"{u.length(flag.figure('width'))} wide and {u.length(flag.figure('height'))} high"


def _gap_small(flag: Flag, u: Units) -> str:
    return (
        f"at {100 * flag.figure('moisture'):.3g} % moisture the panel's edge moves out {u.length(flag.limit)} and the "
        f"gap behind it is {u.length(flag.value)}: it would burst the frame or split; leave more room"
    )


def _lip_short(flag: Flag, u: Units) -> str:
    return (
        f"at {100 * flag.figure('moisture'):.3g} % moisture the panel's edge draws back "
        f"{u.length(flag.figure('drawn_back'))} and the lip laps over it {u.length(flag.value)} when fitted: let it "
        f"lap at least {u.length(flag.limit)}"
    )


def _finish_nothing(flag: Flag, u: Units) -> str:
    return f"{_operation(flag)} takes nothing: move it, or leave it out"


def _finish_through(flag: Flag, u: Units) -> str:
    return (
        f"{_operation(flag)} breaks into the cove and takes {u.length(flag.value)} of its line: make it smaller, or "
        "move it"
    )


def _finish_thin(flag: Flag, u: Units) -> str:
    return (
        f"{_operation(flag)} leaves {u.length(flag.value)} of wood behind the face it cuts, less than "
        f"{u.length(flag.limit)}: make it smaller, or move it"
    )


def _operation(flag: Flag) -> str:
    piece = f", piece {flag.figure('piece'):.0f}" if flag.has("piece") else ""
    return f"finish {flag.figure('number'):.0f} ({flag.part}{piece})"


SENTENCES: dict[Code, Callable[[Flag, Units], str]] = {
    "rise-large": passes.rise_large,
    "area-large": passes.area_large,
    "chip-thick": passes.chip_thick,
    "edge-rubs": passes.edge_rubs,
    "gullet-full": passes.gullet_full,
    "power-high": passes.power_high,
    "push-hard": passes.push_hard,
    "plate-bends": passes.plate_bends,
    "last-pass-heavy": passes.last_pass_heavy,
    "single-pass": passes.single_pass,
    "off-the-fence": _off_the_fence,
    "fence-steep": _fence_steep,
    "fence-cut": _fence_cut,
    "second-fence-cut": _second_fence_cut,
    "fence-off-table": _fence_off_table,
    "fence-short": _fence_short,
    "throat-tight": _throat_tight,
    "stock-unsupported": _stock_unsupported,
    "wood-above-thin": _wood_above_thin,
    "shoulder-narrow": _shoulder_narrow,
    "contact-small": _contact_small,
    "no-flat": _no_flat,
    "strip-falls": _strip_falls,
    "strip-trapped": _strip_trapped,
    "stock-short": _stock_short,
    "stock-narrow": _stock_narrow,
    "stock-thin": _stock_thin,
    "stock-missed": _stock_missed,
    "rim-fast": _rim_fast,
    "piece-freed": _piece_freed,
    "moisture-unknown": _moisture_unknown,
    "gap-small": _gap_small,
    "lip-short": _lip_short,
    "finish-nothing": _finish_nothing,
    "finish-through": _finish_through,
    "finish-thin": _finish_thin,
}
"""One function a code; a test holds them to be all there are."""
