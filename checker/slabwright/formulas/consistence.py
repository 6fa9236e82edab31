"""Classes of consistence of the European standard: by slump, and by the spread of the flow table."""

from __future__ import annotations

from typing import Final

# Least and most in m; None where a class has no end there. `en-206-consistence`.
SLUMP_CLASSES: Final[dict[str, tuple[float, float | None]]] = {
    "S1": (0.010, 0.040),
    "S2": (0.050, 0.090),
    "S3": (0.100, 0.150),
    "S4": (0.160, 0.210),
    "S5": (0.220, None),
}
FLOW_CLASSES: Final[dict[str, tuple[float | None, float | None]]] = {
    "F1": (None, 0.340),
    "F2": (0.350, 0.410),
    "F3": (0.420, 0.480),
    "F4": (0.490, 0.550),
    "F5": (0.560, 0.620),
    "F6": (0.630, None),
}
