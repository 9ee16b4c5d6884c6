"""Coincident peak of the named loads against what the units carry, leg by leg, with each motor's start on top.

Every load that may run in an hour is taken to run at once; no coincidence
factor is applied. What the units cannot carry unmanaged ends the outage at 0 h.
"""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.calc.backup import leg_current
from linecalc.calc.compare import at_most
from linecalc.calc.motor import start_demand
from linecalc.options.profile import HOURS, Appliance, Profile
from linecalc.options.records import Plant, PowerCheck
from linecalc.term import value_of


@dataclass(frozen=True, slots=True)
class Peak:
    """What runs at once: watts, the more loaded leg, and the start of each motor on its worse leg with the rest running."""

    power_w: float
    leg_a: float
    starts: tuple[tuple[str, float], ...]

    @property
    def start_a(self) -> float | None:
        """The worst start; None where nothing starts."""
        return max((amps for _, amps in self.starts), default=None)

    @property
    def motor(self) -> str:
        """The motor of the worst start, the first named of equals."""
        return max(self.starts, key=lambda found: found[1])[0] if self.starts else ""


@dataclass(frozen=True, slots=True)
class Kept:
    """What is served in one hour, and which managed loads are shed for it."""

    hour: int
    peak: Peak
    why: str
    kept: tuple[Appliance, ...]
    shed: tuple[str, ...]


def peak_of(running: tuple[Appliance, ...]) -> Peak:
    """The peak of loads that run at once."""
    legs = (sum(found.leg_1_a for found in running), sum(found.leg_2_a for found in running))
    starts = tuple((found.name, _start(found, found.start_a, legs)) for found in running if found.start_a is not None)
    return Peak(sum(found.power_w for found in running), value_of(leg_current(0.0, max(legs))), starts)


def _start(motor: Appliance, start_a: float, legs: tuple[float, float]) -> float:
    """The start of a motor on the worse of its legs, what else runs there on top."""
    own = (motor.leg_1_a, motor.leg_2_a)
    return max((value_of(start_demand(start_a, leg - mine)) for leg, mine in zip(legs, own, strict=True) if mine > 0.0), default=0.0)


def why_not(peak: Peak, plant: Plant) -> str:
    """Why the units do not carry a peak; empty where they do."""
    if not at_most(peak.power_w, plant.firm_w):
        return f"{peak.power_w / 1000:.1f} kW at once, the units carry {plant.firm_w / 1000:.1f} kW"
    if plant.leg_a is not None and not at_most(peak.leg_a, plant.leg_a):
        return f"{peak.leg_a:.1f} A on one leg, the units carry {plant.leg_a:.1f} A"
    if peak.start_a is not None and plant.start_a is not None and not at_most(peak.start_a, plant.start_a):
        return f"start of {peak.motor} with the rest {peak.start_a:.0f} A, the units start {plant.start_a:.0f} A"
    return ""


def kept_in(profile: Profile, plant: Plant, season: str, hour: int) -> Kept:
    """Shed managed loads, the last named first, until the units carry the hour."""
    running = [found for found in profile.appliances if found.runs(season, hour)]
    shed: list[str] = []
    peak = peak_of(tuple(running))
    while (why := why_not(peak, plant)) and (managed := [found for found in running if found.managed]):
        running.remove(managed[-1])
        shed.append(managed[-1].name)
        peak = peak_of(tuple(running))
    return Kept(hour, peak, why, tuple(running), tuple(shed))


def hours_kept(profile: Profile, plant: Plant, season: str) -> tuple[Kept, ...]:
    """What is served in each hour of a day."""
    return tuple(kept_in(profile, plant, season, hour) for hour in range(HOURS))


def power_check(season: str, kept: tuple[Kept, ...]) -> PowerCheck:
    """The hour that decides: the first that is not carried, else that of the largest peak."""
    broken = [found for found in kept if found.why]
    worst = max(broken or kept, key=lambda found: (found.peak.power_w, -found.hour))
    shed = tuple(dict.fromkeys(name for found in kept for name in found.shed))
    starts: dict[str, float] = {}
    for found in kept:
        for name, amps in found.peak.starts:
            starts[name] = max(amps, starts.get(name, 0.0))
    return PowerCheck(season, worst.hour, worst.peak.power_w, worst.peak.leg_a, worst.peak.start_a, not broken, worst.why, shed, tuple(starts.items()))
