"""Time of the sizing study: about 500 candidates, 24 starts, 4 seasons. Run by hand: ``python tests/benchmarks/bench_options.py``."""

from __future__ import annotations

import os
import time
from pathlib import Path

from linecalc.options.build import build
from linecalc.options.content import content_of
from linecalc.options.context import context_of
from linecalc.options.run import run_options
from linecalc.project.read import read_project
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"


def main() -> None:
    """Print seconds for the whole study with one and two workers, and milliseconds a candidate."""
    base = read_project(EXAMPLES / "options_storage.toml")
    arrays = {f"A{count}-{tilt}": {"strings": [count, count], "tilt": [float(tilt)], "azimuth": [190.0]} for count in range(5, 13) for tilt in (10, 22, 35)}
    arrays |= {f"B{count}": {"strings": [count], "tilt": [22.0], "azimuth": [190.0]} for count in range(5, 12)}
    project = with_values(base, [("options.array", arrays), ("options.units", [1, 3]), ("options.outages", ["24 h", "72 h"])])
    started = time.perf_counter()
    context = context_of(project, str(EXAMPLES))
    print(f"{len(context.candidates)} candidates, {len(context.seasons)} seasons, {len(context.suns())} suns, 24 starts, new and aged; shared part {time.perf_counter() - started:.2f} s")
    started = time.perf_counter()
    for candidate in context.candidates[::10]:
        build(context, candidate)
    each = (time.perf_counter() - started) / len(context.candidates[::10])
    print(f"electrical study, layout and bill: {1000 * each:.1f} ms a candidate")
    for workers in (1, 2, 2):
        started, before = time.perf_counter(), sum(os.times()[:4])
        found = run_options(project, str(EXAMPLES), workers)
        seconds = time.perf_counter() - started
        print(f"{workers} workers: {seconds:.1f} s, {1000 * seconds / len(found.results):.1f} ms a candidate")
        started = time.perf_counter()
        content = content_of(found)
        used = sum(os.times()[:4]) - before
        print(f"  answer and {len(content.turns)} assumptions moved: {time.perf_counter() - started:.1f} s; all together {used:.1f} s of processor time")


if __name__ == "__main__":
    main()
