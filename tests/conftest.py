"""Makes the helpers in this folder importable from the folders below it."""

import gc
import os

# As the program's own entry has it; it counts from before numpy is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def pytest_collection_finish() -> None:
    """Leave alone what stays for good; to go through it again and again took a sixth of all."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)
