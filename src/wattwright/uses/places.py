"""Places of numbers in the plain vectors that the loop works on, as integers for both forms.

Parameters are in the order of the fields of ``inputs.Parameters``, and columns of a summary in the
order of ``results.SUMMARY``; tests hold them together.
"""

# Parameters.
(
    MASS,
    EQUIVALENT_MASS,
    F0,
    F1,
    F2,
    F0_OF_WIND,
    ROLLING_RADIUS,
    RATIO,
    DRIVELINE_EFFICIENCY,
    TORQUE_SCALE,
    LOSS_SCALE,
    MOTOR_LOSS_SHARE,
    HIGHEST_MOTOR_SPEED,
    REGEN_TORQUE,
    REGEN_DECELERATION,
    REGEN_CURRENT,
    REGEN_CURRENT_FULL,
    REGEN_TAPER_FROM,
    REGEN_COLD_FROM,
    REGEN_COLD_FULL,
    REGEN_FADE_LOW,
    REGEN_FADE_HIGH,
    VOLTAGE_SCALE,
    RESISTANCE,
    COLD_FACTOR,
    COLD_TEMPERATURE,
    CAPACITY,
    DISCHARGE_CURRENT,
    LOWEST_VOLTAGE,
    HIGHEST_VOLTAGE,
    AUXILIARY,
    HEATER,
    START_CHARGE,
    END_CHARGE,
    AMBIENT,
    START_MOTOR,
    START_INVERTER,
    START_DRIVE_COOLANT,
    START_PACK,
    START_PACK_COOLANT,
    HEAT_CAPACITY_MOTOR,
    HEAT_CAPACITY_INVERTER,
    HEAT_CAPACITY_DRIVE_COOLANT,
    HEAT_CAPACITY_PACK,
    HEAT_CAPACITY_PACK_COOLANT,
    MOTOR_RESISTANCE,
    INVERTER_TO_COOLANT,
    DRIVE_COOLANT_TO_AMBIENT,
    PACK_TO_COOLANT,
    PACK_COOLANT_TO_AMBIENT,
    PACK_TO_AMBIENT,
    LIMIT_MOTOR,
    LIMIT_INVERTER,
    LIMIT_PACK,
    SPAN_MOTOR,
    SPAN_INVERTER,
    SPAN_PACK,
) = range(57)

# What goes on from step to step: temperatures in the order in which they are warmed.
SPEED, CHARGE, MOTOR, INVERTER, DRIVE_COOLANT, PACK, PACK_COOLANT = range(7)
STATES = 7

# Axes of maps, by which the piece looked up last is remembered; then where each axis begins, how
# many points it has, and where the heights over them begin.
CHARGES, TORQUE_SPEEDS, TORQUE_VOLTAGES, LOSS_SPEEDS, LOSS_TORQUES = range(5)
FIRST, POINTS = 5, 10
OPEN_CIRCUIT, TORQUE_LIMITS, LOSSES = range(15, 18)

# What a motion is: speed at the end m/s, time for which the vehicle moves s, motor torque N·m and
# loss W in that time, force at the wheels and of the friction brakes N, mean motor speed rad/s, and
# what held it back.
AFTER, MOVING, PULLED, LOST, PUSHED, BRAKED, TURNING, WHY = range(8)

# What is written down for every step.
(
    WHEEL_FORCE,
    BRAKE_FORCE,
    TORQUE,
    MOTOR_SPEED,
    SHAFT_POWER,
    DC_POWER,
    CURRENT,
    VOLTAGE,
    HELD_BACK_BY,
) = range(9)
CHANNELS = 9

# What kept a wanted speed from being reached.
(
    BY_NOTHING,
    BY_TORQUE,
    BY_PACK_POWER,
    BY_MOTOR_TEMPERATURE,
    BY_INVERTER_TEMPERATURE,
    BY_PACK_TEMPERATURE,
    BY_HIGHEST_SPEED,
) = range(7)

# Why a run ended.
END_OF_TRACE, EMPTY, CANNOT_FEED = range(3)

# Columns of a summary.
(
    CHEMISTRY,
    PACK_HEAT,
    AUXILIARY_ENERGY,
    HEATER_ENERGY,
    DRIVE_LOSS,
    DRIVELINE_LOSS,
    ROLLING,
    AIR,
    CLIMB,
    BRAKES,
    KINETIC,
    RECOVERED,
    DISTANCE,
    DISTANCE_SHORT,
    LARGEST_MISS,
    LARGEST_MISS_AT,
    ENDED_AT,
    ENDED_BY,
    LAST_CHARGE,
    PEAK_MOTOR,
    PEAK_INVERTER,
    PEAK_DRIVE_COOLANT,
    PEAK_PACK,
    PEAK_PACK_COOLANT,
    PEAK_CURRENT,
    PEAK_CHARGE_CURRENT,
    LOWEST_HELD,
    HIGHEST_HELD,
    RMS_1_S,
    RMS_10_S,
    RMS_60_S,
    RMS_600_S,
    RMS_WHOLE,
    LARGEST_TORQUE,
    SMALLEST_TORQUE,
) = range(35)
COLUMNS = 35
