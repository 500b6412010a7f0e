"""The woods that are known, by name: each figure with where it was read, or that it is from memory.

Densities are 1120 times the specific gravity at 12 % moisture (oven-dry weight, volume at 12 %: the definition in
the *Wood Handbook*, Forest Products Laboratory, FPL-GTR-282, ch. 4). Gravities are those of its table 4-3b, movement
is that of its table 13-5, shrinkage that of its table 4-3 (FPL-GTR-190). Four woods have force constants of their
own: Ettelt's (1987), from *Zerspanung von Holz und Holzwerkstoffen*, 2nd ed. 2023, p. 120, as quoted on FreeCAD's
machining material cards HardWood and SoftWood (read there, not in the book). They are for European woods, and are
taken for their American cousins too.
"""

from __future__ import annotations

from sweep.cut.wood import Wood, by_density
from sweep.scene.keys import Stock

COPIED = "read in a copy of the handbook's table that names no edition"
EXTENSION = "read in Oregon State University's table of physical properties, which cites the handbook"
MEMORY = "from memory"
DOUBTFUL = "from memory, and doubtful"
READ = "read in a copy of the handbook's tables 4-3 and 13-5"
PARTLY = "movement read in a copy of table 13-5, shrinkage from memory"
SHRINKAGE_READ = "shrinkage read in a copy of table 4-3, movement from memory"

OAK, BEECH, PINE, SPRUCE = (33.0, 10.0, 7.0), (33.0, 12.0, 7.5), (22.5, 7.5, 5.0), (21.5, 9.0, 6.0)
"""Ettelt's constants, N/mm^1.5; the middle of his range where he gives one."""

Pair = tuple[float, float]


def _wood(
    names: str,
    gravity: float,
    source: str,
    movement: Pair | None = None,
    shrinkage: Pair | None = None,
    moved: str = "",
    constants: tuple[float, float, float] | None = None,
) -> Wood:
    """Return a row; `names` is its name and, after commas, what else it is called."""
    name, *aliases = names.split(", ")
    measured = constants is not None
    return Wood(
        name, gravity, source, constants or by_density(gravity), measured, movement, shrinkage, moved, tuple(aliases)
    )


WOODS = (
    # oak, beech, pine and spruce, which have force constants of their own
    _wood("white oak, oak, American white oak", 0.68, MEMORY, (0.00180, 0.00365), (5.6, 10.5), READ, OAK),
    _wood("red oak, northern red oak, American red oak", 0.63, MEMORY, (0.00158, 0.00369), (4.0, 8.6), PARTLY, OAK),
    _wood("European oak, English oak", 0.61, MEMORY, constants=OAK),
    _wood("beech, American beech", 0.64, COPIED, (0.00190, 0.00431), (5.5, 11.9), READ, BEECH),
    _wood("European beech, steamed beech", 0.64, MEMORY, constants=BEECH),
    _wood("white pine, pine, eastern white pine", 0.35, MEMORY, (0.00071, 0.00212), (2.1, 6.1), MEMORY, PINE),
    _wood("Scots pine", 0.46, MEMORY, constants=PINE),
    _wood(
        "Sitka spruce, spruce",
        0.40,
        "read in UFC 3-130-04, table 2-2, citing the handbook",
        (0.00148, 0.00263),
        (4.3, 7.5),
        MEMORY,
        SPRUCE,
    ),
    _wood("Norway spruce, European spruce", 0.40, MEMORY, constants=SPRUCE),
    # other hardwoods
    _wood("red alder, alder", 0.41, COPIED, (0.00151, 0.00256), (4.4, 7.3), READ),
    _wood("white ash, ash, American ash", 0.60, COPIED, (0.00169, 0.00274), (4.9, 7.8), READ),
    _wood("black ash", 0.49, COPIED, (0.00172, 0.00274), (5.0, 7.8), READ),
    _wood("quaking aspen, aspen", 0.38, COPIED, (0.00119, 0.00234), (3.5, 6.7), READ),
    _wood("basswood, American basswood", 0.37, COPIED, (0.00230, 0.00330), (6.6, 9.3), READ),
    _wood("yellow birch, birch", 0.62, COPIED, (0.00256, 0.00338), (7.3, 9.5), READ),
    _wood("paper birch", 0.55, COPIED, (0.00219, 0.00304), (6.3, 8.6), READ),
    _wood("butternut", 0.38, COPIED, (0.00116, 0.00223), (3.4, 6.4), READ),
    _wood(
        "black cherry, cherry, American black cherry",
        0.50,
        COPIED,
        (0.00126, 0.00248),
        (3.7, 7.1),
        READ,
    ),
    _wood("American chestnut, chestnut", 0.43, COPIED, (0.00116, 0.00234), (3.4, 6.7), READ),
    _wood("American elm, elm", 0.50, COPIED, (0.00144, 0.00338), (4.2, 9.5), READ),
    _wood("slippery elm, red elm", 0.53, COPIED, (0.00169, 0.00315), (4.9, 8.9), READ),
    _wood("hackberry", 0.53, COPIED, (0.00165, 0.00315), (4.8, 8.9), READ),
    _wood("pecan, pecan hickory", 0.66, COPIED, (0.00169, 0.00315), (4.9, 8.9), READ),
    _wood("hickory, shagbark hickory, true hickory", 0.72, COPIED, (0.00259, 0.00411), (7.0, 10.5), MEMORY),
    _wood("black locust", 0.69, COPIED, (0.00158, 0.00252), (4.6, 7.2), PARTLY),
    _wood("mahogany, Honduras mahogany, genuine mahogany", 0.45, DOUBTFUL, (0.00172, 0.00238), (3.0, 4.1), DOUBTFUL),
    _wood("hard maple, maple, sugar maple", 0.63, MEMORY, (0.00165, 0.00353), (4.8, 9.9), PARTLY),
    _wood("red maple, soft maple", 0.54, COPIED, (0.00137, 0.00289), (4.0, 8.2), PARTLY),
    _wood("bigleaf maple", 0.48, COPIED, (0.00126, 0.00248), (3.7, 7.1), PARTLY),
    _wood("sweetgum", 0.52, MEMORY, (0.00183, 0.00365), (5.3, 10.2), READ),
    _wood("American sycamore", 0.49, MEMORY, (0.00172, 0.00296), (5.0, 8.4), READ),
    _wood(
        "black walnut, walnut, American black walnut",
        0.55,
        MEMORY,
        (0.00190, 0.00274),
        (5.5, 7.8),
        READ,
    ),
    _wood("yellow poplar, poplar, tulip poplar", 0.42, MEMORY, (0.00158, 0.00289), (4.6, 8.2), SHRINKAGE_READ),
    # other softwoods
    _wood("eastern redcedar, eastern red cedar", 0.47, MEMORY, (0.00106, 0.00162), (3.1, 4.7), SHRINKAGE_READ),
    _wood("western redcedar, western red cedar", 0.32, MEMORY, (0.00111, 0.00234), (2.4, 5.0), SHRINKAGE_READ),
    _wood("Douglas fir", 0.48, EXTENSION, (0.00165, 0.00267), (4.8, 7.6), SHRINKAGE_READ),
    _wood("western hemlock, hemlock", 0.45, EXTENSION, (0.00144, 0.00274), (4.2, 7.8), MEMORY),
    _wood("Engelmann spruce", 0.35, EXTENSION, (0.00130, 0.00248), (3.8, 7.1), MEMORY),
    _wood("ponderosa pine", 0.40, MEMORY, (0.00133, 0.00216), (3.9, 6.2), MEMORY),
    _wood("sugar pine", 0.36, MEMORY, (0.00099, 0.00194), (2.9, 5.6), MEMORY),
    _wood("western white pine", 0.38, MEMORY, (0.00141, 0.00259), (4.1, 7.4), MEMORY),
    _wood("longleaf pine", 0.59, MEMORY, (0.00176, 0.00263), (5.1, 7.5), MEMORY),
    _wood("loblolly pine, southern yellow pine", 0.51, MEMORY, (0.00165, 0.00259), (4.8, 7.4), MEMORY),
    _wood("redwood, old growth redwood", 0.40, MEMORY, (0.00120, 0.00205), (2.6, 4.4), MEMORY),
    _wood("bald cypress, cypress", 0.46, MEMORY, (0.00130, 0.00216), (3.8, 6.2), MEMORY),
)


def wood_of(stock: Stock) -> Wood | None:
    """Return the wood of a scene's stock, or None when nothing is known of it.

    A density given in the scene goes before the table.
    """
    if stock.density is not None:
        gravity = stock.density / 1120
        return Wood(stock.species, gravity, "given in the scene", by_density(gravity), False)
    return wood_named(stock.species)


def wood_named(species: str) -> Wood | None:
    """Return the wood that has this name among its own, whatever the capitals and hyphens; None for any other name."""
    return _BY_NAME.get(_plain(species))


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())


_BY_NAME = {_plain(name): wood for wood in WOODS for name in (wood.name, *wood.aliases)}
