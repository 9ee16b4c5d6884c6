"""Speed, as ratios measured in one run. Not part of the test run.

    python tests/benchmarks/bench_walk.py

Prints each ratio with the target that it is held to, and the times behind it.
"""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from linecalc.network.flow import FlowTree, walk  # noqa: E402
from linecalc.network.loads import LegLoad, SourceFigures  # noqa: E402
from linecalc.project.builder import ProjectBuilder  # noqa: E402
from linecalc.project.model import Project  # noqa: E402
from linecalc.study import study  # noqa: E402
from linecalc.term import given  # noqa: E402
from tests.houses import MODULE, UNIT  # noqa: E402
from tests.network.trees import random_tree  # noqa: E402

UNITS = 6
PROGRAMS = "import networkx, pint, pydantic, click"


def best(action: Callable[[], object], repeats: int = 15) -> float:
    """The shortest of several runs, in seconds."""
    action()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return min(times)


def with_terms(tree: FlowTree) -> FlowTree:
    """The same tree with loads that remember themselves, and a source at every tenth node."""
    loads = {}
    for tag, (load,) in tree.loads.items():
        amps = given(load.leg1_noncontinuous, "A", f"I_{tag}", f"load.{tag}.current")
        loads[tag] = [LegLoad(0.0, amps, 0.0, amps)]
    sources = {}
    for tag in tree.order[::10]:
        amps = given(16.0, "A", f"I_{tag}", f"equipment.{tag}.ac_current")
        sources[tag] = SourceFigures(amps, amps, amps)
    island = next(tag for tag in tree.order if tree.parent.get(tag) is not None and tree.parent[tag].up == "service")
    return FlowTree(tree.order, tree.parent, sources, loads, {}, island, frozenset(tree.order))


def sixty_circuits() -> Project:
    """A project of 60 circuits: six units with a string each on their own circuits, 44 branch circuits and feeders."""
    house = ProjectBuilder(title="Sixty circuits", code="NEC 2023")
    house.site(low_temperature="-15 degC", high_temperature="35 degC", mounting="rack")
    house.service(voltage="240 V", rating="400 A", conductor="600 kcmil Cu THWN-2", terminals="75 degC")
    house.backup(method="full load")
    house.equipment("mod", **MODULE)
    house.equipment("unit-a", **UNIT)
    for tag, main, bus in (("MP", "400 A", "600 A"), ("BP", "lugs", "400 A"), ("GP", "lugs", "400 A")):
        house.panel(tag, bus=bus, main=main, feed="top", terminals="75 degC", neutral_bond=tag == "MP", generation=tag == "GP")
    house.isolation("ID", rating="400 A", internal_bus="no", neutral_bond=False, switches_neutral=False, terminals="75 degC")
    run = {"method": "EMT", "moisture": "dry", "ambient": "40 degC"}
    feeders = (("F1", "service", "MP", None), ("F2", "MP", "ID", "350 A"), ("F3", "ID", "BP", None), ("F4", "BP", "GP", "350 A"))
    for tag, up, down, breaker in feeders:
        house.section(f"R{tag}", place="garage", length="12 ft", **run)
        house.circuit(tag, from_=up, to=down, path=[f"R{tag}"], breaker=breaker, bus_position="opposite end")
    for n in range(UNITS):
        house.unit(f"U{n}", equipment="unit-a")
        house.string(f"S{n}", module="mod", count=10, to=f"U{n}", input=1)
        house.section(f"RP{n}", place="attic", length="40 ft", **run)
        house.circuit(f"P{n}", from_=f"S{n}", to=f"U{n}", path=[f"RP{n}"], terminals_from="75 degC")
        house.section(f"RU{n}", place="garage", length="10 ft", **run)
        house.circuit(f"C{n}", from_="GP", to=f"U{n}", path=[f"RU{n}"], breaker="50 A", bus_position="opposite end")
    for n in range(60 - len(feeders) - 2 * UNITS):
        panel = "BP" if n % 3 else "MP"
        house.section(f"RL{n}", place="interior", length=f"{20 + n} ft", **run)
        house.load(f"L{n}", panel=panel, kind="appliance", voltage="240 V", current="6 A", power_factor=0.9)
        house.circuit(f"B{n}", from_=panel, to=f"L{n}", path=[f"RL{n}"], breaker="20 A", terminals_to="75 degC")
    return house.build()


def process(*arguments: str) -> float:
    """The shortest of five runs of a Python process, in seconds."""

    def run() -> None:
        subprocess.run([sys.executable, *arguments], cwd=ROOT, env=dict(os.environ), check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    return best(run, 5)


def line(name: str, ratio: float, target: str, times: str) -> None:
    """Print one ratio."""
    print(f"{name:58} {ratio:8.2f}   target {target:9} {times}")


def against_pandapower() -> None:
    """The walk and the whole path to a study, against one constant-current flow of 60 buses.

    What is loaded beforehand is kept out of the garbage collector's way, since
    pandapower loads far more than a command of linecalc does.
    """
    try:
        import pandapower

        from tests.published.pandapower_flow import network_of
    except ImportError:
        print("pandapower is not installed: the two ratios against it are left out")
        return
    tree = random_tree(60, seed=7)
    net, _, _ = network_of(tree, 1.0)
    gc.collect()
    gc.freeze()
    flow = best(lambda: pandapower.runpp(net, numba=False))
    plain, terms = best(lambda: walk(tree.flow), 50), best(lambda: walk(with_terms(tree.flow)), 50)
    line("flow of pandapower / walk, all modes, 60 buses", flow / plain, ">= 50", f"{flow * 1e3:.1f} ms / {plain * 1e3:.3f} ms")
    line("the same, numbers that remember themselves", flow / terms, ">= 50", f"{flow * 1e3:.1f} ms / {terms * 1e3:.3f} ms")
    project = sixty_circuits()
    gc.collect()
    gc.freeze()
    whole = best(lambda: study(project))
    line(f"Project to Study, {len(project.circuit)} circuits / flow of pandapower", whole / flow, "<= 1", f"{whole * 1e3:.1f} ms / {flow * 1e3:.1f} ms")


def linearity() -> None:
    """Time for each circuit at 1,000 and at 10,000 circuits, garbage collection off as in timeit."""
    gc.disable()
    for name, deepest in (("bushy", 0), ("deep", 3)):
        small, large = (best(lambda t=random_tree(n, seed=3, deepest=deepest).flow: walk(t), 3) / n for n in (1_000, 10_000))
        line(f"walk of 10,000 circuits / of 1,000, a circuit, {name}", large / small, "~ 1", f"{large * 1e6:.2f} us / {small * 1e6:.2f} us")
    gc.enable()


def cold_start() -> None:
    """Processes from nothing: check against the imports it needs, help and version against the interpreter."""
    bare, imports = process("-c", "pass"), process("-c", PROGRAMS)
    check = process("-m", "linecalc", "check", "examples/a.toml")
    line("check, cold / process that imports the four libraries", check / imports, "<= 1.45", f"{check * 1e3:.0f} ms / {imports * 1e3:.0f} ms")
    for flag in ("--help", "--version"):
        taken = process("-m", "linecalc", flag)
        line(f"{flag}, cold / bare interpreter", taken / bare, "<= 6", f"{taken * 1e3:.0f} ms / {bare * 1e3:.0f} ms")


if __name__ == "__main__":
    against_pandapower()
    linearity()
    cold_start()
