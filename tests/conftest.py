"""Makes the helpers in this folder importable from the folders below it."""

import os

# As the program's own entry has it; it counts from before numpy is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
