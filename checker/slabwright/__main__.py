"""``python -m slabwright``: the same as the command ``slabwright``."""

from __future__ import annotations

import sys

from slabwright.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
