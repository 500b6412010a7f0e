"""The cautions, and no other file words one: on a line, in a sentence, in a paragraph, as a list, with public rules.

Read, in copies of the texts: 29 CFR 1910.213 (a)(6), (a)(15) and (s)(1); 1910.147 (a)(2)(iii)(A); 1910.95; HSE on wood
dust and its limits (hse.gov.uk). Read in part: 1910.213 (c)(1) and (c)(2), as a record of an inspection has them; the
beginning of HSE Woodworking Sheet 16 (revision 2). Known by title only: 1910.132 and 1910.133; PUWER 1998 regulation 11
with HSE L114 (second edition, 2014). The rest is common practice of the trade. Rules change and
differ from place to place: the sheet says that they must be looked up.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

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


def cautions(scene: WholeScene, layout: FenceLayout, units: Units) -> list[tuple[str, str]]:
    """Return the cautions, each with the words that it is known by; no second fence where the blade would cut it."""
    has_second = layout.has_second
    return [
        (
            "Ask first.",
            "A moulding machine, a guarded spindle moulder or a router may be the better means. An oblique cut is "
            "outside what many saws are made for: ask the maker's manual.",
        ),
        (
            "Unplug to set.",
            "Plug out and in your sight for every change of fence, blade, throat plate or guard. Between passes stop "
            "the saw, let the blade come to rest, then raise it a little.",
        ),
        (
            "Guard and riving knife",
            "cannot be used as usual: the cut is not through the wood and crosses the blade's plane. In their place: "
            f"{'fences on both sides' if has_second else 'the fence'}, featherboards that hold the work down, a fixed "
            "cage or cover over the blade, push blocks. Put both back at once afterwards.",
        ),
        (
            "Fences both sides,",
            "clamped at both ends so that neither can shift, the stock sliding between them without play and "
            "without binding.",
        )
        if has_second
        else (
            "No second fence:",
            "the blade would cut it. Clamp the fence at both ends so that it cannot shift; featherboards clear of the "
            "blade hold the work to it.",
        ),
        (
            "Hands never over the blade.",
            "It is below the wood, and comes out as the end goes by. Push blocks; nobody reaches behind. Never set "
            "stock down onto a turning blade.",
        ),
        (
            "If it has to be forced, stop.",
            "Switch off, wait, lower the blade, find out why: too high, too fast, dull, or binding. A dull or gummed "
            "blade goes out of use at once.",
        ),
        (
            "Stand aside",
            "of the line of the work and of the blade. Carry the far end on stands; nobody pulls.",
        ),
        (
            "Eyes, ears, lungs.",
            "Eye and ear protection on, dust drawn off at the saw, a mask for what is left. No gloves, nothing loose.",
        ),
        (
            "Sound wood, sharp blade.",
            "No loose knots, nails or shakes. The blade never faster than it is marked for.",
        ),
        (
            "Nothing small.",
            f"Only stock at least {units.tape(scene.limits.stock_length)} long, {units.tape(scene.limits.stock_width)} "
            f"wide and {units.tape(scene.limits.stock_thickness)} thick passes over the blade; cut to size afterwards. "
            "Set-up blocks are for the unplugged saw.",
        ),
    ]
