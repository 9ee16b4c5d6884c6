"""The arrangements of panels that a drawing must hold, each as a maker of an invented house.

A maker adds panels and what is between them to a house, and returns the panels in which units may hang.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.diagram.random_parts import House, add_loads

PANELS_MAX = 4
_SERVICE = {"voltage": "240 V", "rating": "200 A", "conductor": "2/0 AWG Cu THWN-2"}


def _panel(house: House, tag: str, main: str, loads: bool = True, **keys: object) -> None:
    random = house.random
    house.panel_count += 1
    if loads:
        house.panels.append(tag)
    existing = keys.pop("existing", random.random() < 0.4)
    house.build.panel(tag, bus="225 A", main=main, feed=random.choice(("top", "bottom", "center")),
                      location=house.text("garage, interior", "east wall", None),
                      description=house.text(None, "panel with a rather long description of what it is"),
                      existing=existing, **keys)
    if loads:
        add_loads(house, tag)


def _main_panel(house: House, tag: str = "MP", main: str = "200 A", **keys: object) -> None:
    _panel(house, tag, main, neutral_bond=True, service_disconnect=True, **keys)


def _service(house: House) -> None:
    house.build.service(**_SERVICE, location=house.text("east wall", None), fault_current="10 kA", fault_current_at="meter")


def _isolation(house: House, **keys: object) -> None:
    house.build.isolation("ID", rating="200 A", neutral_bond=False, switches_neutral=False,
                          location=house.text("garage", "east wall"), **keys)


def add_subpanel(house: House, homes: list[str]) -> None:
    """One more panel behind one of the panels, in which units may hang too; now and then in another building."""
    above = house.random.choice(house.panels)
    tag = f"SP{house.panel_count + 1}"
    away = {"building": "garage", "electrodes": ["rod"], "neutral_bond": False} if house.chance(0.2) else {}
    _panel(house, tag, house.random.choice(("lugs", "100 A")), **away)
    house.run(above, tag, breaker="100 A", bus_position=house.random.choice(("middle", "opposite end")))
    if above in homes and house.random.random() < 0.6:
        homes.append(tag)


def _backup_subpanel(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house)
    _isolation(house)
    _panel(house, "BP", "lugs", backup=True)
    house.run("service", "MP")
    house.run("MP", "ID", breaker="150 A", bus_position="opposite end")
    house.run("ID", "BP")
    return ["BP"]


def _whole_home(house: House, count: int) -> list[str]:
    _service(house)
    house.build.disconnect("MD", rating="200 A", device="200 A", device_kind="breaker", neutral_bond=True,
                           service_disconnect=True, location=house.text("east wall"))
    _isolation(house)
    _panel(house, "MP", "lugs", backup=True)
    house.run("service", "MD")
    house.run("MD", "ID")
    house.run("ID", "MP")
    return ["MP"]


def _supply_side(house: House, count: int) -> list[str]:
    _service(house)
    house.build.junction("TAP", description=house.text("supply-side connection"))
    _main_panel(house, main="100 A")
    house.build.disconnect("PD", rating="200 A", device="175 A", device_kind="fuse", neutral_bond=True,
                           service_disconnect=True, purpose="source disconnect")
    _panel(house, "GP", "lugs", loads=False, generation=True)
    house.run("service", "TAP")
    house.run("TAP", "MP")
    house.run("TAP", "PD")
    house.run("PD", "GP")
    return ["GP"]


def _generation_panel(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house)
    _panel(house, "GP", "lugs", loads=False, generation=True)
    house.run("service", "MP")
    house.run("MP", "GP", breaker="175 A", bus_position="opposite end")
    return ["GP"]


def _two_panels(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house)
    _panel(house, "SP", "lugs")
    house.run("service", "MP")
    house.run("MP", "SP", breaker="125 A")
    return ["MP", "SP"]


def _ac_coupled(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house, main="150 A")
    _isolation(house)
    _panel(house, "BP", "lugs", backup=True)
    _panel(house, "GP", "lugs", loads=False, generation=True, backup=True)
    house.run("service", "MP")
    house.run("MP", "ID", breaker="80 A", bus_position="opposite end")
    house.run("ID", "BP")
    house.run("BP", "GP", breaker="80 A", bus_position="opposite end")
    return ["GP"]


def _chain(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house)
    house.run("service", "MP")
    homes = ["MP"]
    for number in range(1, house.random.randint(3, PANELS_MAX)):
        tag = f"CP{number}"
        _panel(house, tag, "lugs")
        house.run(homes[-1], tag, breaker="125 A", bus_position="opposite end")
        homes.append(tag)
    return homes[1:]


def _generator(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house)
    _panel(house, "EP", "lugs")
    house.build.generator("G1", power="20 kVA", current="83.3 A", device="100 A", neutral_bond=False,
                          location=house.text("yard", None))
    house.build.transfer("T1", rating="100 A", start="automatic", switches_neutral=False, neutral_bond=False,
                         location=house.text("garage", None))
    house.run("service", "MP")
    house.run("MP", "T1", breaker="100 A")
    house.run("T1", "EP")
    house.run("T1", "G1")
    return ["MP"]


def _built_in_transfer(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house)
    _panel(house, "BP", "lugs", backup=True)
    house.run("service", "MP")
    house.feeds_backup = "BP"
    return ["MP"]


def _standalone(house: House, count: int) -> list[str]:
    _panel(house, "MP", "lugs", neutral_bond=True)
    return ["MP"]


def _detached(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house)
    _panel(house, "GP", "100 A", building="garage", neutral_bond=False, electrodes=["rod"])
    house.run("service", "MP")
    house.run("MP", "GP", breaker="100 A", bus_position="opposite end")
    return ["GP"]


def _no_backup(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house)
    house.run("service", "MP")
    return ["MP"]


def _feeder_tap(house: House, count: int) -> list[str]:
    _service(house)
    house.build.disconnect("SD", rating="200 A", device="200 A", device_kind="breaker", service_disconnect=True,
                           neutral_bond=True, location=house.text("east wall"))
    house.build.junction("J", description=house.text("tap box"))
    _panel(house, "MP", "200 A", neutral_bond=False)
    house.build.disconnect("DS", rating="100 A", device="100 A", device_kind="fuse")
    _panel(house, "GP", "lugs", loads=False, generation=True)
    house.run("service", "SD")
    house.run("SD", "J")
    house.run("J", "MP")
    house.run("J", "DS", tap=True)
    house.run("DS", "GP")
    return ["GP"]


def _meter_socket(house: House, count: int) -> list[str]:
    _service(house)
    _isolation(house, meter_socket=True, internal_bus="no")
    _main_panel(house, backup=True)
    house.run("service", "ID")
    house.run("ID", "MP")
    return ["MP"]


def _feed_through(house: House, count: int) -> list[str]:
    _service(house)
    _main_panel(house, "MM")
    _panel(house, "LP", "lugs")
    house.run("service", "MM")
    house.run("MM", "LP", feed_through=True)
    return ["MM"]


TOPOLOGIES: dict[str, Callable[[House, int], list[str]]] = {
    "backup subpanel": _backup_subpanel,
    "whole home": _whole_home,
    "supply side": _supply_side,
    "generation panel": _generation_panel,
    "two panels": _two_panels,
    "AC-coupled": _ac_coupled,
    "chain": _chain,
    "generator": _generator,
    "built-in transfer": _built_in_transfer,
    "stand-alone": _standalone,
    "detached building": _detached,
    "no backup": _no_backup,
    "feeder tap": _feeder_tap,
    "meter socket": _meter_socket,
    "feed-through": _feed_through,
}
