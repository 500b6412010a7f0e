"""What a panel does through the year, in sentences."""

from __future__ import annotations

from sweep.check.panel import PanelCheck
from sweep.scene.order import Order
from sweep.units import Units


def panel_sentences(panel: PanelCheck, order: Order | None, units: Units) -> list[str]:
    """Return what the panel does through the year, what it needs, and what is left of what it has."""
    wanted = panel.panel
    low, high = (f"{100 * moisture:.3g} %" for moisture in wanted.moisture)
    sawn = "flat-sawn" if wanted.grain == "tangential" else "quarter-sawn"
    edges = "each edge by half of it" if wanted.fixed == "centre" else "all of it at the one edge"
    width, fitted = units.length(wanted.width), f"{100 * wanted.moisture_at_fitting:.3g} %"
    said = [
        f"Panel taken as {panel.wood}, {units.density(panel.density)}; {sawn}, {width} wide at {fitted} moisture: "
        f"{_more(panel.dry, units)} at {low}, {_more(panel.damp, units)} at {high}, {edges}.",
        f"When fitted it needs a gap of at least {units.length(panel.gap_needed)} behind a moving edge and a lip of at "
        f"least {units.length(panel.lip_needed)} over it.",
    ]
    has = []
    if panel.gap_left is not None:
        has.append(f"of the gap {units.length(panel.gap_left)} is left at {high}")
    if panel.lap_left is not None:
        has.append(f"of the lip {units.length(panel.lap_left)} still covers the edge at {low}")
    if has:
        said.append(f"{' and '.join(has).capitalize()}.")
    stray = "less" if wanted.grain == "tangential" else "more"
    said.append(
        f"Movement is the handbook's average for the species: one board may stray from it, one not quite {sawn} moves "
        f"{stray}."
    )
    rest = "its middle" if wanted.fixed == "centre" else "the fixed edge"
    said.append(
        f"Never glue the moulding across the panel's grain{_across(panel, order)}: the panel moves and it does not. "
        f"Fix it to the case, or to the panel at {rest} alone, and let the rest slide (common practice)."
    )
    return said


def _across(panel: PanelCheck, order: Order | None) -> str:
    """Return which sides of the moulding run across the panel's grain, where the rectangle tells."""
    if order is None or order.rectangle is None:
        return ""
    front, side = (abs(length - panel.panel.width) for length in order.rectangle)
    if front == side:
        return ""
    if front < side:
        return " (the front and the back)" if order.sides == 4 else " (the front)"
    return " (the left and the right side)"


def _more(change: float, units: Units) -> str:
    return f"{units.length(abs(change))} {'narrower' if change < 0 else 'wider'}"
