"""Chromium for tests of pages: where it is, how it is started, and what a page asked of the network."""

from __future__ import annotations

import base64
import json
import shutil
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--force-device-scale-factor=1", "--window-size=1280,900",
)  # fmt: skip


def found() -> tuple[str, str] | None:
    """Chromium and its driver, or None where one of them is missing."""
    chromium, driver = shutil.which("chromium"), shutil.which("chromedriver")
    return (chromium, driver) if chromium and driver else None


@contextmanager
def opened() -> Iterator[Any]:
    """A fresh headless Chromium that keeps its console and every request, closed at the end."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from selenium import webdriver
        from selenium.webdriver.chrome.service import Service
    where = found()
    assert where is not None, "Chromium and its driver are needed: apt-get install chromium chromium-driver"
    options = webdriver.ChromeOptions()
    options.binary_location = where[0]
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        for flag in (*FLAGS, f"--user-data-dir={profile}"):
            options.add_argument(flag)
        driver = webdriver.Chrome(options=options, service=Service(where[1]))
        driver.set_script_timeout(60)
        try:
            yield driver
        finally:
            driver.quit()


def seen_as(driver: Any, width: int = 1280, height: int = 900, scheme: str = "light") -> None:
    """The size of the window and what the machine is set to."""
    driver.execute_cdp_cmd(
        "Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": scheme}]}
    )
    size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)


def asked_for(driver: Any) -> list[str]:
    """Every address asked for since this was last called."""
    told = [json.loads(entry["message"])["message"] for entry in driver.get_log("performance")]
    return [one["params"]["request"]["url"] for one in told if one["method"] == "Network.requestWillBeSent"]


def printed(driver: Any, width: float, height: float) -> bytes:
    """The page as PDF on paper of that size, inches."""
    paper = {"paperWidth": width, "paperHeight": height, "printBackground": False}
    return base64.b64decode(driver.execute_cdp_cmd("Page.printToPDF", paper)["data"])
