"""Take the pictures of the review page anew: ``python tests/pictures.py`` (needs Chromium and its driver)."""

from __future__ import annotations

import base64
import tempfile
from pathlib import Path
from typing import Any

import browser
from slabwright.cli import main as cli

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"


def take(driver: Any, name: str, width: int, height: int) -> None:
    """What the window shows, as ``docs/pictures/NAME.png``."""
    clip = {"x": 0, "y": driver.execute_script("return scrollY"), "width": width, "height": height, "scale": 1}
    shot = driver.execute_cdp_cmd("Page.captureScreenshot", {"format": "png", "clip": clip})
    (PICTURES / f"{name}.png").write_bytes(base64.b64decode(shot["data"]))


def main() -> None:
    """The trailer bay with a comment chosen, light on a desk and dark on a phone, and as it is printed."""
    with tempfile.TemporaryDirectory() as folder, browser.opened() as driver:
        page = Path(folder) / "review.html"
        cli.main(["review", str(ROOT / "example_designs/jobs/trailer_bay.slab.yaml"), "--page", str(page)])
        html = page.read_text(encoding="utf-8").replace(f"{ROOT}/", "")
        page.write_text(html, encoding="utf-8")
        for name, width, height, scheme, comment in (
            ("review-page", 1280, 900, "light", 3),
            ("review-page-dark-phone", 390, 844, "dark", 3),
        ):
            browser.seen_as(driver, width, height, scheme)
            driver.execute_cdp_cmd("Emulation.setScrollbarsHidden", {"hidden": True})
            driver.get(page.as_uri())
            driver.find_element("css selector", f"#comment-{comment} a.choose").click()
            take(driver, name, width, height)
        browser.seen_as(driver, 750, 970)
        driver.get(page.as_uri())
        driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
        take(driver, "review-page-printed", 750, 970)


if __name__ == "__main__":
    main()
