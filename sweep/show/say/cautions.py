"""The cautions, and no other file words one: on a line, in a sentence, in a paragraph, as a list, with public rules.

Read, in copies of the texts: 29 CFR 1910.213 (a)(6), (a)(15) and (s)(1); 1910.147 (a)(2)(iii)(A); 1910.95; HSE on wood
dust and its limits (hse.gov.uk). Read in part: 1910.213 (c)(1) and (c)(2), as a record of an inspection has them; the
beginning of HSE Woodworking Sheet 16 (revision 2), and its sentence on stopped grooves as a maker quotes it in a forum
(ukworkshop.co.uk, thread 81630), not in the sheet itself. Known by title only: 1910.132 and 1910.133; PUWER 1998
regulation 11 with HSE L114 (second edition, 2014). The rest is common practice of the trade. Rules change and differ
from place to place: the sheet says that they must be looked up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:  # `sweep --help` says one of them, and reads no scene
    from sweep.cut.fence import FenceLayout
    from sweep.scene.model import WholeScene
    from sweep.units import Units

LINE = "Simulation, not permission to cut."
"""For the foot of a picture, and the head of the page."""

SENTENCE = "A simulation, not permission to cut: the makers' manuals, local rules and qualified instruction come first."
"""For the foot of the sheet and of the window, and for `sweep --help`."""

TO_SET = "Unplug the saw to set it up."
"""For a picture by which the saw is set."""

IF_FORCED = (
    "Switch off, wait, lower the blade, find out why: too high, too fast, dull, or binding. Nobody pushes harder or "
    "draws the work back over a turning blade."
)
"""For the order of work: what to do when the work does not go by itself."""

PARAGRAPH = (
    "This is a simulation, not permission to cut. Wood varies, and figures of force and power are estimates. "
    "An oblique cut over a table saw is outside what many saws are made for: follow the makers' manuals, your "
    "local rules and qualified instruction; secure the fence on both sides of the table, keep hands clear with "
    "push blocks, use a guard or a cage of featherboards where the usual guard cannot be fitted, and never stand "
    "in line with the work."
)
"""For the end of what a command prints, and for the page."""

RULES = (
    "US: 29 CFR 1910.213 (a)(6) fences; (a)(15) featherboards or jigs where the guard cannot be used; (c)(1) hood and "
    "(c)(2) spreader of a hand-fed ripsaw; (s)(1) dull saws; 1910.147 (a)(2)(iii)(A) the plug; 1910.132, .133 and .95 "
    "protection, eyes, noise.",
    "Great Britain: PUWER 1998 regulation 11 with HSE L114; HSE Woodworking Sheet 16 on circular saw benches; COSHH "
    "2002, dust (8 h: 3 mg/m3 hardwood or mixed, 5 mg/m3 softwood).",
    "Named to be looked up as they stand where you work; they are no list of all that applies.",
)


Key = Literal[
    "ask", "plug", "guard", "hands", "aside", "lungs", "sound", "small", "stopped"
]  # fmt: skip


@dataclass(frozen=True)
class Caution:
    """One caution.

    Parameters
    ----------
    key : Key
        By which a step of the order of work names it.
    name, words : str
        The words that it is known by, and the rest; together they are sentences.
    """

    key: Key
    name: str
    words: str


def cautions(scene: WholeScene, layout: FenceLayout, units: Units) -> tuple[Caution, ...]:
    """Return the cautions of a set-up: those of an oblique cut or of a rip, and of a stopped cut where one is."""
    held = "fences on both sides" if layout.has_second else "the fence"
    told = [
        _ask(scene),
        Caution(
            "stopped",
            "A stopped cut",
            "should not be made on a circular saw: HSE Woodworking Sheet 16 is quoted so of stopped grooves, and names "
            "spindle moulder and router instead. Never lift the stock off a turning blade, never draw it back.",
        ),
        Caution(
            "plug",
            "Unplug to set.",
            "Plug out and in your sight for fence, blade, throat plate, guard and height, and whenever a hand or a "
            "rule comes to the blade.",
        ),
        *(_of_a_rip() if scene.feed.along_blade else _of_an_oblique_cut(held)),
        Caution(
            "aside",
            "Stand aside",
            "of the line of the work and of the blade. Carry the far end on stands; nobody pulls.",
        ),
        Caution(
            "lungs",
            "Eyes, ears, lungs.",
            "Eye and ear protection on, dust drawn off at the saw, a mask for what is left. No gloves, nothing loose.",
        ),
        Caution(
            "sound",
            "Sound wood, sharp blade.",
            "No loose knots, nails or shakes. The blade never faster than it is marked for; a dull or gummed one goes "
            "out of use at once.",
        ),
        Caution(
            "small",
            "Nothing small.",
            f"Only stock at least {units.tape(scene.limits.stock_length)} long, {units.tape(scene.limits.stock_width)} "
            f"wide and {units.tape(scene.limits.stock_thickness)} thick passes over the blade; cut to size afterwards. "
            "Set-up blocks are for the unplugged saw.",
        ),
    ]
    return tuple(one for one in told if one.key != "stopped" or scene.passes.stop_short)


def _ask(scene: WholeScene) -> Caution:
    oblique = "" if scene.feed.along_blade else " Many saws are not made for an oblique cut: ask the maker's manual."
    means = "A moulding machine, a guarded spindle moulder or a router may be the better means."
    return Caution("ask", "Ask first.", f"{means}{oblique}")


def _of_an_oblique_cut(held: str) -> tuple[Caution, ...]:
    return (
        Caution(
            "guard",
            "Guard and riving knife",
            f"cannot be used as usual: the cut is not through the wood and crosses the blade's plane. In their place: "
            f"{held}, featherboards, a fixed cage or cover over the blade, push blocks.",
        ),
        Caution(
            "hands",
            "Hands never over the blade.",
            "It is below the wood, and comes out as the end goes by. Push blocks; nobody reaches behind. Never set "
            "stock down onto a turning blade.",
        ),
    )


def _of_a_rip() -> tuple[Caution, ...]:
    return (
        Caution(
            "guard",
            "Guard and riving knife",
            "stay on wherever the cut goes right through. Where it does not, a riving knife no higher than the teeth "
            "stays on, and a cover over the blade takes the guard's place.",
        ),
        Caution(
            "hands",
            "Hands never over the blade,",
            "nor behind it. Push stick and push block; nobody reaches for what is sawn off before the blade stands "
            "still.",
        ),
    )
