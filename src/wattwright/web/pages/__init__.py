"""The pages, one module for what a person comes to them for."""
