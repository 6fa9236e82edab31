"""What one wheel asks of a plain slab: the stress at each place it may stand, and the thickness that keeps it low."""

from collections.abc import Sequence
from math import inf
from typing import Final, Literal, NamedTuple

from slabwright.formulas import positive, within
from slabwright.formulas.loads import contact_radius, wheel_load
from slabwright.formulas.slab_stress import corner_stress, edge_stress, interior_stress, stiffness_radius
from slabwright.formulas.strength import elastic_modulus
from slabwright.formulas.units import INCH, PCI

WheelPlace = Literal["interior", "edge", "corner"]

THICKEST: Final = 18 * INCH  # m, what is still flatwork
_WIDEST_CONTACT: Final = 0.5  # of the radius of relative stiffness, as far as the stress forms hold
_DEEPEST: Final = 24 * INCH  # m, as far as they hold
_STIFFEST: Final = 1000 * PCI  # N/m3, as far as they hold
_STRESS: Final = {"interior": interior_stress, "edge": edge_stress, "corner": corner_stress}
# What is worked at each place, in words: P load, h thickness, a contact radius, l radius of relative stiffness.
EQUATIONS: Final[dict[WheelPlace, str]] = {
    "interior": "0.549 P/h2 (ln(2 l/b) - 0.0772), b = root(1.6 a2 + h2) - 0.675 h, or a from 1.724 h up",
    "edge": "0.803 P/h2 (4 log(l/a) + 0.666 a/l - 0.034)",
    "corner": "3 P/h2 (1 - (1.772 a/l)^0.72)",
}


class Wheel(NamedTuple):
    """What stands on one spot of a slab, and what the slab is made of and lies on.

    ``load`` in N on a circle of ``radius`` m; ``elastic_modulus`` of the concrete in Pa; ``support`` of the ground in
    N/m3; ``tires`` that make up the load.
    """

    load: float
    radius: float
    elastic_modulus: float
    support: float
    tires: int = 1


def wheel(axle: float, tires: int, tire_pressure: float, strength: float, support: float) -> Wheel:
    """One wheel of an ``axle`` (N) on ``tires`` tires at ``tire_pressure`` (Pa); the two tires of a pair are one.

    An even number of four and more stands in pairs. Taking a pair as one circle leaves out the gap between the two
    and asks a little more of the slab. ``strength`` of the concrete in Pa, ``support`` in N/m3 (10 pci up; over
    1,000 pci counts as 1,000).

    Source: `geometry`; for pairs, `common-practice`; `aci-318-19-recalled` for the elastic modulus.

    >>> from slabwright.formulas.units import PSI
    >>> wheel(13000.0, 4, 500e3, 4000 * PSI, 100 * PCI).load
    6500.0
    """
    together = 2 if tires >= 4 and tires % 2 == 0 else 1
    load = together * wheel_load(axle, tires)
    radius = contact_radius(load, tire_pressure)
    return Wheel(load, radius, elastic_modulus(strength), min(support, _STIFFEST), together)


def wheel_stress(place: WheelPlace, wheel: Wheel, thickness: float) -> float:
    """Tension in Pa under a wheel in a plain slab ``thickness`` m thick.

    The edge is that of 1948 with the radius itself, the corner the revised form. A contact wider than half the radius
    of relative stiffness, where the forms end, is taken as half of it, and an edge deeper than 24 in as 24 in; both ask
    for more.

    Source: `huang`, ch. 4, prints 279.4 psi at the edge for the classic inputs; `ioannides-1985` and
    `ioannides-1985-recalled` for the other two places.

    >>> from slabwright.formulas.units import POUND_FORCE, PSI
    >>> round(wheel_stress("edge", Wheel(10000 * POUND_FORCE, 6 * INCH, 4e6 * PSI, 100 * PCI), 10 * INCH) / PSI, 1)
    279.4
    """
    thickness = min(thickness, _DEEPEST)
    stiffness = stiffness_radius(wheel.elastic_modulus, thickness, wheel.support)
    contact = min(positive("contact radius", wheel.radius, "m"), _WIDEST_CONTACT * stiffness)
    return _STRESS[place](wheel.load, contact, thickness, stiffness)


def passes_borne(stress_share: float) -> float:
    """Passes that plain concrete bears before it is likely to crack, at a stress as a share of its bending strength.

    (4.2577/(s - 0.4325))^3.268 from 0.45 to 0.55, and 10^((0.9719 - s)/0.0828) above; without end under 0.45.

    Source: `pca-fatigue-1984`; `fatigue-table` prints 144,000 for 0.545 and 25,000 for 0.608.

    >>> round(passes_borne(0.545), -3), round(passes_borne(0.608), -3), passes_borne(0.40)
    (144000.0, 25000.0, inf)
    """
    share = positive("stress as a share of the strength", stress_share)
    if share < 0.45:
        return inf
    if share <= 0.55:
        return float((4.2577 / (share - 0.4325)) ** 3.268)
    return float(10 ** ((0.9719 - share) / 0.0828))


def least_thickness(places: Sequence[WheelPlace], wheel: Wheel, allowed: float) -> float:
    """Least thickness in m (2 to 18 in) at which the wheel stresses no place over ``allowed`` Pa.

    2 in where no place is named, infinite where 18 in is not enough. The stress falls as the slab gets thicker.

    Source: `geometry`: the stress forms turned round, to a hundredth of a millimeter.

    >>> from slabwright.formulas.units import POUND_FORCE, PSI
    >>> classic = Wheel(10000 * POUND_FORCE, 6 * INCH, 4e6 * PSI, 100 * PCI)
    >>> round(least_thickness(["interior", "edge"], classic, 279.4 * PSI) / INCH, 2)
    10.0
    """
    within("allowed stress", allowed, 0.0, inf, "Pa")
    thin, thick = 2 * INCH, THICKEST

    def keeps(thickness: float) -> bool:
        return all(wheel_stress(place, wheel, thickness) <= allowed for place in places)

    if not keeps(thick):
        return inf
    if keeps(thin):
        return thin
    while thick - thin > 1e-5:
        middle = (thin + thick) / 2
        thin, thick = (thin, middle) if keeps(middle) else (middle, thick)
    return thick
