"""Slabs and parts of design files that the tests of several rules on pour share."""

from __future__ import annotations

POUND, FOOT, GALLON = 0.45359237, 0.3048, 231 * 0.0254**3
FOOT, GALLON, MPH = 0.3048, 231 * 0.0254**3, 0.44704
