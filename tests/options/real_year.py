"""A real year of weather that ships with a library, for tests.

NREL, TMY3 (2008), Greensboro NC 723170: measured and modelled hours of a typical
year, as shipped with pvlib python (``pvlib/data/723170TYA.CSV``).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pandas as pd
import pvlib

from linecalc.options.weather import Weather

ALTITUDE_M = 273.0


@cache
def greensboro() -> Weather:
    """The year, read once; each hour stands at its middle."""
    data, about = pvlib.iotools.read_tmy3(Path(pvlib.__file__).parent / "data" / "723170TYA.CSV", map_variables=True, coerce_year=2023)
    middle = pd.date_range("2023-01-01 00:30", periods=8760, freq="1h", tz="Etc/GMT+5")
    columns = [data[name].to_numpy(dtype=float) for name in ("ghi", "dni", "dhi", "temp_air", "wind_speed")]
    return Weather("723170TYA.CSV", about["latitude"], about["longitude"], middle, *columns)
