"""Slabs and parts of design files that the tests of several rules on site share."""

from __future__ import annotations

FLAT = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\nheights: {finish: {A: 100, B: 100, C: 99.84, D: 99.84}}\n"
