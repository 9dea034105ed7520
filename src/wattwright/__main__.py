"""Run as ``python -m wattwright``."""

import sys

from wattwright.cli import main

sys.exit(main())
