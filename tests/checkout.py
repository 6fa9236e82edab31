"""The checkout that the tests stand in: what the tests of every room read their files from."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
