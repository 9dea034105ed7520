"""Small pure functions on SI numbers, one module per phenomenon.

axle_loads   what stands on each axle and wheel, and where the centre of gravity is in plan
cg_height    centre of gravity height from an axle-lift weighing, and from parts
weigh_in     what a disagreement between scales and ledger means
tyre         what a tyre carries, how fast

air, road_load, rolling_radius, gearing, tractive, adhesion, acceleration
             from the motor's torque to the road, and what the road takes
pmsm, diode_generation, short_circuit, induction, induction_on_mains, motor_curve
             what a motor gives at a speed and a voltage, and what its magnets do by themselves
motor_losses what a drive loses on the way to the shaft
pack_voltage volts and ohms of cells in series
shaft        what a shaft bears

conductor, ampacity, cable_paths, cable_heat, cable_warming, short_circuit_cable, contact, fuse,
cable_laying what a cable loses, how warm it gets, what it may carry and what protects it
"""
