"""Example (e): a script that describes the house of example (a) and checks it.

    python examples/e.py > a.json

It prints the results as JSON, byte for byte what
``linecalc check examples/a.toml --format json`` prints. The house and all
equipment are invented.
"""

from __future__ import annotations

import sys

import linecalc

COPPER = {"insulation": "THWN-2", "material": "Cu"}
SWITCHES = {"ac_disconnect": "C1", "ac_disconnect_in_sight": True, "pv_disconnect": "integral", "storage_disconnect": "integral"}
SPACE = {"working_width": "36 in", "working_depth": "40 in", "working_height": "84 in"}
GARAGE = {"space": "attached garage", "vehicle_protection": "raised", "wall_capacity": "250 kg", "clearance": "12 in"}
FREE_AIR_FT = {1: "30 ft", 2: "45 ft"}


def house() -> linecalc.Project:
    """The small house with one unit and a backup subpanel."""
    house = linecalc.ProjectBuilder(
        title="Juniper Bend residence",
        code="NEC 2023",
        address="118 Juniper Bend, Example County",
        owner="Example Owner",
        designer="Example Designer",
        license="EX-0000 (invented)",
        parcel="000-111-222",
        scope="New roof-mounted PV, one inverter-battery unit and a backup subpanel",
        date="2026-03-02",
    )
    house.site(
        low_temperature=quantity("-14 degC", "extreme annual mean minimum, airport station (invented)"),
        high_temperature=quantity("36 degC", "2 % design dry bulb, June to August (invented)"),
        mounting="close to roof",
        irc_edition="2021",
        fire_code_edition="NFPA 855 2023",
    )
    house.service(
        voltage="240 V",
        rating="200 A",
        conductor="2/0 AWG Cu THWN-2",
        terminals="75 degC",
        meter_number="EX-east-0001",
        meter="on the east wall",
        location="east wall, outdoors",
        fault_current=quantity("10 kA", "utility letter requested", "assumed"),
        fault_current_at="meter",
        x_over_r=1.5,
    )
    house.backup(method="full load", runtime_load="1.5 kW")
    papers(house)
    house.rapid_shutdown(
        initiator="rapid shutdown switch RSS",
        location="east wall, outdoors, beside the meter",
        equipment="shutdown function of the listed array and unit (invented)",
        listing="UL 1741, hazard control by UL 3741",
        inside="listed array",
    )
    house.required(
        emergency_shutdown="switch RSS beside the meter stops unit and storage",
        emergency_shutdown_outdoors=True,
    )
    house.grounding(
        electrodes=["concrete-encased", "rod"],
        existing=True,
        location="below the main panel",
        array_bonding="frames bonded by listed clamps, rails by listed splices (invented kit)",
        array_listing="UL 2703",
        array_electrode="building",
    )
    equipment(house)
    panels(house)
    for number in FREE_AIR_FT:
        string(house, number)
    loads(house)
    feeders(house)
    return house.build()


def quantity(value: str, source: str, basis: str = "given") -> dict[str, str]:
    """A quantity with its source; a basis of ``given`` need not be said."""
    stated = {"value": value, "source": source}
    return stated if basis == "given" else {**stated, "basis": basis}


def papers(house: linecalc.ProjectBuilder) -> None:
    """What offices ask a sheet to say, and what goes with the sheets."""
    house.revision("0", "2026-03-02", "first issue")
    house.facts(
        codes=["IRC 2021 (invented adoption)", "NFPA 855 2023 (invented adoption)"],
        contractor="Example Electric (invented)",
        contractor_license="C-EX, electrical and solar (invented)",
        seal="not asked for by the county at this size (invented)",
        metering="one net meter; no production meter",
        monitoring="current transformers on both service conductors in MP, to U1",
        communication="shielded pair between U1 and ID, in a raceway of its own",
        interlocks="ID closes only on a matched utility, by its listed contactor",
        state_list="module and unit are on the state list (invented)",
        alarm="heat alarm in the garage, interconnected (invented)",
        separation="one unit, no spacing needed",
        fire_inspection="final inspection by the fire department is booked with the county (invented)",
    )
    house.attachments(
        site_plan="sheet A-1, by others",
        roof_plan="sheet A-2, by others",
        elevation="sheet A-3, photo of the service wall",
        raceway_plan="sheet A-1",
        panel_photo="photos P-1 and P-2",
        load_calculation="worksheet L-1",
        spec_sheets="module, unit, isolation device, racking",
        instructions="excerpts of unit and isolation device",
        box_listing="roof boxes, in the specification sheets",
        racking_listing="UL 2703, in the specification sheets",
        interconnection_letter="asked for, not yet received",
        as_built="drawn again before final inspection",
        storage_plan="sheet A-4, unit, doors and clearances",
        mounting_detail="sheet A-4, wall bracket and anchors",
        commissioning="commissioning sheet and owner manual, at hand-over",
        hazard_documentation="emergency plan of the unit (invented)",
    )


def equipment(house: linecalc.ProjectBuilder) -> None:
    """Invented datasheets."""
    house.equipment(
        "mod-420",
        kind="pv module",
        description="420 W PV module",
        power="420 W",
        voc="38.1 V",
        isc="13.9 A",
        vmp="31.9 V",
        imp="13.2 A",
        voc_coefficient="-0.26 %/K",
        pmax_coefficient="-0.34 %/K",
        series_fuse="25 A",
        system_voltage="1000 V",
        technology="crystalline silicon",
        listing="UL 61730",
    )
    house.equipment(
        "unit-76",
        kind="unit",
        description="7.6 kW inverter-battery unit",
        ac_power="7.6 kW",
        ac_current="32 A",
        ac_current_island="32 A",
        ac_power_island="7.6 kW",
        charge_current_ac="21 A",
        grid_charging="yes",
        overcurrent_max="40 A",
        terminals="75 degC",
        mppt=2,
        mppt_current="14 A",
        mppt_short_circuit="18 A",
        mppt_short_circuit_basis="1.25 Isc",
        mppt_window=["90 V", "520 V"],
        dc_voltage_max="600 V",
        array_power_max="12 kW",
        backfeed_current="0 A",
        energy="10.4 kWh",
        usable_energy="9.8 kWh",
        charge_power="5 kW",
        discharge_power="7.6 kW",
        power_factor=1.0,
        leg_current="32 A",
        neutral="loads",
        neutral_rating="32 A",
        neutral_bond="none",
        start_current="110 A",
        start_duration="3 s",
        start_currents_add="no",
        storage_modules_max=2,
        interrupting="10 kA",
        listing="UL 9540, UL 1741 SB",
        arc_fault="UL 1699B, in the unit",
        ground_fault="UL 1741, in the unit",
        dc_switch_voltage="1000 V",
        dc_switch_current="30 A",
        storage_voltage_min="350 V",
        storage_voltage_max="450 V",
        storage_current="30 A",
        listed_as="cabinet",
        mass="140 kg",
        width="30 in",
        height="44 in",
        clearance="12 in",
    )


def panels(house: linecalc.ProjectBuilder) -> None:
    """Panels, isolation device and unit."""
    inside = {"location": "garage, interior", "terminals": "75 degC", **SPACE}
    house.panel(
        "MP",
        description="main panel",
        bus="200 A",
        main="200 A",
        feed="top",
        existing=True,
        interrupting="22 kA",
        neutral_bond=True,
        condition="single bus, no recall known (invented)",
        service_disconnect=True,
        **inside,
    )
    house.panel(
        "BP",
        description="backup subpanel",
        backup=True,
        bus="125 A",
        main="lugs",
        feed="top",
        interrupting="10 kA",
        neutral_bond=False,
        **inside,
    )
    house.isolation(
        "ID",
        description="isolation device",
        rating="100 A",
        internal_bus="no",
        neutral_bond=False,
        switches_neutral=False,
        interrupting="22 kA",
        **inside,
    )
    house.unit("U1", equipment="unit-76", location="garage wall", mounting="wall", **GARAGE, **SPACE, **SWITCHES)


def string(house: linecalc.ProjectBuilder, number: int) -> None:
    """A string with its roof box and its conductors."""
    box, under_array = f"JB{number}", f"F{number}"
    house.string(f"S{number}", module="mod-420", count=9, to="U1", input=number)
    house.junction(box, description=f"roof box, string {number}", location="roof", enclosure="4X", terminals="75 degC")
    house.circuit(
        f"P{number}",
        from_=f"S{number}",
        to=box,
        path=[under_array],
        conductor="10 AWG Cu PV wire",
        terminals_from="75 degC",
    )
    house.circuit(f"P{number + 2}", from_=box, to="U1", path=["R1", "R2"], **COPPER)
    house.section(
        under_array,
        method="free air",
        place="under array",
        moisture="wet",
        ambient=quantity("60 degC", "air under a close-mounted array", "assumed"),
        length=FREE_AIR_FT[number],
    )


def loads(house: linecalc.ProjectBuilder) -> None:
    """The calculated loads of the house and of its backed-up part."""
    whole = {"kind": "calculated", "continuous_part": "0 A", "power_factor": 0.95}
    house.load("HOUSE", panel="MP", current="92 A", unbalance="40 A", calculation="220.82, attached", **whole)
    backed_up = "Article 220 over the backed-up circuits, attached"
    house.load("BACKUP", panel="BP", current="27 A", unbalance="14 A", calculation=backed_up, **whole)


def feeders(house: linecalc.ProjectBuilder) -> None:
    """The AC circuits and all raceways."""
    house.circuit("C1", from_="U1", to="BP", path=["R3"], bus_position="opposite end", **COPPER)
    house.circuit(
        "C2",
        from_="MP",
        to="ID",
        breaker="60 A",
        path=["R4"],
        conductor="6 AWG Cu THWN-2",
        bus_position="opposite end",
        power_factor=0.95,
    )
    house.circuit("C3", from_="ID", to="BP", path=["R5"], power_factor=0.95, **COPPER)
    house.circuit("C4", from_="service", to="MP", path=["R6"], existing=True, power_factor=0.95)
    house.section(
        "R1",
        method="EMT",
        place="roof, in the sun",
        moisture="wet",
        sun=True,
        height_above_roof="1 in",
        ambient="36 degC",
        length="12 ft",
    )
    house.section(
        "R2",
        method="EMT",
        place="attic and garage",
        moisture="dry",
        ambient=quantity("52 degC", "attic in summer", "assumed"),
        length="38 ft",
    )
    for tag, length in (("R3", "14 ft"), ("R4", "6 ft"), ("R5", "4 ft")):
        house.section(tag, method="EMT", place="garage", moisture="dry", ambient="36 degC", length=length)
    house.section(
        "R6", method="RMC", size="2 in", place="outdoor wall", moisture="wet", ambient="36 degC", length="8 ft"
    )


if __name__ == "__main__":
    sys.stdout.write(linecalc.results_json(linecalc.compute(house())))
