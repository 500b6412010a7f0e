"""Cabinet woods: density, and the constants of the cutting force by the direction to the grain.

Densities are 1120 times the specific gravity at 12 % moisture (oven-dry weight, volume at 12 %: the
definition in the Wood Handbook, FPL-GTR-282, ch. 4). Each row says where its specific gravity was read, or
that it is from memory of the handbook's table 4-3b. Four woods have force constants of their own: Ettelt's
(1987), from *Zerspanung von Holz und Holzwerkstoffen*, 2nd ed. 2023, p. 120, as quoted on FreeCAD's machining
material cards HardWood and SoftWood (read there, not in the book). The others take them in proportion to
density, which is our own step: density foretells cutting force only roughly.
"""

from __future__ import annotations

from dataclasses import dataclass

from sweep.scene.sections import Stock

PER_DENSITY = (44.0, 15.0, 10.0)
"""N/mm^1.5 for each g/cm3: Ettelt's constants over the densities on the cards, 0.75 and 0.5 g/cm3."""

SCATTER = 0.35
"""Share by which wood and edges of one species scatter: half the width of Ettelt's ranges for oak and pine."""

COPIED = "read in a copy of the handbook's table that names no edition"
MEMORY = "from memory"


@dataclass(frozen=True)
class Wood:
    """One wood at about 12 % moisture.

    Parameters
    ----------
    name : str
    gravity : float
        Specific gravity at 12 %.
    source : str
        Of the specific gravity.
    constants : (float, float, float), N/mm^1.5
        Edge and motion across the grain; motion along it; edge along it.
    measured : bool
        Whether the constants are published for this wood, not taken from its density.
    """

    name: str
    gravity: float
    source: str
    constants: tuple[float, float, float]
    measured: bool

    @property
    def density(self) -> float:
        """kg/m3 at 12 % moisture."""
        return 1120 * self.gravity


def _wood(name: str, gravity: float, source: str, constants: tuple[float, float, float] | None = None) -> Wood:
    by_density = tuple(round(k * 1.12 * gravity, 2) for k in PER_DENSITY)
    return Wood(name, gravity, source, constants or by_density, constants is not None)


OAK, BEECH, PINE, SPRUCE = (33.0, 10.0, 7.0), (33.0, 12.0, 7.5), (22.5, 7.5, 5.0), (21.5, 9.0, 6.0)
"""Ettelt's constants, for European species; the middle of his range where he gives one."""

WOODS = (
    _wood("white oak", 0.68, MEMORY, OAK),
    _wood("red oak", 0.63, MEMORY, OAK),
    _wood("beech", 0.64, COPIED, BEECH),
    _wood("white ash", 0.60, COPIED),
    _wood("hard maple", 0.63, MEMORY),
    _wood("yellow birch", 0.62, COPIED),
    _wood("black cherry", 0.50, COPIED),
    _wood("black walnut", 0.55, MEMORY),
    _wood("mahogany", 0.45, "from memory, and doubtful"),
    _wood("yellow poplar", 0.42, MEMORY),
    _wood("white pine", 0.35, MEMORY, PINE),
    _wood("Sitka spruce", 0.40, "read in UFC 3-130-04, table 2-2, citing the handbook", SPRUCE),
)


def wood_of(stock: Stock) -> Wood | None:
    """Return the wood of a scene's stock, or None when nothing is known of it.

    A density given in the scene goes before the table; else the first row whose name holds the last word
    of the species, or the whole of it: ``cherry`` and ``American black cherry`` are both black cherry.
    """
    name = stock.species.lower().replace("-", " ").strip()
    row = next((wood for wood in WOODS if wood.name.lower() == name), None)
    row = row or next((wood for wood in WOODS if name.split()[-1:] == wood.name.lower().split()[-1:]), None)
    if stock.density is not None:
        gravity = stock.density / 1120
        return Wood(stock.species, gravity, "given in the scene", tuple(k * 1.12 * gravity for k in PER_DENSITY), False)
    return row
