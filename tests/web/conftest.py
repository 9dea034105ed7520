"""Fixtures of the workbench's tests."""

from web_builders import workbench

__all__ = ["workbench"]
