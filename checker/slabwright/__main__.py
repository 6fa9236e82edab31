"""``python -m slabwright``: the same as the command ``slabwright``."""

from __future__ import annotations

import sys
from pathlib import Path

if not sys.flags.safe_path and sys.path and sys.path[0] == str(Path.cwd()) != str(Path(__file__).parents[1]):
    del sys.path[0]  # python -m would load modules from the working folder, which holds what somebody sent

from slabwright.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
