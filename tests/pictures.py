"""Take the pictures of the review page anew: ``python tests/pictures.py`` (needs Chromium and its driver).

Four sizes of screen, each light and dark, and paper. ``test_page_in_browser`` compares them with the page as it is.
"""

from __future__ import annotations

import base64
import io
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import browser
from checkout import ROOT
from PIL import Image, ImageChops
from slabwright.cli import main as cli

PICTURES = ROOT / "docs" / "pictures"
SCREENS = ((390, 844), (768, 1024), (1280, 900), (1920, 1080))
LOOKS = [(f"review-page-{size[0]}-{scheme}", *size, scheme) for size in SCREENS for scheme in ("light", "dark")]
COMMENT = 3
_COARSE = 16  # px of a screen that count as one place


def written(folder: Path) -> Path:
    """The page of the trailer bay, with the paths of the repository."""
    page = folder / "review.html"
    cli.main(["review", str(ROOT / "example_designs/jobs/trailer_bay.slab.yaml"), "--page", str(page)])
    page.write_text(page.read_text(encoding="utf-8").replace(f"{ROOT}/", ""), encoding="utf-8")
    return page


def taken(driver: Any, page: Path, some: Sequence[str] = ("",)) -> Iterator[tuple[str, bytes]]:
    """Every picture with its name: a comment chosen on the screens, and the first page of paper.

    Of the screens ``some`` may be asked for, by the ends of their names.
    """
    driver.execute_cdp_cmd("Emulation.setScrollbarsHidden", {"hidden": True})
    for name, width, height, scheme in (look for look in LOOKS if look[0].endswith(tuple(some))):
        browser.seen_as(driver, width, height, scheme)
        driver.get("about:blank")
        driver.get(page.as_uri())
        driver.find_element("css selector", f"#comment-{COMMENT} a.choose").click()
        yield name, _shot(driver, width, height)
    browser.seen_as(driver, 748, 980)
    driver.get(page.as_uri())
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    yield "review-page-printed", _shot(driver, 748, 980)
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})


def _shot(driver: Any, width: int, height: int) -> bytes:
    clip = {"x": 0, "y": driver.execute_script("return scrollY"), "width": width, "height": height, "scale": 1}
    shot = driver.execute_cdp_cmd("Page.captureScreenshot", {"format": "png", "clip": clip})
    return base64.b64decode(shot["data"])


def unlike(one: bytes, other: bytes) -> float:
    """How far two pictures differ, 0 to 1: the share of coarse places whose tone differs by more than a fifth."""
    tones = [Image.open(io.BytesIO(picture)).convert("L") for picture in (one, other)]
    if tones[0].size != tones[1].size:
        return 1.0
    coarse = [tone.resize((tone.width // _COARSE, tone.height // _COARSE), Image.Resampling.BOX) for tone in tones]
    places = list(ImageChops.difference(*coarse).tobytes())
    return sum(place > 51 for place in places) / len(places)


def main() -> None:
    """Take all of them, and keep each with 256 colors, which is enough to see and to compare."""
    with tempfile.TemporaryDirectory() as folder, browser.opened() as driver:
        for name, picture in taken(driver, written(Path(folder))):
            small = Image.open(io.BytesIO(picture)).convert("RGB").quantize(256)
            small.save(PICTURES / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()
