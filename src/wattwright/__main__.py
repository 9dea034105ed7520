"""Run as ``python -m wattwright``."""

import sys

from wattwright.cli import entry

sys.exit(entry())
