"""Fixtures of the tests in a real browser."""

from browser_builders import bench, browser, build, people, shots

__all__ = ["bench", "browser", "build", "people", "shots"]
