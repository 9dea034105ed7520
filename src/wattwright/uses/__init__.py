"""What the vehicle is put through, second by second.

    cycles     published test cycles
    driving    from wanted speeds to speeds that can be driven, at steps of one second
    hills      the grade over each step, so that no climb is lost
    profile    a cycle, a route or stretches as one profile
    inputs     Trace, Parameters, Maps
    results    Run, Balance, Shortfall, the columns of a summary
    runs       run, run_many
    until      until_reserve, steady
    kernel     one step and the loop over a trace, in plain scalar functions
               (with look_up, motion, heat, windows and places)
    compiled   the same functions compiled, for many runs

Nothing here reads a build file or states a finding. Quasi-static: within a step the speed changes
evenly and powers are those at its mean; what follows from charge and temperatures is taken as it
stands at the beginning of the step.
"""
