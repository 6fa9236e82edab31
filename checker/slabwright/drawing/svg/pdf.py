"""A drawing as a PDF page of the size of its sheet, by cairosvg, which is asked for only here."""

from __future__ import annotations

import re

_HALO = re.compile(r'<text (?=[^>]*class="[^"]*halo)([^>]*)>([^<]*)</text>')


class NoPdfError(Exception):
    """What draws the PDF is not installed, or its own library is missing: the message says which."""


def pdf(svg: str) -> bytes:
    """The PDF of an SVG drawing, at its true size. Raises :class:`NoPdfError`.

    Cairo paints a stroke over its letters whatever the drawing asks for; so a halo is set as letters of its own below.
    """
    try:
        import cairosvg  # installed where it is wanted
    except (ImportError, OSError) as error:  # OSError: cairosvg is there, and the library cairo is not
        raise NoPdfError(str(error).splitlines()[0]) from error
    below = r'<text \1 style="fill:#fff">\2</text><text \1 style="stroke:none">\2</text>'
    made: bytes = cairosvg.svg2pdf(bytestring=_HALO.sub(below, svg).encode())
    return made
