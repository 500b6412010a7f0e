"""A solid panel that the moulding borders: the room it needs through the year, and whether the lip covers its edge."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.check.flag import Flag
from sweep.cut.movement import change_of_width
from sweep.cut.wood_table import wood_named
from sweep.errors import SceneError
from sweep.figure import length, named, share
from sweep.scene.model import Scene
from sweep.scene.panel import Panel
from sweep.units import LENGTH

COVER = 1.0
"""mm. Least lap of the lip that still hides the edge; our choice."""


@dataclass(frozen=True)
class PanelCheck:
    """What a panel does between the driest and the dampest time of the year.

    Parameters
    ----------
    panel : Panel
        As the scene has it.
    wood : str
        As the table of woods names it.
    density : float, kg/m3
    dry, damp : float, mm
        How much wider than when fitted the panel is at either end of the year; negative when narrower.
    edge_dry, edge_damp : float, mm
        How far each moving edge has gone outwards.
    gap_needed, lip_needed : float, mm
        Least room behind a moving edge, and least lap over it, on the day of fitting.
    gap_left : float or None, mm
        When the panel is dampest; None where the scene gives no gap.
    lap_left : float or None, mm
        When it is driest; negative where the edge has come out from under the lip.
    """

    panel: Panel
    wood: str
    density: float
    dry: float
    damp: float
    edge_dry: float
    edge_damp: float
    gap_needed: float
    lip_needed: float
    gap_left: float | None
    lap_left: float | None


def check_panel(scene: Scene) -> PanelCheck | None:
    """Return what the scene's panel does through the year, or None when it has none.

    Raises
    ------
    SceneError
        When nothing is known of how its wood moves.
    """
    panel = scene.panel
    if panel is None:
        return None
    wood = wood_named(panel.species)
    if wood is None or wood.movement is None:
        raise SceneError(
            "panel.species",
            f"nothing is known of how '{panel.species}' moves",
            "write one of the README's woods",
        )
    dry, damp = (
        change_of_width(wood, panel.grain, panel.width, panel.moisture_at_fitting, moisture)
        for moisture in panel.moisture
    )
    share = 0.5 if panel.fixed == "centre" else 1.0
    inwards, outwards = max(0.0, -share * dry), max(0.0, share * damp)
    return PanelCheck(
        panel=panel,
        wood=wood.name,
        density=wood.density,
        dry=dry,
        damp=damp,
        edge_dry=share * dry,
        edge_damp=share * damp,
        gap_needed=outwards,
        lip_needed=inwards + COVER,
        gap_left=None if panel.gap is None else panel.gap - outwards,
        lap_left=None if panel.lip is None else panel.lip - inwards,
    )


def flags_of_panel(scene: Scene) -> list[Flag]:
    """Return flags where the panel has too little room to swell, or shrinks out from under the lip."""
    found = check_panel(scene)
    if found is None:
        return []
    flags: list[Flag] = []
    panel, (low, high) = found.panel, found.panel.moisture
    if panel.gap is not None and found.gap_left is not None and found.gap_left < 0:
        damp = named(moisture=share(high))
        flags.append(Flag("gap-small", None, panel.gap, found.gap_needed, LENGTH, figures=damp))
    if panel.lip is not None and found.lap_left is not None and found.lap_left < COVER:
        dry = named(moisture=share(low), drawn_back=length(found.lip_needed - COVER))
        flags.append(Flag("lip-short", None, panel.lip, found.lip_needed, LENGTH, figures=dry))
    return flags
