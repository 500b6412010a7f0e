"""Cabinet woods: density, movement with moisture, and the constants of the cutting force by direction to the grain.

Densities are 1120 times the specific gravity at 12 % moisture (oven-dry weight, volume at 12 %: the
definition in the Wood Handbook, FPL-GTR-282, ch. 4). Each row says where its specific gravity was read, or
that it is from memory of the handbook's table 4-3b. Four woods have force constants of their own: Ettelt's
(1987), from *Zerspanung von Holz und Holzwerkstoffen*, 2nd ed. 2023, p. 120, as quoted on FreeCAD's machining
material cards HardWood and SoftWood (read there, not in the book). The others take them in proportion to
density, which is our own step: density foretells cutting force only roughly.
"""

from __future__ import annotations

from dataclasses import dataclass

from sweep.scene.keys import Stock

PER_DENSITY = (44.0, 15.0, 10.0)
"""N/mm^1.5 for each g/cm3: Ettelt's constants over the densities on the cards, 0.75 and 0.5 g/cm3."""

MOISTURE = (0.06, 0.14)
"""Moisture for which the constants are taken to hold: that of wood dried for indoors, about 12 %. Green oak cuts with
less force (Beljo-Lucic and others, *Influence of wood moisture content on circular rip-sawing*: summary read, which
has no figures)."""

SCATTER = 0.35
"""Share by which wood and edges of one species scatter: half the width of Ettelt's ranges for oak and pine."""

COPIED = "read in a copy of the handbook's table that names no edition"
MEMORY = "from memory"
DOUBTFUL = "from memory, and doubtful"
READ = "read in a copy of the handbook's tables 4-3 and 13-5"
PARTLY = "movement read in a copy of table 13-5, shrinkage from memory"
SHRINKAGE_READ = "shrinkage read in a copy of table 4-3, movement from memory"


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
    movement : (float, float) or None
        Change of size for each per cent of moisture from 6 to 14 %, radial and tangential, of the size at hand
        (Wood Handbook, eq. 13-2 and table 13-5).
    shrinkage : (float, float) or None
        From green to oven-dry, per cent, radial and tangential (Wood Handbook, table 4-3).
    moved : str
        Source of both.
    """

    name: str
    gravity: float
    source: str
    constants: tuple[float, float, float]
    measured: bool
    movement: tuple[float, float] | None = None
    shrinkage: tuple[float, float] | None = None
    moved: str = ""

    @property
    def density(self) -> float:
        """kg/m3 at 12 % moisture."""
        return 1120 * self.gravity


def _wood(
    name: str,
    gravity: float,
    source: str,
    movement: tuple[float, float],
    shrinkage: tuple[float, float],
    moved: str,
    constants: tuple[float, float, float] | None = None,
) -> Wood:
    by_density = tuple(round(k * 1.12 * gravity, 2) for k in PER_DENSITY)
    return Wood(name, gravity, source, constants or by_density, constants is not None, movement, shrinkage, moved)


OAK, BEECH, PINE, SPRUCE = (33.0, 10.0, 7.0), (33.0, 12.0, 7.5), (22.5, 7.5, 5.0), (21.5, 9.0, 6.0)
"""Ettelt's constants, for European species; the middle of his range where he gives one."""

WOODS = (
    _wood("white oak", 0.68, MEMORY, (0.00180, 0.00365), (5.6, 10.5), READ, OAK),
    _wood("red oak", 0.63, MEMORY, (0.00158, 0.00369), (4.0, 8.6), PARTLY, OAK),
    _wood("beech", 0.64, COPIED, (0.00190, 0.00431), (5.5, 11.9), READ, BEECH),
    _wood("white ash", 0.60, COPIED, (0.00169, 0.00274), (4.9, 7.8), READ),
    _wood("hard maple", 0.63, MEMORY, (0.00165, 0.00353), (4.8, 9.9), PARTLY),
    _wood("yellow birch", 0.62, COPIED, (0.00256, 0.00338), (7.3, 9.5), READ),
    _wood("black cherry", 0.50, COPIED, (0.00126, 0.00248), (3.7, 7.1), READ),
    _wood("black walnut", 0.55, MEMORY, (0.00190, 0.00274), (5.5, 7.8), READ),
    _wood("mahogany", 0.45, DOUBTFUL, (0.00172, 0.00238), (3.0, 4.1), DOUBTFUL),
    _wood("yellow poplar", 0.42, MEMORY, (0.00158, 0.00289), (4.6, 8.2), SHRINKAGE_READ),
    _wood("white pine", 0.35, MEMORY, (0.00071, 0.00212), (2.1, 6.1), MEMORY, PINE),
    _wood(
        "Sitka spruce",
        0.40,
        "read in UFC 3-130-04, table 2-2, citing the handbook",
        (0.00148, 0.00263),
        (4.3, 7.5),
        MEMORY,
        SPRUCE,
    ),
)


def wood_of(stock: Stock) -> Wood | None:
    """Return the wood of a scene's stock, or None when nothing is known of it.

    A density given in the scene goes before the table; ``cherry`` and ``American black cherry`` are both black cherry.
    """
    if stock.density is not None:
        gravity = stock.density / 1120
        return Wood(stock.species, gravity, "given in the scene", tuple(k * 1.12 * gravity for k in PER_DENSITY), False)
    return wood_named(stock.species)


def wood_named(species: str) -> Wood | None:
    """Return the first row of the table that is named so, or whose name ends with the same word."""
    name = species.lower().replace("-", " ").strip()
    row = next((wood for wood in WOODS if wood.name.lower() == name), None)
    return row or next((wood for wood in WOODS if name.split()[-1:] == wood.name.lower().split()[-1:]), None)
