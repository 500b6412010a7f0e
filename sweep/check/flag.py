"""One thing to look at before cutting. Data, not an error: the run is complete all the same."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, assert_never, get_args

from sweep.figure import Named
from sweep.units import Kind

Code = Literal[
    "rise-large",
    "area-large",
    "chip-thick",
    "edge-rubs",
    "gullet-full",
    "power-high",
    "push-hard",
    "plate-bends",
    "last-pass-heavy",
    "single-pass",
    "off-the-fence",
    "fence-steep",
    "fence-cut",
    "second-fence-cut",
    "fence-off-table",
    "fence-short",
    "throat-tight",
    "stock-unsupported",
    "wood-above-thin",
    "shoulder-narrow",
    "contact-small",
    "no-flat",
    "strip-falls",
    "strip-trapped",
    "stock-short",
    "stock-narrow",
    "stock-thin",
    "stock-missed",
    "rim-fast",
    "piece-freed",
    "moisture-unknown",
    "gap-small",
    "lip-short",
    "finish-nothing",
    "finish-through",
    "finish-thin",
]

CODES: tuple[Code, ...] = get_args(Code)
"""Every code there is, in the order of the README's list."""


@dataclass(frozen=True)
class Flag:
    """One thing to look at before cutting: figures only; `sweep/show/say/flags.py` words them.

    Parameters
    ----------
    code : str
        Its short name, the same in every output.
    number : int or None
        The pass it belongs to; None when it belongs to the whole job.
    value, limit : float
        The figure and its limit, in the unit of `kind`.
    kind : Kind
        What both measure: a length, mm; an area, mm2; an angle, rad; a speed, mm/s; a rotation, rad/s; a force, N; a
        power, W; a share; a count.
    part : str
        The side, end, opening or operation it is about, as the scene names it; empty where there is but one.
    figures : pairs of name and Figure
        What else its sentence says: bands, and how far to go to be rid of it.
    may : bool
        Whether it is mild: only the far end of an estimate's band is past the limit.
    """

    code: Code
    number: int | None
    value: float
    limit: float
    kind: Kind
    part: str = ""
    figures: Named = ()
    may: bool = False

    @property
    def field(self) -> str:
        """The key that sets its limit or, where none does, the one to look at first; of each of several set-ups too."""
        return _field_of(self)

    def figure(self, name: str) -> float:
        """Return the value of one of its figures; raise KeyError where it has none of that name."""
        return dict(self.figures)[name].value

    def has(self, name: str) -> bool:
        """Return whether it has a figure of that name."""
        return name in dict(self.figures)


def _field_of(flag: Flag) -> str:
    match flag.code:
        case "rise-large":
            return "limits.rise"
        case "area-large":
            return "limits.area"
        case "chip-thick":
            return "limits.chip_thickness"
        case "edge-rubs":
            return "limits.thin_chip"
        case "gullet-full":
            return "limits.gullet_fill"
        case "power-high":
            return "saw.motor"
        case "push-hard":
            return "limits.push"
        case "plate-bends":
            return "limits.side_deflection"
        case "last-pass-heavy" | "single-pass":
            return "passes.heights"
        case "off-the-fence" | "fence-cut" | "fence-off-table" | "strip-trapped":
            return "setup.fence_side"
        case "second-fence-cut":
            return "stock.width"
        case "fence-steep":
            return "limits.fence_angle"
        case "fence-short":
            return "fence.length"
        case "throat-tight":
            return "saw.throat_length" if flag.part == "long" else "saw.throat_width"
        case "stock-unsupported":
            return f"saw.support_{flag.part}"
        case "wood-above-thin":
            return "limits.wood_above"
        case "shoulder-narrow":
            return "limits.shoulder"
        case "contact-small" | "no-flat":
            return "limits.contact"
        case "strip-falls" | "stock-missed" | "piece-freed":
            return "setup.offset"
        case "stock-short":
            return "limits.stock_length"
        case "stock-narrow":
            return "limits.stock_width"
        case "stock-thin":
            return "limits.stock_thickness"
        case "rim-fast":
            return "limits.rim_speed"
        case "moisture-unknown":
            return "stock.moisture"
        case "gap-small":
            return "panel.gap"
        case "lip-short":
            return "panel.lip"
        case "finish-nothing" | "finish-through":
            return "finish"
        case "finish-thin":
            return "limits.finish_wood"
        case _:
            assert_never(flag.code)
