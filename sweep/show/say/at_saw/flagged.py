"""Which flag stands on which screen of a phone at the saw, and which of them leave no cut to be made."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, assert_never

from sweep.check.flag import Code, Flag

Where = Literal["stock", "height", "fence", "guards", "cut", "fit", "finishing"]

BARRING: tuple[Code, ...] = ("rim-fast", "stock-short", "stock-narrow", "stock-thin", "fence-cut")
"""Flags in whose place no cut is shown: of the blade on this saw, of stock too small to be held, of a fence in the
blade's way. Nothing that is done at the saw mends them. A board that faces the fence does not either: the blade is
raised with the saw stopped, so it cannot cut its own way into one."""


def where_of(code: Code) -> Where:
    """Return on which screens a flag stands, beside the first, where all of them do."""
    match code:
        case "stock-short" | "stock-narrow" | "stock-thin" | "stock-missed" | "moisture-unknown":
            return "stock"
        case "wood-above-thin" | "shoulder-narrow" | "contact-small" | "no-flat":
            return "stock"
        case "rim-fast" | "throat-tight":
            return "height"
        case "fence-steep" | "fence-cut" | "fence-off-table" | "fence-short":
            return "fence"
        case "second-fence-cut" | "off-the-fence" | "stock-unsupported":
            return "guards"
        case "rise-large" | "area-large" | "chip-thick" | "edge-rubs" | "gullet-full" | "power-high" | "push-hard":
            return "cut"
        case "plate-bends" | "last-pass-heavy" | "single-pass" | "strip-falls" | "strip-trapped" | "piece-freed":
            return "cut"
        case "gap-small" | "lip-short":
            return "fit"
        case "finish-nothing" | "finish-through" | "finish-thin":
            return "finishing"
        case other:
            assert_never(other)


def at(flags: Iterable[Flag], where: Where) -> tuple[Flag, ...]:
    """Return the flags that stand there, those of the whole job only."""
    return tuple(flag for flag in flags if flag.number is None and where_of(flag.code) == where)


def of_pass(flags: Iterable[Flag], number: int) -> tuple[Flag, ...]:
    """Return the flags of a pass, and those of the whole job that are about cutting."""
    return tuple(
        flag for flag in flags if flag.number == number or (flag.number is None and where_of(flag.code) == "cut")
    )


def of_finishing(flags: Iterable[Flag], number: int) -> tuple[Flag, ...]:
    """Return the flags of an operation after the cove."""
    return tuple(flag for flag in at(flags, "finishing") if flag.figure("number") == number)


def barring(flags: Iterable[Flag]) -> tuple[Flag, ...]:
    """Return the flags in whose place no cut is shown."""
    return tuple(flag for flag in flags if flag.code in BARRING)
