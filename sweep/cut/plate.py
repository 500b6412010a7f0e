"""The saw plate under a side load at its rim, and the room in its gullets.

Plate: a flat ring, clamped at the collars, free at the rim, point load at the rim (Kirchhoff plate, Fourier
series in the rim angle: Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*, ch. 9). Turning, heat
and tension are left out. A commercial blade measured 60 N/mm where theory gave 81 (Merhar, Gornik Bucar, Pepelnjak
2017, BioResources 12(3) 5569-5582, abstract read), so the stiffness of theory is multiplied by 0.74.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np

from sweep.scene.keys import Blade

STEEL, POISSON = 210_000.0, 0.3
"""N/mm2, and none. Young's modulus and Poisson's ratio of saw steel: handbook values."""

MEASURED = 60 / 81
"""The share of the stiffness of theory that one blade on its arbor showed."""

TERMS = 60
"""How many terms of the Fourier series are summed; they fall as 1/n^3."""

PLATE_TO_KERF, GULLET_TO_PITCH = 0.7, 0.45
"""Where a scene does not say: plate to kerf, depth of gullet to pitch; common practice."""

LOOSE, USABLE = 2.0, 0.6
"""Chips packed in a gullet to solid wood (1.3 to 2, from memory), and the share of a gullet that holds them
before they spill (50 to 75 %, sharptool.com/GulletCapacity.html)."""


@cache
def rim_compliance(inner: float, outer: float, poisson: float = POISSON, terms: int = TERMS) -> float:
    """Return c in deflection at the load = c P a^2 / D, for a ring clamped at `inner` and free at `outer`, any unit.

    Notes
    -----
    For each harmonic n the deflection is w = R(r) cos(n phi) with R biharmonic: r^n, r^-n, r^(n+2), r^(2-n) (with
    logarithms for n = 0 and 1). R and R' vanish at `inner`; at `outer` the bending moment vanishes and the edge
    shear is the load's harmonic, P / (pi a), half of it for n = 0.
    """
    x = inner / outer
    return sum(_harmonic(n, x, poisson) for n in range(terms))


def _harmonic(n: int, x: float, nu: float) -> float:
    """Return one harmonic's share of c, on a ring of outer radius 1."""
    if n == 0:  # 1, ln r, r^2, r^2 ln r: as (power, with a logarithm)
        basis = [(0, 0), (0, 1), (2, 0), (2, 1)]
    elif n == 1:  # r, 1/r, r^3, r ln r
        basis = [(1, 0), (-1, 0), (3, 0), (1, 1)]
    else:
        basis = [(n, 0), (-n, 0), (n + 2, 0), (2 - n, 0)]

    def value(power: int, logarithm: int, r: float, order: int) -> float:
        """Return the `order`-th derivative of r^power (ln r)^logarithm."""
        if logarithm == 0:
            return math.prod(power - k for k in range(order)) * r ** (power - order)
        if order == 0:
            return r**power * math.log(r)
        # d/dr [r^p ln r] = p r^(p-1) ln r + r^(p-1)
        return power * value(power - 1, 1, r, order - 1) + value(power - 1, 0, r, order - 1)

    def at(r: float, *parts: tuple[float, int]) -> list[float]:
        return [sum(factor * value(p, lg, r, order) for factor, order in parts) for p, lg in basis]

    rows = [
        at(x, (1.0, 0)),
        at(x, (1.0, 1)),
        at(1.0, (1.0, 2), (nu, 1), (-nu * n * n, 0)),  # moment M_r over -D
        # Kelvin-Kirchhoff edge shear over -D: d/dr (laplacian) + (1 - nu) d/dr-twist
        at(
            1.0,
            (1.0, 3),
            (1.0, 2),
            (-(1.0 + n * n) - (1 - nu) * n * n, 1),
            (2.0 * n * n + (1 - nu) * n * n, 0),
        ),
    ]
    load = 1 / (2 * math.pi) if n == 0 else 1 / math.pi
    scale = np.abs(rows).max(axis=0)  # r^-n is huge at the collar
    coefficients = np.linalg.solve(np.array(rows) / scale, [0.0, 0.0, 0.0, -load]) / scale
    return abs(float(np.dot(coefficients, at(1.0, (1.0, 0)))))


def rim_stiffness(blade: Blade) -> float | None:
    """Return the side load at the rim that moves it by 1 mm, N/mm; None for a shaped cutter, which has no plate."""
    if blade.profile is not None:
        return None
    diameter, kerf = blade.size
    thickness = blade.plate or PLATE_TO_KERF * kerf
    radius, collar = diameter / 2, blade.collar / 2
    if collar >= radius:
        return None
    rigidity = STEEL * thickness**3 / (12 * (1 - POISSON**2))
    return MEASURED * rigidity / (rim_compliance(collar, radius) * radius**2)


def gullet_fill(blade: Blade, chip_volume: float) -> float:
    """Return the share of a gullet's usable room that one tooth's chips take, loosened; `chip_volume` in mm3."""
    pitch = 2 * math.pi * blade.tool.radius / blade.teeth
    depth = blade.gullet_depth or GULLET_TO_PITCH * pitch
    room = pitch * depth / 1.75 * blade.tool.kerf  # area of a gullet: sharptool.com/GulletCapacity.html
    return LOOSE * chip_volume / (USABLE * room)
