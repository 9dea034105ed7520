"""The pass between describing and judging: the vehicle goes through everything it is put through.

    duty      what comes of a use, as values that carry the influence of every input
    stating   one result of runs as such a value
    rows      the numbers of each run: all inputs as they are, and each at either end of its band
    way       the way of each run, with each of its inputs at either end of its band
    lots      many runs at once
    kept      runs already made
    around    the runs, and what comes of them
    reaching  how far a use leads, and how far where one thing is done otherwise
    hills     how steep a hill is held for long, and for how long
    hardest   the working of a run: where its energy went, and its hardest second

Floats go into the loop of ``uses`` and come out of it; values are on this side alone.
"""
