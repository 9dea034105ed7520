"""What the vehicle is put through, second by second, in plain numbers.

    cycles     published test cycles
    driving    from wanted speeds to speeds that can be driven, at steps of one second
    hills      the grade over each step, so that no climb is lost
    profile    a cycle, a route or stretches as one profile

Nothing here reads a build: what goes in are numbers in SI, what comes out are numbers in SI.
"""
