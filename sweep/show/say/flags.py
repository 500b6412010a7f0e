"""Every flag in words: what is wrong and what to do, in one sentence, in the maker's units."""

from __future__ import annotations

from typing import Any, assert_never

from sweep.check.flag import Flag
from sweep.show.say import flags_of_fence as fence
from sweep.show.say import flags_of_finish as finish
from sweep.show.say import flags_of_passes as passes
from sweep.show.say import flags_of_stock as stock
from sweep.show.say.may_exceed import mild_sentence
from sweep.units import Units


def sentence_of(flag: Flag, units: Units) -> str:
    """Return a flag's sentence, without a full stop: what is wrong, a colon, what to do."""
    if flag.may:
        return mild_sentence(flag, units)
    match flag.code:
        case "rise-large":
            return passes.rise_large(flag, units)
        case "area-large":
            return passes.area_large(flag, units)
        case "chip-thick":
            return passes.chip_thick(flag, units)
        case "edge-rubs":
            return passes.edge_rubs(flag, units)
        case "gullet-full":
            return passes.gullet_full(flag, units)
        case "power-high":
            return passes.power_high(flag, units)
        case "push-hard":
            return passes.push_hard(flag, units)
        case "plate-bends":
            return passes.plate_bends(flag, units)
        case "last-pass-heavy":
            return passes.last_pass_heavy(flag, units)
        case "single-pass":
            return passes.single_pass(flag, units)
        case "off-the-fence":
            return fence.off_the_fence(flag, units)
        case "fence-steep":
            return fence.fence_steep(flag, units)
        case "fence-cut":
            return fence.fence_cut(flag, units)
        case "second-fence-cut":
            return fence.second_fence_cut(flag, units)
        case "fence-off-table":
            return fence.fence_off_table(flag, units)
        case "fence-short":
            return fence.fence_short(flag, units)
        case "throat-tight":
            return fence.throat_tight(flag, units)
        case "stock-unsupported":
            return fence.stock_unsupported(flag, units)
        case "wood-above-thin":
            return stock.wood_above_thin(flag, units)
        case "shoulder-narrow":
            return stock.shoulder_narrow(flag, units)
        case "contact-small":
            return stock.contact_small(flag, units)
        case "no-flat":
            return stock.no_flat(flag, units)
        case "strip-falls":
            return stock.strip_falls(flag, units)
        case "strip-trapped":
            return stock.strip_trapped(flag, units)
        case "stock-short":
            return stock.stock_short(flag, units)
        case "stock-narrow":
            return stock.stock_narrow(flag, units)
        case "stock-thin":
            return stock.stock_thin(flag, units)
        case "stock-missed":
            return stock.stock_missed(flag, units)
        case "rim-fast":
            return stock.rim_fast(flag, units)
        case "piece-freed":
            return stock.piece_freed(flag, units)
        case "moisture-unknown":
            return stock.moisture_unknown(flag, units)
        case "gap-small":
            return finish.gap_small(flag, units)
        case "lip-short":
            return finish.lip_short(flag, units)
        case "finish-nothing":
            return finish.finish_nothing(flag, units)
        case "finish-through":
            return finish.finish_through(flag, units)
        case "finish-thin":
            return finish.finish_thin(flag, units)
        case _:
            assert_never(flag.code)


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


def listed_flags(flags: tuple[Flag, ...], units: Units, job: str = "job") -> list[dict[str, Any]]:
    """Return flags as lines of a list, each with its code and what it belongs to: a pass, or what is said for the job.

    Those of the whole job come first, mild ones last.
    """
    listed = []
    for flag in sorted(flags, key=lambda flag: (flag.may, 0 if flag.may else flag.number or 0)):
        of = job if flag.number is None else owner_of(flag)
        told = f"? {of}" if flag.may else f"{of[0].upper()}{of[1:]}"
        listed.append({"of": of, "code": flag.code, "line": f"{told}: {sentence_of(flag, units)}.", "mild": flag.may})
    return listed


def flag_words(flags: tuple[Flag, ...], units: Units) -> list[dict[str, str]]:
    """Return flags as codes and sentences, for files and pages."""
    return [{"code": flag.code, "message": sentence_of(flag, units)} for flag in flags]
