"""Typed look-ups in the tables of one edition.

Each look-up returns a :class:`Term` whose origin names table, row and column,
made once and kept, so that a look-up in a loop costs a dictionary access.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from linecalc.calc.dwelling_load import DemandBand
from linecalc.codebook import citations, tables
from linecalc.codebook.edition import Wording, wording
from linecalc.errors import TableError
from linecalc.term import Term

_STEEL = ("EMT", "RMC", "IMC", "FMC", "LFMC", "MC")
NIPPLE_FT = 2.0


@dataclass(frozen=True, slots=True)
class InsulationRating:
    """Temperature of an insulation type, dry, damp and wet, in degC; None where not permitted."""

    type: str
    dry_c: float | None
    damp_c: float | None
    wet_c: float | None

    def in_place(self, moisture: str) -> float | None:
        """The rating in a ``dry``, ``damp`` or ``wet`` place."""
        return {"dry": self.dry_c, "damp": self.damp_c, "wet": self.wet_c}[moisture]


@dataclass(frozen=True, slots=True)
class Book:
    """The code book of one edition. Use :func:`open_book` to get one."""

    edition: str
    wording: Wording
    _cells: dict[tuple[str, str, str], Term | None] = field(default_factory=dict, repr=False, compare=False)

    def cite(self, key: str) -> citations.Citation:
        """The citation of a rule key."""
        return citations.cite(self.edition, key)

    def table(self, name: str) -> tables.Table:
        """A whole table of this edition."""
        return tables.load(name, self.edition)

    def cell(self, name: str, row: tuple[str, ...], column: str, symbol: str, unit: str, meaning: str) -> Term | None:
        """One cell as a Term, or None where the table is blank.

        Raises
        ------
        TableError
            The table has no such row or column.
        """
        key = (name, "/".join(row), column)
        if key not in self._cells:
            self._cells[key] = self._read(name, row, column, symbol, unit, meaning)
        return self._cells[key]

    def _read(self, name: str, row: tuple[str, ...], column: str, symbol: str, unit: str, meaning: str) -> Term | None:
        table = self.table(name)
        at = table.column(column)
        width = len(row)
        for cells in table.rows:
            if cells[:width] == row:
                if not cells[at]:
                    return None
                origin = f"table:{name}/{'/'.join(row)}/{column}"
                return Term(float(cells[at]), unit, symbol=symbol, meaning=meaning, origin=origin, cite=table.header.rule_key)
        raise TableError(f"{table.number} has no row {' '.join(row)}")

    def ampacity(self, size: str, material: str, column_c: int) -> Term | None:
        """Table ampacity in raceway or cable, in amperes; None where the size is not listed.

        References
        ----------
        ``ampacity_table``: Table 310.16 (2020, 2023), Table 310.15(B)(16) (2017).
        """
        column = f"{material.lower()}_{column_c}c_a"
        return self.cell("310.16", (size,), column, f"I_{column_c}", "A", f"table ampacity of {size} {material} at {column_c} degC")

    def ampacity_free_air(self, size: str, material: str, column_c: int) -> Term | None:
        """Ampacity of a single conductor in free air, in amperes.

        References
        ----------
        ``ampacity_free_air``: Table 310.17 (2020, 2023), Table 310.15(B)(17) (2017).
        """
        column = f"{material.lower()}_{column_c}c_a"
        meaning = f"free-air ampacity of {size} {material} at {column_c} degC"
        return self.cell("310.17", (size,), column, f"I_{column_c}air", "A", meaning)

    def ambient_factor(self, ambient_c: float, column_c: int) -> Term | None:
        """Factor of the band that holds ``ambient_c``; between bands the warmer one; None above the table.

        References
        ----------
        ``ambient_correction``: Table 310.15(B)(1)(1) (2023).
        """
        for top in self.table("310.15-B-1").texts("ambient_c_max"):
            if ambient_c <= float(top) + 1e-9:
                meaning = f"ambient factor to {top} degC, {column_c} degC insulation"
                return self.cell("310.15-B-1", (top,), f"factor_{column_c}c", "f_amb", "", meaning)
        return None

    def count_factor(self, conductors: int) -> Term:
        """Factor for the number of current-carrying conductors; 1 up to three.

        References
        ----------
        ``ccc_adjustment``: Table 310.15(C)(1) (2020, 2023).
        """
        if conductors <= 3:
            return Term(1.0, symbol="f_count", meaning=f"{conductors} current-carrying conductors, no adjustment", origin="table:310.15-C-1")
        table = self.table("310.15-C-1")
        for low, high in zip(table.texts("conductors_min"), table.texts("conductors_max"), strict=True):
            if conductors >= int(low) and (not high or conductors <= int(high)):
                meaning = f"factor for {conductors} current-carrying conductors"
                found = self.cell("310.15-C-1", (low,), "factor", "f_count", "", f"factor for {low} to {high or 'more'} conductors")
                return Term(found.value, symbol="f_count", meaning=meaning, origin=found.origin)
        raise TableError(f"{table.number} has no row for {conductors} conductors")

    def rooftop(self) -> tuple[float, Term]:
        """Trigger height in inches and the adder in degC (K).

        References
        ----------
        ``rooftop_adder``: 310.15(B)(2) (2020, 2023), 310.15(B)(3)(c) (2017).
        """
        height = self.table("310.15-B-2").texts("height_max_in")[0]
        return float(height), self.cell("310.15-B-2", (height,), "adder_c", "dT_roof", "K", "rooftop temperature adder")

    def standard_ratings(self) -> tuple[float, ...]:
        """Standard ampere ratings of fuses and circuit breakers, rising.

        References
        ----------
        ``standard_ocpd``: 240.6(A).
        """
        return tuple(sorted(value for value in self.table("240.6-A").floats("rating_a") if value))

    def small_conductor_limit(self, size: str, material: str) -> Term | None:
        """Largest device for a small conductor, in amperes; None where the section sets none.

        References
        ----------
        ``small_conductors``: 240.4(D).
        """
        table = self.table("240.4-D")
        if (size, material) not in zip(table.texts("size"), table.texts("material"), strict=True):
            return None
        return self.cell("240.4-D", (size, material), "ocpd_max_a", "I_small", "A", f"device limit of {size} {material}")

    def egc_size(self, device_a: float, material: str) -> str:
        """Smallest equipment grounding conductor for a device.

        References
        ----------
        ``egc``: Table 250.122.
        """
        table = self.table("250.122")
        for rating, size in zip(table.floats("rating_a"), table.texts(f"{material.lower()}_size"), strict=True):
            if device_a <= rating + 1e-9:
                return size
        raise TableError(f"{table.number} ends at {table.floats('rating_a')[-1]:g} A, asked for {device_a:g} A")

    def electrode_conductor(self, ungrounded_area_cmil: float, ungrounded_material: str, material: str) -> str:
        """Grounding electrode conductor by the area of the largest ungrounded conductor.

        References
        ----------
        ``gec``: Table 250.66.
        """
        return self._by_ungrounded("250.66", ungrounded_area_cmil, ungrounded_material, f"gec_{material.lower()}")

    def electrode_limit(self, electrode: str, material: str) -> str | None:
        """Size above which a kind of electrode asks for nothing, where the conductor goes to no other kind; None for no limit.

        References
        ----------
        ``electrode_limits``: 250.66(A) to (C).
        """
        table = self.table("250.66-electrodes")
        for kind, size in zip(table.texts("electrode"), table.texts(f"limit_{material.lower()}"), strict=True):
            if kind == electrode:
                return size or None
        raise TableError(f"{table.number} has no row {electrode}")

    def supply_side_jumper(self, ungrounded_area_cmil: float, ungrounded_material: str, material: str) -> str:
        """Supply-side bonding jumper or grounded conductor by the largest ungrounded conductor; "" above the table.

        References
        ----------
        ``ssbj``: Table 250.102(C)(1).
        """
        return self._by_ungrounded("250.102-C-1", ungrounded_area_cmil, ungrounded_material, f"jumper_{material.lower()}")

    def _by_ungrounded(self, name: str, area_cmil: float, ungrounded_material: str, column: str) -> str:
        table = self.table(name)
        for top, size in zip(table.texts(f"{ungrounded_material.lower()}_max"), table.texts(column), strict=True):
            if not top or area_cmil <= self._row_area_cmil(top) + 1e-9:
                return size
        raise TableError(f"{table.number} has no row for {area_cmil:g} cmil")

    def _row_area_cmil(self, size: str) -> float:
        """Area of a row's size; sizes such as 1100 kcmil head a row but are not in Table 8."""
        return float(size.split()[0]) * 1000.0 if size.endswith("kcmil") else self.area_cmil(size).value

    def dwelling_size(self, rating_a: float, material: str) -> str | None:
        """Size of the 83 percent table for a dwelling service or feeder; None outside 100 to 400 A.

        References
        ----------
        ``dwelling_83pct``: Table 310.12(A) (2023); 310.15(B)(7) (2017).
        """
        table = self.table("310.12")
        for rating, size in zip(table.floats("rating_a"), table.texts(f"{material.lower()}_size"), strict=True):
            if abs(rating - rating_a) < 1e-9:
                return size
        return None

    def lighting_bands(self) -> tuple[DemandBand, ...]:
        """The demand bands of general lighting in dwellings, rising.

        References
        ----------
        ``load_lighting_demand``: Table 220.45 (2023), Table 220.42 (2017, 2020).
        """
        table = self.table("220.45")
        found = []
        for start, end in zip(table.texts("from_va"), table.texts("to_va"), strict=True):
            above = Term(float(start), "VA", symbol=f"S_{start}", meaning="end of the portion before", origin=f"table:220.45/{start}/from_va")
            top = self.cell("220.45", (start,), "to_va", f"S_{end}", "VA", "end of this portion")
            percent = self.cell("220.45", (start,), "demand_percent", f"d_{start}", "percent", f"demand of the portion from {start} VA")
            found.append(DemandBand(above, top, percent))
        return tuple(found)

    def dryer_percent(self, dryers: int) -> Term:
        """Demand of household dryers in percent.

        References
        ----------
        ``load_dryer``: Table 220.54.
        """
        return self.cell("220.54", (str(dryers),), "demand_percent", "d_dryer", "percent", f"demand of {dryers} dryer{'s' if dryers > 1 else ''}")

    def cooking_percent(self, appliances: int, column: str) -> Term:
        """Demand of column ``a`` or ``b`` for household cooking appliances in percent.

        References
        ----------
        ``load_range``: Table 220.55.
        """
        meaning = f"column {column.upper()} for {appliances} appliance{'s' if appliances > 1 else ''}"
        return self.cell("220.55", (str(appliances),), f"column_{column}_percent", f"d_{column.upper()}", "percent", meaning)

    def cooking_kilowatts(self, appliances: int) -> Term:
        """Demand of column C for household cooking appliances in kilowatts.

        References
        ----------
        ``load_range``: Table 220.55.
        """
        return self.cell("220.55", (str(appliances),), "column_c_kw", "C", "kW", f"column C for {appliances} appliance{'s' if appliances > 1 else ''}")

    def cold_factor(self, ambient_c: float) -> Term:
        """Table voltage correction; between printed bands the colder one.

        References
        ----------
        ``pv_voltage_table``: Table 690.7(A).
        """
        table = self.table("690.7-A")
        for low, factor in zip(table.texts("ambient_c_min"), table.texts("factor"), strict=True):
            if ambient_c >= float(low) - 1e-9:
                return self.cell("690.7-A", (low,), "factor", "f_cold", "", f"voltage correction to {low} degC")
        raise TableError(f"{table.number} ends at {table.texts('ambient_c_min')[-1]} degC, asked for {ambient_c:g} degC")

    def insulation(self, kind: str) -> InsulationRating:
        """Temperature rating of an insulation type.

        Raises
        ------
        TableError
            The type is not in the table.
        """
        table = self.table("insulation")
        if kind not in table.texts("type"):
            raise TableError(f'insulation "{kind}" is not in the table; one of {", ".join(table.texts("type"))}')
        at = table.texts("type").index(kind)
        return InsulationRating(kind, *(table.floats(f"{place}_c")[at] for place in ("dry", "damp", "wet")))

    def area_cmil(self, size: str) -> Term:
        """Conductor area in circular mils.

        References
        ----------
        ``conductor_dc_r``: Chapter 9 Table 8.
        """
        return self.cell("ch9-8", (size, "stranded"), "area_cmil", "A_cm", "cmil", f"area of {size}")

    def dc_resistance(self, size: str, material: str) -> Term:
        """Direct-current resistance at 75 degC, stranded, uncoated, in ohms per 1000 ft.

        References
        ----------
        ``conductor_dc_r``: Chapter 9 Table 8.
        """
        column = "cu_uncoated_ohm_per_kft" if material == "Cu" else "al_ohm_per_kft"
        return self.cell("ch9-8", (size, "stranded"), column, "R_dc", "ohm/kft", f"dc resistance of {size} {material} at 75 degC")

    def ac_resistance(self, size: str, material: str, raceway: str) -> Term | None:
        """Alternating-current resistance at 75 degC in ohms per 1000 ft; None where the table lacks the size.

        References
        ----------
        ``conductor_ac_z``: Chapter 9 Table 9.
        """
        if size not in self.table("ch9-9").texts("size"):
            return None
        column = f"r_{material.lower()}_{_conduit(raceway)}_ohm_per_kft"
        return self.cell("ch9-9", (size,), column, "R", "ohm/kft", f"ac resistance of {size} {material}, {raceway}")

    def reactance(self, size: str, raceway: str) -> Term | None:
        """Reactance in ohms per 1000 ft; None where the table lacks the size.

        References
        ----------
        ``conductor_ac_z``: Chapter 9 Table 9.
        """
        if size not in self.table("ch9-9").texts("size"):
            return None
        column = "x_steel_ohm_per_kft" if _conduit(raceway) == "steel" else "x_pvc_al_ohm_per_kft"
        return self.cell("ch9-9", (size,), column, "X", "ohm/kft", f"reactance of {size}, {raceway}")

    def conductor_area_in2(self, size: str, insulation: str) -> Term | None:
        """Area of an insulated conductor in square inches; None where the maker decides it.

        References
        ----------
        ``conductor_dimensions``: Chapter 9 Table 5.
        """
        table = self.table("ch9-5")
        for group, row_size, types in zip(table.texts("insulation"), table.texts("size"), table.texts("types"), strict=True):
            if row_size == size and insulation in types.split():
                return self.cell("ch9-5", (group, size), "area_in2", "A_wire", "in2", f"area of {size} {insulation}")
        return None

    def bare_area_in2(self, size: str) -> Term:
        """Area of a bare stranded conductor in square inches.

        References
        ----------
        ``conductor_dimensions``: Chapter 9 Table 8.
        """
        return self.cell("ch9-8", (size, "stranded"), "area_in2", "A_bare", "in2", f"area of bare {size}")

    def raceway_sizes(self, raceway: str) -> tuple[str, ...]:
        """The trade sizes of a raceway, rising."""
        table = self.table("ch9-4")
        return tuple(size for kind, size in zip(table.texts("raceway"), table.texts("trade_size"), strict=True) if kind == raceway)

    def raceway_area_in2(self, raceway: str, trade_size: str) -> Term:
        """Internal area of a raceway in square inches.

        References
        ----------
        ``raceway_dimensions``: Chapter 9 Table 4.
        """
        return self.cell("ch9-4", (raceway, trade_size), "total_in2", "A_race", "in2", f"internal area of {raceway} {trade_size} in")

    def fill_limit(self, conductors: int, length_ft: float) -> Term:
        """Percent of the internal area that conductors may fill; 60 in a nipple of 24 in or less.

        References
        ----------
        ``raceway_fill``: Chapter 9 Table 1 and Note 4.
        """
        row = "nipple" if length_ft <= NIPPLE_FT else str(conductors) if conductors < 3 else "3 or more"
        return self.cell("ch9-1", (row,), "fill_percent", "fill_max", "percent", f"fill limit, {row} conductors")

    def motor_full_load(self, horsepower: str, voltage_column: str) -> Term:
        """Full-load current of a single-phase motor in amperes; ``horsepower`` and column as the table names them.

        References
        ----------
        ``motor_flc``: Table 430.248.
        """
        return self.cell("430.248", (horsepower,), f"flc_{voltage_column}_a", "FLC", "A", f"full-load current, {horsepower} hp at {voltage_column[:-1]} V")

    def motor_device_percent(self, device: str) -> Term:
        """Largest device of a single-phase motor in percent of its full-load current; ``device`` is a column of the table.

        References
        ----------
        ``motor_ocpd``: Table 430.52(C)(1) (2023), Table 430.52.
        """
        meaning = f"largest {device.removesuffix('_percent').replace('_', ' ')} of a motor"
        return self.cell("430.52", ("single-phase",), device, "p_dev", "percent", meaning)

    def locked_rotor_kva(self, letter: str) -> Term | None:
        """Upper end of a code letter's band in kVA per horsepower; None for the letter without one.

        References
        ----------
        ``locked_rotor_letters``: Table 430.7(B).
        """
        return self.cell("430.7-B", (letter,), "kva_per_hp_max", "k_LR", "kVA/hp", f"upper end of code letter {letter}")

    def resistance_alpha(self, material: str) -> Term:
        """Temperature coefficient of resistance at 75 degC, per K.

        References
        ----------
        ``conductor_dc_r``: Chapter 9 Table 8, note.
        """
        return self.cell("resistance", (material,), "alpha_per_c", "a", "1/K", f"temperature coefficient of {material}")


def _conduit(raceway: str) -> str:
    return "steel" if raceway in _STEEL else "pvc"


@lru_cache(maxsize=8)
def open_book(edition: str) -> Book:
    """The code book of an edition given as ``2023`` or ``NEC 2023``."""
    words = wording(edition)
    return Book(words.year, words)
