"""What the guard has to know of the pages: which take more than usual, and which never end."""

from __future__ import annotations

from types import MappingProxyType

from wattwright.build.sampled_files import LARGEST_ROUTE
from wattwright.build.text import LARGEST as LARGEST_TEXT
from wattwright.journal.belonging import LARGEST_IN_ALL
from wattwright.journal.images import LARGEST as LARGEST_PHOTO
from wattwright.web.safety import Limits
from wattwright.web.spreadsheet import LARGEST as LARGEST_CSV

# What stands around a file in a form.
_AROUND = 100_000
# A form that is no upload writes a letter beyond ASCII as three signs for each of its bytes.
_IN_A_FORM = 3
# Two for each cell of a table: what it says now, and what it said when the page was made.
TABLE_FIELDS = 20_000

# Below these are event streams, which are counted, and end when the server stops.
STREAMS = ("/b/*/events",)

# A CSV that was read once is sent back as words, each line end and quote perhaps written twice.
CSV_SIZE = 2 * LARGEST_CSV

# The whole build file, as a form writes it.
FILE_SIZE = _IN_A_FORM * LARGEST_TEXT

LIMITS = Limits(
    bodies=MappingProxyType(
        {
            "/b/*/photos": LARGEST_PHOTO + _AROUND,
            "/b/*/reading": LARGEST_PHOTO + _AROUND,
            "/b/*/add": LARGEST_ROUTE + _AROUND,
            "/b/*/files": LARGEST_ROUTE + _AROUND,
            "/b/*/csv": CSV_SIZE + _AROUND,
            "/b/*/file": FILE_SIZE + _AROUND,
            "/b/*/table": FILE_SIZE + _AROUND,
            "/builds/import": LARGEST_IN_ALL + _AROUND,
        }
    ),
    fields=MappingProxyType({"/b/*/table": TABLE_FIELDS}),
)
