"""Parts of an invented house: its equipment, its units with strings and modules, its loads."""

from __future__ import annotations

from random import Random

from linecalc.project.builder import ProjectBuilder

LONG = (
    "a description that somebody typed with care, far longer than a label has room for",
    "wall of the utility room behind the garage, beside the door to the garden, at 5 ft",
    'house of "many" <words> & $signs, 100 % invented',
    "#1 \u05e7\u05d9\u05e8 \U0001f50b on the wall, \u201cquoted\u201d",
)


_ROOMS = ("KITCHEN", "BATH", "LAUNDRY", "OFFICE", "ATTIC", "GARAGE", "PORCH", "BED", "HALL", "SPA", "SHED")


class House:
    """A house in the making: a builder, a counter of circuits, and a source of chance.

    In a *regular* house all runs are alike, as in a row of equal units on one wall.  In a *wordy*
    one every text is long or strange, and so are the tags of its units.  ``panels`` are the panels
    behind which a subpanel may hang, of ``panel_count``; ``feeds_backup`` is the panel at the backup
    port of the first unit, if any.
    """

    def __init__(self, seed: int, edition: str, regular: bool):
        self.random = Random(seed)
        self.regular = regular
        self.wordy = not regular and self.random.random() < 0.12
        people = {} if regular or self.random.random() < 0.5 else {
            "owner": "Example Owner", "designer": "Example Designer", "parcel": "000-111-222", "date": "2026-01-05",
            "scope": "New units, strings and storage modules, all of them invented",
        }
        self.build = ProjectBuilder(title="Invented residence", code=f"NEC {edition}", address="1 Invented Lane", **people)
        self.circuits = 0
        self.panels: list[str] = []
        self.panel_count = 0
        self.feeds_backup = ""

    def text(self, *choices: str | None) -> str | None:
        """A text: one of the choices, or a long one."""
        return self.random.choice(LONG) if self.wordy else self.random.choice(choices)

    def chance(self, share: float) -> bool:
        """Whether something happens that does in this share of irregular houses."""
        return self.random.random() < share and not self.regular

    def run(self, start: str, end: str, **keys: object) -> None:
        """A circuit with a raceway of its own."""
        self.circuits += 1
        section = f"R{self.circuits}"
        method, length = ("EMT", 20) if self.regular else (
            self.random.choice(("EMT", "PVC40", "LFNC-B")), self.random.randint(4, 60))
        self.build.section(section, method=method, place="garage", moisture="dry", ambient="30 degC", length=f"{length} ft")
        self.build.circuit(f"C{self.circuits}", from_=start, to=end, path=[section], insulation="THWN-2",
                           material="Cu", existing=self.chance(0.1), **keys)


def add_equipment(house: House) -> None:
    """Datasheet values of invented equipment, and the climate."""
    build = house.build
    build.site(low_temperature="-14 degC", high_temperature="36 degC")
    build.equipment("mod-420", kind="pv module", power="420 W", voc="38.1 V", isc="13.9 A", vmp="31.9 V", imp="13.2 A",
                    voc_coefficient="-0.26 %/K", pmax_coefficient="-0.34 %/K", series_fuse="25 A")
    inputs = {"mppt": 6, "mppt_current": "14 A", "mppt_short_circuit": "18 A", "dc_voltage_max": "600 V"}
    build.equipment("unit-76", kind="unit", description="7.6 kW inverter-battery unit", ac_power="7.6 kW",
                    ac_current="32 A", ac_current_island="32 A", overcurrent_max="40 A", energy="10.4 kWh",
                    charge_power="5 kW", neutral="loads", storage_modules_max=4, pass_through="100 A", **inputs)
    build.equipment("inv-50", kind="inverter", ac_power="5 kW", ac_current="21 A", overcurrent_max="30 A", **inputs)
    build.equipment("store-104", kind="storage module", energy="10.4 kWh", charge_power="5 kW",
                    discharge_power="5 kW", voltage_min="340 V", current="16 A")


def add_facts(house: House) -> None:
    """What belongs to the house as a whole, in some houses."""
    build, chance = house.build, house.chance
    if chance(0.3):
        build.grounding(electrodes=["water pipe", "rod", "rod"], existing=chance(0.5))
    if chance(0.3):
        build.required(surge_protection="listed type 2 device (invented)", surge_protection_at=house.panels[0])
    if chance(0.3):
        build.rapid_shutdown(initiator="switch ES", location="beside the meter", inside="80 V",
                             equipment="shutdown function of the unit (invented)")
    if chance(0.2):
        build.amendment(text="the office wants the meter number on the first sheet", source="county circular (invented)")
    for number in range(house.random.randint(0, 3) if not house.regular else 0):
        build.revision(str(number), f"2026-0{number + 1}-05", "changed the way it was asked for")


def add_loads(house: House, panel: str, backup: bool = False) -> None:
    """Some loads of a panel, with a circuit of their own or without; one calculated load at most."""
    random = house.random
    calculated = False
    for number in range(random.randint(0, 3)):
        tag = f"{panel}-L{number}"
        kind = random.choice(("appliance", "heat", "ev", "motor", "motor-compressor", "calculated"))
        if kind == "calculated" and calculated:
            kind = "appliance"
        calculated = calculated or kind == "calculated"
        keys = {"panel": panel, "kind": kind, "existing": random.random() < 0.5,
                "description": house.text(None, "range", "well in the yard", "in the garage"),
                "location": house.text(None, "garage", "south side")}
        if kind == "calculated":
            keys |= {"current": "30 A", "continuous_part": "0 A", "unbalance": "10 A", "power_factor": 0.9}
        elif kind == "motor":
            keys |= {"current": "12 A", "voltage": "240 V", "power_factor": 0.8}
        elif kind == "motor-compressor":
            keys |= {"rla": "17.9 A", "lra": "96 A", "mca": "23.8 A", "mocp": "40 A", "voltage": "240 V"}
        else:
            keys |= {"power": f"{random.randint(1, 6)} kW", "continuous": kind != "appliance", "voltage": "240 V"}
        if kind in ("ev", "motor", "motor-compressor"):
            breaker = {"ev": "60 A", "motor": "25 A", "motor-compressor": "40 A"}[kind]
            if house.chance(0.25):
                house.build.disconnect(f"{tag}-D", rating="60 A", location=house.text("at the equipment"))
                house.run(panel, f"{tag}-D", breaker=breaker)
                house.run(f"{tag}-D", tag)
            else:
                house.run(panel, tag, breaker=breaker)
        house.build.load(tag, **keys)


def add_circuits(house: House, panel: str, count: int) -> None:
    """Many branch circuits of a panel, as of a house that is described whole; by chance of their own."""
    random = Random(f"{panel} {count}")
    names = random.sample(_ROOMS, len(_ROOMS))
    numbered = random.random() < 0.6
    for number in range(1, count + 1):
        tag = f"{panel}-K{number}" if numbered else f"{names[number % len(names)]}{number}"
        section, breaker = f"{panel}-R{number}", random.choice((15, 15, 20, 20, 20, 30, 40, 50))
        keys = {"kind": "appliance", "power": f"{random.randint(3, 24) / 10:g} kW", "voltage": "240 V"}
        if random.random() < 0.1:
            keys = {"kind": "ev", "power": "3 kW", "voltage": "240 V", "continuous": True}
        elif random.random() < 0.1:
            keys = {"kind": "motor", "current": "6 A", "voltage": "240 V", "power_factor": 0.8}
        existing, text = random.random() < 0.3, random.choice((None, "kitchen, north wall", "room above the garage"))
        house.build.load(tag, panel=panel, existing=existing, description=text, **keys)
        house.build.section(section, method="EMT", place="inside", moisture="dry", ambient="30 degC", length=f"{random.randint(8, 90)} ft")
        house.build.circuit(f"{panel}-C{number}" if numbered else f"{tag}-C", from_=panel, to=tag, path=[section], insulation="THWN-2",
                            material="Cu", breaker=f"{breaker} A", existing=random.random() < 0.3)


def add_source(house: House, tag: str, home: str, strings: int) -> None:
    """A PV inverter with its strings."""
    house.build.inverter(tag, equipment="inv-50", location=house.text("garage wall", "east wall"), existing=house.chance(0.5))
    house.run(tag, home, breaker="30 A")
    _strings(house, tag, strings)


def add_unit(house: House, number: int, home: str, strings: int, modules: int) -> None:
    """A unit with its strings and storage modules, on the bus of a panel."""
    tag = f"INVERTER-UNIT-{number}" if house.wordy else f"U{number}"
    house.build.unit(tag, equipment="unit-76", location=house.text("garage wall", "utility room", None),
                     mounting=house.random.choice(("wall", "floor")), existing=house.chance(0.2))
    if number == 1 and house.feeds_backup:
        house.run(home, tag, breaker="100 A", port="grid")
        house.run(tag, house.feeds_backup, port="backup")
    elif house.chance(0.25):
        fused = {"device": "40 A", "device_kind": "fuse"} if house.chance(0.5) else {}
        house.build.disconnect(f"{tag}-D", rating="60 A", location=house.text("garage wall"),
                               description=house.text("unit disconnect"), **fused)
        house.run(tag, f"{tag}-D")
        house.run(f"{tag}-D", home, breaker="40 A")
    else:
        house.run(tag, home, breaker="40 A", bus_position=house.random.choice(("opposite end", "middle")))
    _strings(house, tag, strings)
    _modules(house, tag, modules)


def _strings(house: House, tag: str, strings: int) -> None:
    random, build = house.random, house.build
    boxed = house.chance(0.3)
    switched = house.chance(0.15)
    paralleled = house.chance(0.15) and strings > 1
    if paralleled:
        build.combiner(f"{tag}-CB", to=tag, dc_voltage="600 V", location=house.text("roof"))
    for number in range(1, strings + 1):
        string = f"{tag}-S{number}"
        joined = paralleled and number <= 2
        end = f"{tag}-CB" if joined else tag
        build.string(string, module="mod-420", count=random.randint(4, 12), to=end, input=None if joined else number,
                     location=house.text("south roof", None), existing=house.chance(0.2))
        if boxed:
            build.junction(f"{string}-J", location="roof", description=house.text("roof box"))
            house.run(string, f"{string}-J")
            string = f"{string}-J"
        if switched and not joined:
            build.disconnect(f"{tag}-S{number}-D", rating="30 A", dc_voltage="600 V", location="east wall")
            house.run(string, f"{tag}-S{number}-D")
            string = f"{tag}-S{number}-D"
        house.run(string, end)
    if paralleled:
        house.run(f"{tag}-CB", tag)


def _modules(house: House, tag: str, modules: int) -> None:
    harness = house.chance(0.2)
    for number in range(1, modules + 1):
        house.build.storage(f"{tag}-B{number}", equipment="store-104", unit=tag,
                            location=house.text("garage wall", "utility room"),
                            harness="factory" if harness else "field-wired")
        if not harness:
            house.run(f"{tag}-B{number}", tag)
