"""Small plans for layout tests."""

from __future__ import annotations

from linecalc.diagram.plan import Branch, Column, Plan, PlanNode, Stacked, Style, Table, TextBlock, TitleBlock


def string(tag: str) -> PlanNode:
    return PlanNode(tag, Style.LEAF, "pv string", (f"{tag} (N) 10 x mod", "4.2 kW, Isc 13.9 A"), end=True)


def module(tag: str, text: str = "storage module") -> PlanNode:
    return PlanNode(tag, Style.LEAF, "storage module", (f"{tag} (N) {text}", "10.4 kWh"), end=True)


def unit(tag: str, strings: int = 1, modules: int = 0) -> PlanNode:
    branches = [Branch(string(f"{tag}-S{n}"), f"{tag}-P{n}", converter=True) for n in range(strings)]
    branches += [Branch(module(f"{tag}-B{n}"), f"{tag}-D{n}") for n in range(modules)]
    label = (f"{tag} (N) inverter-battery unit", "7.6 kW, 32 A", "garage wall")
    return PlanNode(tag, Style.UNIT, "", label, battery=True, branches=tuple(branches))


def load(tag: str, text: str = "load") -> PlanNode:
    return PlanNode(tag, Style.LEAF, "load", (f"{tag} (E) {text}", "20 A"), existing=True)


def panel(tag: str, *branches: Branch, **keys: object) -> PlanNode:
    label = (f"{tag} (N) panel", "200 A bus, 200 A main")
    return PlanNode(tag, Style.BUS, "", label, branches=branches, **keys)


def fed(node: PlanNode, run_tag: str, rating: str = "40 A") -> Branch:
    return Branch(node, run_tag, "breaker", rating)


def service(*branches: Branch) -> PlanNode:
    stack = (Stacked("utility", ("Utility supply", "240 V")), Stacked("meter", ("Meter (E)", "200 A"), True))
    return PlanNode("service", Style.STACK, "", (), stack=stack, branches=branches)


def house(units: int = 1, strings: int = 2, modules: int = 1) -> PlanNode:
    """Service, main panel with a load, isolation device, backed-up panel with units."""
    homes = [fed(unit(f"U{n}", strings, modules), f"C{n + 10}") for n in range(units)]
    backed = panel("BP", fed(load("L2"), "C5", "20 A"), *homes)
    isolation = PlanNode(
        "ID", Style.INLINE, "isolation device", ("ID (N) isolation device", "200 A"),
        boundary="BACKED-UP PART (behind ID)", branches=(Branch(backed, "C3"),),
    )
    main = panel("MP", fed(load("L1"), "C4", "20 A"), fed(isolation, "C2", "100 A"), main="200 A",
                 bond="bonding jumper 4 AWG Cu", electrode="GEC 4 AWG Cu to rods")
    return service(Branch(main, "C1"))


def plan(root: PlanNode, rows: tuple[tuple[str, ...], ...] = (("C1", "service - MP"),), **keys: object) -> Plan:
    title = TitleBlock(
        "Invented residence", ("1 Invented Lane",), "SINGLE-LINE DIAGRAM", "E-601", "sheet 1 of 1",
        "NEC 2023; not to scale", "checked against NEC 2023, for review by the AHJ", "Calculation aid only.",
    )
    table = Table("CONDUCTOR SCHEDULE", (Column("Run", True), Column("From - to", True)), rows)
    blocks = (TextBlock("NOTES", ("One note that is long enough to wrap once or twice in a narrow column.",), True),)
    values = {"blocks": blocks, "title_block": title, "abbreviations": (("PV", "photovoltaic"),)} | keys
    return Plan(root, table, **values)
