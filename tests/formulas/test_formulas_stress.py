"""Slab stress against the plate on springs, solved apart by scipy."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, special
from slabwright.formulas import (
    slab_stress,
)
from slabwright.formulas.units import (
    INCH,
    PCI,
    PSI,
)

T, K, E = 4 * INCH, 100 * PCI, 4e6 * PSI


def plate_interior_moment(load: float, radius: float, ell: float, poisson: float) -> float:
    """Moment under the middle of a load on a circle, infinite plate on springs, by the Hankel integral."""

    def integrand(t: float) -> float:
        return float(t**2 / (1 + t**4) * special.j1(t * radius / ell))

    upto = 400.0 * ell / radius
    value, _ = integrate.quad(integrand, 0, 50.0, limit=800)
    rest, _ = integrate.quad(integrand, 50.0, upto, limit=5000)
    return load * (1 + poisson) / (2 * math.pi) * (ell / radius) * float(value + rest)


@pytest.mark.parametrize("ratio", [0.08, 0.15, 0.25])
def test_interior_stress_is_that_of_a_plate_on_springs(ratio: float) -> None:
    """Hankel-transform solution by scipy; the printed form is its first terms, within 2 % up to a = l/4.

    A thin slab keeps b equal to a, so that the special theory for small loads plays no part.
    """
    load, h = 20e3, 0.10
    ell = 1.8 * h / ratio
    printed = slab_stress.interior_stress(load, 1.8 * h, h, ell)
    moment = plate_interior_moment(load, 1.8 * h, ell, 0.15)

    assert printed == pytest.approx(6 * moment / h**2, rel=0.02)


def test_interior_moment_has_its_closed_form_in_kelvin_functions() -> None:
    """The Hankel integral is a Kelvin function, (l/a) kei'(a/l); both by scipy."""
    ratio = 0.2
    closed = 20e3 * 1.15 / (2 * math.pi) / ratio * special.keip(ratio)

    assert plate_interior_moment(20e3, ratio, 1.0, 0.15) == pytest.approx(closed, rel=1e-4)


def test_equivalent_radius_takes_over_smoothly() -> None:
    """b meets a where a = 1.724 h, as the two branches of the source must."""
    h = 0.1
    assert slab_stress.equivalent_radius(1.7239 * h, h) == pytest.approx(1.724 * h, rel=2e-3)
    assert slab_stress.equivalent_radius(1.8 * h, h) == 1.8 * h


thicknesses = st.floats(0.08, 0.40)
supports = st.floats(15e6, 150e6)
loads = st.floats(1e3, 1e5)


@given(thicknesses, supports, loads, st.floats(0.05, 0.12))
def test_stress_falls_with_thickness_and_support_and_grows_with_load(t: float, k: float, p: float, a: float) -> None:
    for stress in (slab_stress.interior_stress, slab_stress.edge_stress, slab_stress.corner_stress):

        def at(t: float, k: float, p: float, stress: Callable[..., float] = stress) -> float:
            return stress(p, a, t, slab_stress.stiffness_radius(E, t, k))

        assert at(t * 1.1, k, p) < at(t, k, p)
        assert at(t, k * 1.1, p) < at(t, k, p)
        assert at(t, k, p * 1.1) == pytest.approx(1.1 * at(t, k, p))
