"""Published dwelling loads: the last step, from volt-amperes to amperes."""

import pytest

from linecalc.calc.load import current_from_va, whole_amperes


# Source: JADE Learning, "Single Family Dwelling Calculation, Optional Method", 18 July 2016,
# https://www.jadelearning.com/blog/single-family-dwelling-calculation-optional-method/ (30,310 VA, 126 A), and
# Thompson Learning, "Annex D", example D2(b) of 2017, https://thompsonlearningco.com/chapter/annex-d/ (29,200 VA, 122 A).
@pytest.mark.parametrize(("load_va", "published_a"), [(30310.0, 126.0), (29200.0, 122.0)])
def test_calculated_loads_in_whole_amperes(load_va: float, published_a: float) -> None:
    assert whole_amperes(current_from_va(load_va, 240.0)) == pytest.approx(published_a)
