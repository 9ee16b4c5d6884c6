"""Invented houses by the seed: every topology that one sheet should hold."""

from __future__ import annotations

from random import Random

from linecalc.project.builder import ProjectBuilder
from linecalc.project.model import Project

TOPOLOGIES = ("backup subpanel", "whole home", "supply side", "generation panel", "two panels", "no backup")


class House:
    """A house in the making: a builder, a counter of circuits, and a source of chance.

    In a *regular* house all runs are alike, as in a row of equal units on one wall.
    """

    def __init__(self, random: Random, edition: str, regular: bool):
        self.random = random
        self.regular = regular
        self.build = ProjectBuilder(title="Invented residence", code=f"NEC {edition}", address="1 Invented Lane")
        self.circuits = 0

    def run(self, start: str, end: str, **keys: object) -> None:
        """A circuit with a raceway of its own."""
        self.circuits += 1
        section = f"R{self.circuits}"
        method, length = ("EMT", 20) if self.regular else (self.random.choice(("EMT", "PVC40")), self.random.randint(4, 60))
        self.build.section(section, method=method, place="garage", moisture="dry", ambient="30 degC", length=f"{length} ft")
        self.build.circuit(f"C{self.circuits}", from_=start, to=end, path=[section], insulation="THWN-2",
                           material="Cu", **keys)


def random_house(seed: int, units: int | None = None, strings: int | None = None, modules: int | None = None,
                 topology: str | None = None) -> Project:
    """A valid project, the same for the same seed."""
    random = Random(seed)
    house = House(random, random.choice(("2017", "2020", "2023")), units is not None)
    _equipment(house.build)
    house.build.site(low_temperature="-14 degC", high_temperature="36 degC")
    house.build.service(voltage="240 V", rating="200 A", conductor="2/0 AWG Cu THWN-2", location="east wall",
                        fault_current="10 kA", fault_current_at="meter")
    count = random.randint(1, 4) if units is None else units
    topology = random.choice(TOPOLOGIES) if topology is None else topology
    homes = _PARTS[topology](house, count)
    left_strings = [random.randint(1, 2) for _ in homes] if strings is None else _shares(strings, len(homes))
    left_modules = [random.randint(0, 2) for _ in homes] if modules is None else _shares(modules, len(homes))
    for number, panel in enumerate(homes, start=1):
        _unit(house, f"U{number}", panel, left_strings[number - 1], left_modules[number - 1])
    return house.build.build()


def _shares(total: int, parts: int) -> list[int]:
    """A number shared out as evenly as it goes."""
    return [total // parts + (1 if index < total % parts else 0) for index in range(parts)]


def _equipment(build: ProjectBuilder) -> None:
    build.equipment("mod-420", kind="pv module", power="420 W", voc="38.1 V", isc="13.9 A", vmp="31.9 V", imp="13.2 A",
                    voc_coefficient="-0.26 %/K", pmax_coefficient="-0.34 %/K", series_fuse="25 A")
    build.equipment("unit-76", kind="unit", description="7.6 kW inverter-battery unit", ac_power="7.6 kW",
                    ac_current="32 A", ac_current_island="32 A", overcurrent_max="40 A", mppt=6, mppt_current="14 A",
                    mppt_short_circuit="18 A", dc_voltage_max="600 V", energy="10.4 kWh", charge_power="5 kW",
                    neutral="loads", storage_modules_max=4)
    build.equipment("store-104", kind="storage module", energy="10.4 kWh", charge_power="5 kW",
                    discharge_power="5 kW", voltage_min="340 V", current="16 A")


def _panel(house: House, tag: str, main: str, **keys: object) -> None:
    random = house.random
    house.build.panel(tag, bus="225 A", main=main, feed=random.choice(("top", "bottom", "center")),
                      location=random.choice(("garage, interior", "east wall", None)),
                      description=random.choice((None, "panel with a rather long description of what it is")),
                      existing=random.random() < 0.4, **keys)
    for number in range(random.randint(0, 2)):
        kind = random.choice(("appliance", "heat", "ev"))
        if kind == "ev":
            house.run(tag, f"{tag}-L{number}", breaker="60 A")
        house.build.load(f"{tag}-L{number}", panel=tag, kind=kind, power=f"{random.randint(1, 6)} kW",
                         continuous=kind != "appliance", description=random.choice((None, "range", "car in the garage")))


def _isolation(house: House, **keys: object) -> None:
    house.build.isolation("ID", rating="200 A", neutral_bond=False, switches_neutral=False, location="garage", **keys)


def _backup_subpanel(house: House, count: int) -> list[str]:
    _panel(house, "MP", "200 A", neutral_bond=True, service_disconnect=True)
    _isolation(house)
    _panel(house, "BP", "lugs", backup=True)
    house.run("service", "MP")
    house.run("MP", "ID", breaker="150 A", bus_position="opposite end")
    house.run("ID", "BP")
    return ["BP"] * count


def _whole_home(house: House, count: int) -> list[str]:
    house.build.disconnect("MD", rating="200 A", device="200 A", device_kind="breaker", neutral_bond=True,
                           service_disconnect=True, location="east wall")
    _isolation(house)
    _panel(house, "MP", "lugs", backup=True)
    house.run("service", "MD")
    house.run("MD", "ID")
    house.run("ID", "MP")
    return ["MP"] * count


def _supply_side(house: House, count: int) -> list[str]:
    house.build.junction("TAP", description="supply-side connection")
    _panel(house, "MP", "100 A", neutral_bond=True, service_disconnect=True)
    house.build.disconnect("PD", rating="200 A", device="175 A", device_kind="fuse", neutral_bond=True,
                           service_disconnect=True, purpose="source disconnect")
    house.build.panel("GP", bus="225 A", main="lugs", generation=True)
    house.run("service", "TAP")
    house.run("TAP", "MP")
    house.run("TAP", "PD")
    house.run("PD", "GP")
    return ["GP"] * count


def _generation_panel(house: House, count: int) -> list[str]:
    _panel(house, "MP", "200 A", neutral_bond=True, service_disconnect=True)
    house.build.panel("GP", bus="225 A", main="lugs", generation=True, location="garage")
    house.run("service", "MP")
    house.run("MP", "GP", breaker="175 A", bus_position="opposite end")
    return ["GP"] * count


def _two_panels(house: House, count: int) -> list[str]:
    _panel(house, "MP", "200 A", neutral_bond=True, service_disconnect=True)
    _panel(house, "SP", "lugs")
    house.run("service", "MP")
    house.run("MP", "SP", breaker="125 A")
    return [("MP", "SP")[number % 2] for number in range(count)]


def _no_backup(house: House, count: int) -> list[str]:
    _panel(house, "MP", "200 A", neutral_bond=True, service_disconnect=True)
    house.run("service", "MP")
    return ["MP"] * count


_PARTS = {
    "backup subpanel": _backup_subpanel,
    "whole home": _whole_home,
    "supply side": _supply_side,
    "generation panel": _generation_panel,
    "two panels": _two_panels,
    "no backup": _no_backup,
}


def _unit(house: House, tag: str, panel: str, strings: int, modules: int) -> None:
    random, build = house.random, house.build
    build.unit(tag, equipment="unit-76", location="garage wall", mounting="wall")
    if random.random() < 0.3 and not house.regular:
        build.disconnect(f"{tag}-D", rating="60 A", location="garage wall", description="unit disconnect")
        house.run(tag, f"{tag}-D")
        house.run(f"{tag}-D", panel, breaker="40 A")
    else:
        house.run(tag, panel, breaker="40 A", bus_position="opposite end")
    boxed = random.random() < 0.4 and not house.regular
    for number in range(1, strings + 1):
        string = f"{tag}-S{number}"
        build.string(string, module="mod-420", count=random.randint(4, 12), to=tag, input=number)
        if boxed:
            build.junction(f"{string}-J", location="roof", description="roof box")
            house.run(string, f"{string}-J")
            house.run(f"{string}-J", tag)
        else:
            house.run(string, tag)
    for number in range(1, modules + 1):
        build.storage(f"{tag}-B{number}", equipment="store-104", unit=tag, location="garage wall")
        house.run(f"{tag}-B{number}", tag)
