"""Quick sums: the formulas of the program as pocket calculators, without a build.

Each is made from the declaration of its formula; nothing about it is written a second time.

    sums, find, search   the sums there are, one by its name, some by words
    left_out             formulas that no sum can be made of, and why
    Sum.work             reads what a person typed, and answers with result, working and doubts
"""

from wattwright.quick_sums.answers import Answer, Effect, Row, Working
from wattwright.quick_sums.blanks import Blank
from wattwright.quick_sums.catalogue import LeftOut, Sum, find, left_out, search, sums

__all__ = [
    "Answer",
    "Blank",
    "Effect",
    "LeftOut",
    "Row",
    "Sum",
    "Working",
    "find",
    "left_out",
    "search",
    "sums",
]
