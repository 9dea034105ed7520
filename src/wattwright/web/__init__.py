"""The workbench: pages, served on this machine alone or to paired devices nearby."""
