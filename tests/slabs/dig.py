"""Slabs and parts of design files that the tests of several rules on dig share."""

from __future__ import annotations

from slabwright.units.quantity import Amount

POUND, YARD3 = 0.45359237, 0.9144**3
TON = 2000 * 0.45359237


def amount(value: object) -> float:
    assert isinstance(value, Amount)
    return value.si
