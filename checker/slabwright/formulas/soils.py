"""Soils by the plain words people call them, as the tables of swell and weight name them."""

from __future__ import annotations

import re
from typing import Final, Literal

SoilFamily = Literal["clean sand or gravel", "topsoil", "loamy soil", "common earth", "clay", "solid rock"]

_NOUNS: Final[dict[str, SoilFamily]] = {
    "sand": "clean sand or gravel",
    "gravel": "clean sand or gravel",
    "stone": "clean sand or gravel",
    "loam": "loamy soil",
    "silt": "loamy soil",
    "topsoil": "topsoil",
    "earth": "common earth",
    "dirt": "common earth",
    "clay": "clay",
    "rock": "solid rock",
    "ledge": "solid rock",
}
_ROTS: Final = ("peat", "sod", "turf", "mulch", "wood chips", "manure", "humus")
_BOUND: Final = ("lime", "cement", "treated", "stabilized", "crushed")  # what carries as stone does
_FINE: Final = ("silty", "clayey", "loamy", "with fines")  # what keeps sand and gravel from draining
WEIGHED_AS: Final[dict[SoilFamily, str]] = {  # rows of `nunnally` Table 2-5; topsoil and solid rock have none
    "clean sand or gravel": "sand and gravel",
    "loamy soil": "common earth",
    "common earth": "common earth",
    "clay": "clay",
}


def soil_family(kind: str) -> SoilFamily | None:
    """The family of a soil in plain words, by its noun; sand or gravel with fines counts as loamy. None if unknown.

    Source: `common-practice`.

    >>> soil_family("silty sand"), soil_family("clean gravel"), soil_family("silty clay"), soil_family("peat")
    ('loamy soil', 'clean sand or gravel', 'clay', None)
    """
    plain = kind.casefold()
    family = next((_NOUNS[word] for word in reversed(re.findall(r"[a-z]+", plain)) if word in _NOUNS), None)
    fine = any(word in plain for word in _FINE)
    return "loamy soil" if family == "clean sand or gravel" and fine else family


def sandy(kind: str) -> bool:
    """Whether sand or gravel makes up most of a soil with fines, so that it drains fairly: SM and GM of the code.

    Source: `irc-r506.2.2-exception`, well-drained soils; the words are common practice.

    >>> sandy("sandy loam"), sandy("silty sand"), sandy("sandy clay"), sandy("silt loam")
    (True, True, False, False)
    """
    return bool(re.search(r"sand|gravel", kind.casefold())) and soil_family(kind) == "loamy soil"


def drains(kind: str) -> bool:
    """Whether a soil or a fill drains by itself: clean sand, gravel or stone.

    Source: `irc-r506.2.2-exception`, well-drained soils; the words are common practice.

    >>> drains("crushed stone"), drains("clayey gravel")
    (True, False)
    """
    return soil_family(kind) == "clean sand or gravel"


def rotting(material: str) -> bool:
    """Whether what is written is topsoil, or rots as sod and roots do.

    Source: `irc-r506.2.1-2009`: fill is free of vegetation; the words are common practice.

    >>> rotting("topsoil"), rotting("sandy topsoil"), rotting("clay"), rotting("sand, topsoil stripped")
    (True, True, False, False)
    """
    plain = material.casefold()
    words = any(re.search(rf"\b{word}\b", plain) for word in (*_ROTS, "topsoil"))
    return words and not re.search(r"\b(sand|gravel|stone|no)\b|strip|remov|free of", plain)


def no_base(material: str) -> bool:
    """Whether what is written as a base is soil, or what rots, with no sand or stone in it: not what a base is made of.

    Source: `irc-r506.2.2`: a base is clean sand, gravel or crushed stone; the words are common practice.

    >>> no_base("topsoil"), no_base("sod and roots"), no_base("clay with stone"), no_base("lime-treated clay")
    (True, True, False, False)
    """
    plain = material.casefold()
    families = {_NOUNS[word] for word in re.findall(r"[a-z]+", plain) if word in _NOUNS}
    if "clean sand or gravel" in families or "solid rock" in families or re.search(r"sand|grav", plain):
        return False
    soil = bool(families) or any(re.search(rf"\b{word}\b", plain) for word in _ROTS)
    return soil and not any(word in plain for word in _BOUND)
