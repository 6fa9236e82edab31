"""What sulfate in the soil asks of the cement."""

from __future__ import annotations

from typing import Final

# Types of cement that keep some sulfate out (1), much (2), or the most, with pozzolan or slag (3); any other type 0.
# Types for S2 were read, `aci-318-19` as a national ready-mixed association prints it; those for S1 and S3 are
# recalled, `aci-318-19-recalled`.
CEMENT_RESISTANCE: Final[dict[str, int]] = {
    **dict.fromkeys(("I/II", "II", "IL (MS)", "IP (MS)", "IS (MS)", "IT (MS)", "MS"), 1),
    **dict.fromkeys(("II/V", "V", "IL (HS)", "IP (HS)", "IS (HS)", "IT (HS)", "HS"), 2),
    **dict.fromkeys(("CEM I-SR", "CEM III-SR", "CEM IV-SR"), 2),
    "V with pozzolan": 3,
}
