"""Published figures of fault current at a transformer."""

import pytest

from linecalc.calc.fault import Impedance, fault_line_to_neutral, source_impedance_line_to_neutral, transformer_fault_current

NO_RUN = Impedance(0.0, 0.0)


# Source: Bussmann, note 2 of the point-to-point sheet in "Short Circuit Calculation",
# https://www.scribd.com/document/388329023/Short-Circuit-Calculation: line to neutral 1.5 times line to line at the
# terminals of a centre-tapped transformer, in theory 1.33 to 1.67.
@pytest.mark.parametrize("ratio", [1.33, 1.5, 1.67])
@pytest.mark.parametrize("x_over_r", [0.5, 2.0])
def test_the_line_to_neutral_fault_at_the_terminals_is_1_33_to_1_67_times_line_to_line(ratio: float, x_over_r: float) -> None:
    line_to_line_a = transformer_fault_current(25000.0, 240.0, 1.5)
    source = source_impedance_line_to_neutral(line_to_line_a, 120.0, ratio, x_over_r)
    assert fault_line_to_neutral(120.0, source, NO_RUN, NO_RUN) == pytest.approx(ratio * line_to_line_a)


# Source: Cooper Bussmann, "Electrical Plan Review", point-to-point method, fault 1,
# https://www.scribd.com/document/325386963/shortcircuitcalculations-160210110236: 300 kVA, three-phase, 208 V, 1.8 % after
# tolerance, 833 A x 55.55 = 46,273 A. Three-phase: the rating is entered over 1.732, which makes the same full-load current.
def test_833_a_of_full_load_at_1_8_percent_impedance_give_46_273_a() -> None:
    assert transformer_fault_current(300000.0 / 1.732, 208.0, 1.8) == pytest.approx(46273.0, rel=0.0005)
