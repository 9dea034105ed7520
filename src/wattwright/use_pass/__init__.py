"""The pass between describing and judging: the vehicle goes through everything it is put through.

    duty      what comes of a use, as values that carry the influence of every input
    stating   one result of runs as such a value
    rows      the numbers of each run: all inputs as they are, and each at either end of its band
    around    the runs, and what comes of them
    hills     how steep a hill is held for long, and for how long
    hardest   the working of a run: where its energy went, and its hardest second

Floats go into the loop of ``uses`` and come out of it; values are on this side alone.
"""
