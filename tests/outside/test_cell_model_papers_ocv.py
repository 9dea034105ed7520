"""Open-circuit voltages of typical cells, from published cell models.

Sources, places cited from memory: NMC 811, Chen et al., J. Electrochem. Soc. 167 (2020) 080534;
NMC 532, Mohtat et al., 167 (2020) 110561; NCA, Kim et al., 158 (2011) A955; LFP, Prada et al.,
160 (2013) A616; LCO, Ai et al., 167 (2020) 013512. The papers give the two electrodes; a general
battery mathematics library worked out the cell at 25 °C between its voltage limits, and these
numbers were typed from its output at six states of charge, to four decimals.

The second test holds the same curves against a rule that needs no library: a rested cell at half
charge is near the nominal voltage of its class, 3.6 V to 3.8 V with cobalt or nickel and 3.2 V to
3.3 V for iron phosphate (cell data sheets, from memory).
"""

from __future__ import annotations

import pytest

from wattwright.physics.pack_voltage import cell_voltage, open_circuit_curve

SHARES = (0.10, 0.20, 0.50, 0.80, 0.90, 1.00)
PRINTED = {
    "NMC 811": (3.2959, 3.4852, 3.7509, 4.0421, 4.0967, 4.2000),
    "NMC": (3.5107, 3.5847, 3.7155, 3.9705, 4.0767, 4.2000),
    "NCA": (3.2471, 3.3721, 3.6846, 3.9803, 4.0803, 4.2000),
    "LFP": (2.9781, 3.1685, 3.2660, 3.3097, 3.3142, 3.6000),
    "LCO": (3.6396, 3.6954, 3.7925, 3.9945, 4.0879, 4.2000),
}
NOMINAL = {
    "NMC 811": (3.6, 3.8),
    "NMC": (3.6, 3.8),
    "NCA": (3.6, 3.8),
    "LFP": (3.2, 3.3),
    "LCO": (3.6, 3.8),
}


@pytest.mark.parametrize("chemistry", PRINTED)
def test_printed_points(chemistry: str) -> None:
    curve = open_circuit_curve(chemistry)
    for share, printed in zip(SHARES, PRINTED[chemistry], strict=True):
        found = cell_voltage(share, curve.charge_shares, curve.voltages)
        assert abs(found - printed) <= 0.00005


@pytest.mark.parametrize("chemistry", NOMINAL)
def test_half_charge_is_near_the_nominal_voltage(chemistry: str) -> None:
    curve = open_circuit_curve(chemistry)
    low, high = NOMINAL[chemistry]
    assert low <= cell_voltage(0.5, curve.charge_shares, curve.voltages) <= high
