"""What the vehicle goes through: one step after another over a trace of speeds.

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
