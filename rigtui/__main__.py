"""`python -m rigtui` does what the `rigtui` command does."""

from __future__ import annotations

import sys

from rigtui.cli import main

if __name__ == "__main__":
    sys.exit(main())
