"""The workbench: one build on every screen in the garage. Thin: parse, call, show."""
