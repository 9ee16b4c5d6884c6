"""Draw many invented houses and look every sheet over: ``python -m tests.diagram.many_houses 500``.

Prints faults by kind and topology, refused houses, sheets a house, and how much of the frame is used.
Not collected by pytest: the tests take some of the same houses.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from dataclasses import dataclass, field
from statistics import median

from linecalc.diagram import draw
from linecalc.diagram import scene_checks as checks
from linecalc.diagram.scene import Scene
from linecalc.errors import RefusedError
from linecalc.study import study
from tests.diagram.random_house import TOPOLOGIES, random_house, topology_of

SHEET_CHECKS = (
    checks.overlaps, checks.wires_through, checks.crossings, checks.loose_ends, checks.outside_frame,
    checks.small_text, checks.duplicate_buses,
)


@dataclass
class Tally:
    """What was found, and how long it took."""

    faults: Counter[tuple[str, str]] = field(default_factory=Counter)
    examples: dict[tuple[str, str], tuple[int, str]] = field(default_factory=dict)
    refused: dict[int, str] = field(default_factory=dict)
    sheets: Counter[int] = field(default_factory=Counter)
    used: list[tuple[float, int, str]] = field(default_factory=list)
    cut_short: list[int] = field(default_factory=list)
    draw_s: dict[int, float] = field(default_factory=dict)
    check_s: float = 0.0

    def fault(self, kind: str, seed: int, text: str) -> None:
        """Count a fault and keep the first of its kind."""
        key = (kind, topology_of(seed))
        self.faults[key] += 1
        self.examples.setdefault(key, (seed, text))


def look_over(seed: int, scenes: tuple[Scene, ...], tally: Tally) -> None:
    """Every check on every sheet of a house."""
    start = time.process_time()
    for scene in scenes:
        for check in SHEET_CHECKS:
            for text in check(scene):
                tally.fault(check.__name__, seed, text)
        tally.used.append((checks.used_ratio(scene), seed, scene.sheet))
    for text in checks.unmatched_references(scenes):
        tally.fault("unmatched references", seed, text)
    if any("..." in line or "…" in line for scene in scenes for line in checks.diagram_lines(scene)):
        tally.cut_short.append(seed)
    tally.sheets[len(scenes)] += 1
    tally.check_s += time.process_time() - start


def drawn(seeds: range) -> Tally:
    """The tally of the houses of some seeds."""
    tally = Tally()
    for seed in seeds:
        found = study(random_house(seed))
        start = time.process_time()
        try:
            scenes = draw(found)
        except RefusedError as error:
            tally.refused[seed] = str(error)
            continue
        finally:
            tally.draw_s[seed] = time.process_time() - start
        look_over(seed, scenes, tally)
    return tally


def report(tally: Tally) -> str:
    """The tally as text."""
    lines = [f"{len(tally.draw_s)} houses of {len(TOPOLOGIES)} topologies, {len(tally.used)} sheets"]
    for check in (*(check.__name__ for check in SHEET_CHECKS), "unmatched references"):
        found = {key: count for key, count in tally.faults.items() if key[0] == check}
        lines.append(f"{check}: {sum(found.values())}")
        for key, count in found.items():
            seed, text = tally.examples[key]
            lines.append(f"    {count} in {key[1]}, first seed {seed}: {text}")
    lines.append(f"refused: {len(tally.refused)}")
    lines += [f"    seed {seed} ({topology_of(seed)}): {text}" for seed, text in tally.refused.items()]
    lines.append(f"texts cut short: {len(tally.cut_short)} houses {tally.cut_short[:12]}")
    lines.append(f"sheets a house: {dict(sorted(tally.sheets.items()))}")
    used = sorted(tally.used)
    lines.append(f"used area over frame area: median {median(ratio for ratio, _, _ in used):.3f}; worst")
    lines += [f"    {ratio:.3f} seed {seed} ({topology_of(seed)}) sheet {sheet}" for ratio, seed, sheet in used[:8]]
    slowest = sorted(tally.draw_s.items(), key=lambda pair: -pair[1])[:4]
    lines.append(f"time: draw {sum(tally.draw_s.values()):.1f} s, look over {tally.check_s:.1f} s; slowest " + ", ".join(
        f"seed {seed} {taken:.2f} s" for seed, taken in slowest))
    return "\n".join(lines)


if __name__ == "__main__":
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    print(report(drawn(range(first, first + int(sys.argv[1]) if len(sys.argv) > 1 else 500))))
