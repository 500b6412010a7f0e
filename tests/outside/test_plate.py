"""The plate under a load at its rim, against a numerical solution, a handbook's closed form and a measured blade.

- Ritz: the energy of a bent plate (Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*; from memory), least
  among polynomials, harmonic by harmonic. It asks for nothing at the free edge, where `plate.py` sets moment and shear.
- scikit-fem 12.0.2, finite elements: Morley triangles in the plane, so no Fourier series; a real point load on the rim.
- Leissa, *Vibration of Plates*, NASA SP-160: frequencies of a ring clamped inside and free outside; from memory. They
  say that the Ritz solution is of the right plate.
- Roark's *Formulas for Stress and Strain*, table 11.2: a ring load at the free edge; from memory. It is the harmonic
  n = 0 only: a single tooth's load is not in that table.
- Merhar, Gornik Bucar, Pepelnjak 2017, BioResources 12(3) 5569-5582, abstract read: a commercial blade clamped to a
  quarter of its diameter gave 60 N/mm at the rim; its size was not on the page read, so it tells the magnitude.
- Gullets: area of pitch times depth over 1.75, 50 to 75 % of it usable, http://www.sharptool.com/GulletCapacity.html,
  read; Quelch's gullet feed index, solid wood to area of the gullet, safe from 0.3 to 0.5: from memory.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from numpy.polynomial.legendre import Legendre, leggauss
from scipy.linalg import eigh
from skfem import Basis, BilinearForm, ElementTriMorley, MeshTri, condense, solve
from skfem.helpers import dd, ddot, trace

from sweep.cut.plate import MEASURED, _harmonic, gullet_fill, rim_compliance, rim_stiffness
from sweep.scene.keys import Blade

POISSON = 0.3
RATIOS = [0.15, 0.25, 0.276, 0.4, 0.6]
"""Ratios of collar to blade; 0.276 is 70 mm on 254 mm."""


@cache
def terms_of(inner: float, terms: int) -> tuple[np.ndarray, ...]:
    """Radii and weights of a quadrature between the collar and the rim, and there every term with its derivatives."""
    points, weights = leggauss(80)
    r = inner + (points + 1) * (1 - inner) / 2
    clamp, clamp_slope = (r - inner) ** 2, 2 * (r - inner)
    legendre = [Legendre.basis(k, domain=[inner, 1.0]) for k in range(terms)]
    p0, p1, p2 = (np.array([p.deriv(order)(r) for p in legendre]) for order in (0, 1, 2))
    w, slope, bend = clamp * p0, clamp_slope * p0 + clamp * p1, 2 * p0 + 2 * clamp_slope * p1 + clamp * p2
    return r, weights * (1 - inner) / 2, w, slope, bend


def ritz(harmonic: int, inner: float, poisson: float = POISSON, terms: int = 16) -> tuple[np.ndarray, ...]:
    """Return stiffness, mass and rim values of (r - b)^2 times polynomials, on a ring of outer radius 1 and D = 1.

    Energy of w = R(r) cos(n phi), integrated around: pi (2 pi for n = 0) times the integral of
    ((L R)^2 - 2 (1 - nu) (R'' (R'/r - n^2 R/r^2) - n^2 (R'/r - R/r^2)^2)) r / 2, with L R = R'' + R'/r - n^2 R/r^2.
    """
    r, weights, w, slope, bend = terms_of(inner, terms)
    weights = weights * r * (2 * math.pi if harmonic == 0 else math.pi)
    around, twist = slope / r - harmonic**2 * w / r**2, slope / r - w / r**2
    mixed = (bend * weights) @ around.T
    stiffness = ((bend + around) * weights) @ (bend + around).T
    stiffness -= (1 - poisson) * (mixed + mixed.T - 2 * harmonic**2 * (twist * weights) @ twist.T)
    return stiffness, (w * weights) @ w.T, np.full(terms, (1 - inner) ** 2)


def by_ritz(harmonic: int, inner: float, poisson: float = POISSON) -> float:
    """Return the deflection at a unit point load on the rim that is in one harmonic."""
    stiffness, _, rim = ritz(harmonic, inner, poisson)
    return float(rim @ np.linalg.solve(stiffness, rim))


@pytest.mark.parametrize(("harmonic", "parameter"), [(0, 6.660), (1, 6.552), (2, 7.956), (3, 13.276)])
def test_the_ritz_solution_sounds_as_the_book_of_plates_says(harmonic, parameter):
    """At collar to blade 0.3, omega a^2 sqrt(rho h / D): so it is the plate that we mean. Leissa, from memory."""
    stiffness, mass, _ = ritz(harmonic, 0.3)

    assert parameter == pytest.approx(math.sqrt(eigh(stiffness, mass, eigvals_only=True)[0]), abs=0.002)


@pytest.mark.parametrize("inner", RATIOS)
@pytest.mark.parametrize("poisson", [0.0, POISSON, 0.45])
def test_each_harmonic_bends_as_the_ritz_solution_does(inner, poisson):
    """The first six, the tenth and the twentieth: polynomials against powers and logarithms."""
    for harmonic in (0, 1, 2, 3, 4, 5, 10, 20):
        assert by_ritz(harmonic, inner, poisson) == pytest.approx(_harmonic(harmonic, inner, poisson), rel=1e-6)


@pytest.mark.parametrize("inner", RATIOS)
def test_the_whole_rim_bends_as_the_ritz_solution_does(inner):
    """A hundred harmonics: those that the package leaves out are worth a few thousandths at most."""
    whole = sum(by_ritz(harmonic, inner) for harmonic in range(100))

    assert whole == pytest.approx(rim_compliance(35.0, 35.0 / inner), rel=2e-3)
    assert whole > rim_compliance(35.0, 35.0 / inner)


def by_finite_elements(inner: float, rings: int, around: int) -> float:
    """Return the deflection at a unit load on one node of the rim, of a ring of outer radius 1 and D = 1."""
    radius, angle = np.linspace(inner, 1.0, rings + 1), np.arange(around) * 2 * math.pi / around
    nodes = np.array([np.outer(radius, np.cos(angle)).ravel(), np.outer(radius, np.sin(angle)).ravel()])
    near = np.arange(rings * around).reshape(rings, around)  # inner left corner of each quadrangle
    beside = np.roll(near, -1, axis=1)
    halves = [(near, near + around, beside + around), (near, beside + around, beside)]
    mesh = MeshTri(nodes, np.hstack([[corner.ravel() for corner in half] for half in halves]))
    basis = Basis(mesh, ElementTriMorley())

    @BilinearForm
    def bending(u, v, _):
        return (1 - POISSON) * ddot(dd(u), dd(v)) + POISSON * trace(dd(u)) * trace(dd(v))

    collar = mesh.facets_satisfying(lambda middle: np.hypot(*middle) < (inner + 1) / 2, boundaries_only=True)
    clamp = basis.get_dofs(collar)  # deflection at its nodes, slope at the middles of its edges
    assert len(clamp) == 2 * around
    tip, load = basis.nodal_dofs[0, rings * around], np.zeros(basis.N)
    load[tip] = 1.0
    return float(solve(*condense(bending.assemble(basis), load, D=clamp))[tip])


@pytest.mark.parametrize("inner", [0.25, 0.4])
def test_a_point_on_the_rim_bends_as_finite_elements_do(inner):
    """Meshes of 12 x 48 and 24 x 96: an error of 4 % becomes 1 %, and the two extrapolated by h^2 leave 0.3 %."""
    coarse, fine = (by_finite_elements(inner, 12 * n, 48 * n) for n in (1, 2))
    ours = rim_compliance(inner, 1.0)

    assert fine == pytest.approx(ours, rel=0.015)
    assert abs(fine - ours) < abs(coarse - ours) / 3
    assert fine - (coarse - fine) / 3 == pytest.approx(ours, rel=0.003)


@pytest.mark.parametrize("ratio", [0.1, 0.25, 0.276, 0.5, 0.8])
@pytest.mark.parametrize("poisson", [0.0, POISSON])
def test_a_load_all_round_the_rim_bends_it_as_the_handbook_says(ratio, poisson):
    """Roark's y = -w a^4 / (b D) (C2 C9 / C8 - C3), for a load w all round the free edge; from memory."""
    inverse = 1 / ratio
    c2 = (1 - ratio**2 * (1 + 2 * math.log(inverse))) / 4
    c3 = ratio / 4 * ((ratio**2 + 1) * math.log(inverse) + ratio**2 - 1)
    c8 = (1 + poisson + (1 - poisson) * ratio**2) / 2
    c9 = ratio * ((1 + poisson) / 2 * math.log(inverse) + (1 - poisson) / 4 * (1 - ratio**2))
    handbook = (c2 * c9 / c8 - c3) * inverse / (2 * math.pi)  # the whole load is 2 pi a w

    assert handbook == pytest.approx(rim_compliance(ratio, 1.0, poisson, terms=1), rel=1e-9)


@pytest.mark.parametrize(
    ("ratio", "compliance"),
    [
        (0.15, 0.2125),
        (0.20, 0.1792),
        (0.25, 0.1509),
        (0.30, 0.1265),
        (0.35, 0.1051),
        (0.40, 0.0865),
        (0.50, 0.0563),
        (0.667, 0.0225),
    ],
)
def test_the_compliance_is_that_of_our_own_earlier_table(ratio, compliance):
    """Derived by us before the code, by the same theory: it keeps the numbers where they were, and proves no more."""
    assert compliance == pytest.approx(rim_compliance(ratio, 1.0), abs=1e-4)


def blade(diameter: float, **more: float) -> Blade:
    """Return a blade 3.2 mm wide, sizes in mm."""
    return Blade.model_validate(
        {"teeth": 40, "diameter": f"{diameter} mm", "kerf": "3.2 mm"}
        | {key: f"{value!r} mm" for key, value in more.items()}
    )


def test_a_common_blade_is_about_as_stiff_as_the_one_that_was_measured():
    """254 mm, a plate of 2.2 mm, collars of 70 mm: 68 N/mm; 60 was measured on a blade of a size not told."""
    stiffness = rim_stiffness(blade(254.0, plate=2.2))

    assert stiffness == pytest.approx(68, abs=0.5)
    assert 60 / 1.5 < stiffness < 60 * 1.5
    assert 60 / 81 == pytest.approx(MEASURED)


def test_stiffness_goes_by_the_cube_of_the_plate():
    """Twice the plate, eight times the load."""
    thin, thick = (rim_stiffness(blade(254.0, plate=plate)) for plate in (1.1, 2.2))

    assert 8 * thin == pytest.approx(thick, rel=1e-12)


def test_stiffness_goes_by_the_inverse_square_of_the_size_at_one_plate():
    """Blade and collar twice as large, the plate as thick: a quarter."""
    small, large = (rim_stiffness(blade(150.0 * n, plate=2.0, collar=50.0 * n)) for n in (1, 2))

    assert small == pytest.approx(4 * large, rel=1e-12)


def test_larger_collars_make_a_stiffer_blade_and_leave_none_when_they_reach_the_rim():
    """From 40 mm upwards it always gains; a collar of the blade's size leaves no plate to bend."""
    stiffness = [rim_stiffness(blade(254.0, collar=float(collar))) for collar in range(40, 160, 10)]

    assert all(small < large for small, large in pairwise(stiffness))
    assert rim_stiffness(blade(254.0, collar=254.0)) is None
    assert rim_stiffness(Blade.model_validate({"teeth": 2, "profile": [[-9.0, 60.0], [9.0, 60.0]]})) is None


def test_a_gullet_is_full_at_the_safe_end_of_quelchs_index():
    """An index of 0.3 to 0.5, with gullets of the maker's area: ours calls the first full and the second overfull."""
    one = blade(254.0, gullet_depth=12.0)
    area = math.pi * 254.0 / 40 * 12.0 / 1.75
    fill = [gullet_fill(one, index * area * 3.2) for index in (0.3, 0.5)]

    assert 0.9 < fill[0] < 1.1 < fill[1]
    assert gullet_fill(blade(254.0, gullet_depth=24.0), area) == pytest.approx(gullet_fill(one, area) / 2, rel=1e-12)
