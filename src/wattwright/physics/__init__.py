"""Small pure functions on SI numbers, one module per phenomenon.

axle_loads   what stands on each axle and wheel, and where the centre of gravity is in plan
cg_height    centre of gravity height from an axle-lift weighing, and from parts
weigh_in     what a disagreement between scales and ledger means
tyre         what a tyre carries, how fast
"""
