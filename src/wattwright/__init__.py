"""wattwright: one build folder in, an assessment out."""

__version__ = "0.1.0"
