"""Published figures of fault current at a transformer."""

import pytest

from linecalc.calc.fault import fault_line_to_neutral, Impedance, source_impedance_line_to_neutral, transformer_fault_current

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
