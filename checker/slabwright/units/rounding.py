"""Rounding to a round number near by, and up to whole steps."""

from __future__ import annotations

import math

from slabwright.units.amount import Amount


def roundest(value: float, near: float) -> float:
    """The roundest number that is off by no more than the share ``near``.

    >>> [roundest(feet * 0.3048, 0.02) for feet in (0.25, 0.5, 2, 4, 14, 18, 50)]
    [0.075, 0.15, 0.6, 1.2, 4.3, 5.5, 15.0]
    """
    power = math.floor(math.log10(abs(value))) + 1
    while True:
        for step in (1, 2):  # whole tens, then halves of them
            parts = round(value * step / 10.0**power) / step
            if abs(parts * 10.0**power - value) <= near * abs(value):
                return float(f"{parts}e{power}")
        power -= 1


def round_up(amount: Amount, step: Amount | float) -> Amount:
    """The least whole number of steps (an amount of the same kind, or SI) that is not below ``amount``: for orders.

    A hair over a step that is only floating point does not call another one. ``ValueError`` for a step
    of another kind, or not above zero.

    >>> from slabwright.units.amount import Kind
    >>> round_up(Amount(9.07, Kind.VOLUME), 0.25).si
    9.25
    """
    size = step.si if isinstance(step, Amount) else step
    if not size > 0 or (isinstance(step, Amount) and step.kind is not amount.kind):
        raise ValueError(f"cannot round {amount.kind} up to steps of {step}")
    steps = amount.si / size
    return Amount(math.ceil(steps - 1e-9 * max(1.0, abs(steps))) * size, amount.kind)
