"""``linecalc conductor``: one circuit without a project, its conductor chosen or checked."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import click

from linecalc.cli.errors import as_json
from linecalc.errors import InputError, Problem, QuantityError

if TYPE_CHECKING:
    from linecalc.sizing.single import ConductorRequest, SingleResult

FAILS = 1
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)")
_INSULATION = "THWN-2"
_EXAMPLE = """\b
Example:
  linecalc conductor --current 40 --length "85 ft" --ambient "52 degC" --raceway EMT
  linecalc conductor --system pv --current 13.9 --breaker none --wet --format json
  linecalc conductor --current 40 --size "8 AWG" --breaker 50
"""


@click.command("conductor", epilog=_EXAMPLE)
@click.option("--system", type=click.Choice(["ac", "pv", "storage"]), default="ac", show_default=True)
@click.option("--current", metavar="A", help="Continuous current in A; for pv the short-circuit current Isc, and both 1.25 are printed.")
@click.option("--continuous", metavar="A", help="Continuous part in A, instead of --current.")
@click.option("--noncontinuous", metavar="A", help="Noncontinuous part in A.")
@click.option("--voltage", metavar="V", help="Voltage of the circuit, for the drop.")
@click.option("--length", metavar="FT", help='One-way length, in ft where no unit is written; "26 m" is understood.')
@click.option("--pf", type=click.FloatRange(0.0, 1.0, min_open=True), help="Power factor, for the drop.")
@click.option("--material", type=click.Choice(["Cu", "Al"]), default="Cu", show_default=True)
@click.option("--insulation", default=_INSULATION, show_default=True, metavar="TYPE")
@click.option("--wet", is_flag=True, help="The wettest place of the run is wet.")
@click.option("--ambient", metavar="DEGC", help='Ambient, in degC where no unit is written; "125 degF" is understood.')
@click.option("--conductors", type=click.IntRange(1, 200), metavar="N", help="Current-carrying conductors in the raceway.")
@click.option("--terminal", type=click.Choice(["60", "75"]), help="Temperature of the lower-rated terminal in degC.")
@click.option("--rooftop-height", metavar="IN", help="Height above the roof in direct sun, in inches where no unit is written.")
@click.option("--raceway", type=click.Choice(["EMT", "ENT", "FMC", "IMC", "LFMC", "LFNC-B", "RMC", "PVC40", "PVC80"]))
@click.option("--parallel", type=click.IntRange(1, 8), default=1, show_default=True, metavar="N", help="Parallel sets.")
@click.option("--size", metavar="SIZE", help='Check this size, like "8 AWG", instead of choosing one.')
@click.option("--breaker", metavar="A", help='Overcurrent device in A, or "none"; the next standard size if left out.')
@click.option("--max-drop", metavar="PERCENT", help="Voltage drop target in percent.")
@click.option("--edition", default="2023", show_default=True, help="2017, 2020 or 2023.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
def command(edition: str, form: str, **options: Any) -> int:
    """Choose or check the conductor of one circuit, every step printed."""
    from linecalc.sizing.single import single_circuit

    found = single_circuit(request_of(options, edition), edition)
    if form == "json":
        from linecalc.report.single_report import single_json

        click.echo(as_json(single_json(found)))
    else:
        from linecalc.report.single_report import single_text

        click.echo(single_text(found), nl=False)
    return _status(found)


def _status(found: SingleResult) -> int:
    from linecalc.check import Level

    return FAILS if any(check.level is Level.FAIL for check in found.checks) else 0


def request_of(options: dict[str, Any], edition: str) -> ConductorRequest:
    """The request that the options make; all problems at once.

    Raises
    ------
    InputError
        A value that is no quantity of its kind, or currents that contradict each other.
    """
    from linecalc.network.records import System
    from linecalc.sizing.single import ConductorRequest
    from linecalc.units import CURRENT, LENGTH, PERCENT, SMALL_LENGTH, TEMPERATURE, VOLTAGE

    problems = _contradictions(options)
    dimensions = {
        "current": CURRENT,
        "continuous": CURRENT,
        "noncontinuous": CURRENT,
        "voltage": VOLTAGE,
        "length": LENGTH,
        "ambient": TEMPERATURE,
        "rooftop_height": SMALL_LENGTH,
        "max_drop": PERCENT,
    }
    values = {name: _number(options[name], name, dimension, problems) for name, dimension in dimensions.items()}
    breaker = options["breaker"] if options["breaker"] == "none" else _number(options["breaker"], "breaker", CURRENT, problems)
    size = _size(options["size"], problems)
    insulation = _insulation(options["insulation"], edition, problems)
    if problems:
        raise InputError(problems)
    return ConductorRequest(
        system=System(options["system"]),
        current_a=values["current"],
        continuous_a=values["continuous"],
        noncontinuous_a=values["noncontinuous"],
        voltage=values["voltage"],
        length_ft=values["length"],
        power_factor=options["pf"],
        material=options["material"],
        insulation=insulation,
        wet=options["wet"],
        ambient_c=values["ambient"],
        conductors=options["conductors"],
        terminal_c=int(options["terminal"]) if options["terminal"] else None,
        rooftop_height_in=values["rooftop_height"],
        raceway=options["raceway"],
        parallel=options["parallel"],
        size=size,
        breaker=breaker,
        max_drop_percent=values["max_drop"],
    )


def _contradictions(options: dict[str, Any]) -> list[Problem]:
    split = [name for name in ("continuous", "noncontinuous") if options[name] is not None]
    if options["current"] is None and not split:
        return [Problem("no current; give --current, or --continuous and --noncontinuous", key="--current")]
    if options["current"] is not None and split:
        message = f"--current is all continuous; leave out --{split[0]}, or write --continuous and --noncontinuous alone"
        return [Problem(message, key="--current")]
    if split and options["system"] == "pv":
        return [Problem("for --system pv the current is Isc; write --current", key=f"--{split[0]}")]
    return []


def _number(text: str | None, name: str, dimension: Any, problems: list[Problem]) -> float | None:
    """The number that ``text`` says in the dimension's own unit; a bare number is in that unit."""
    from linecalc.units import parse_quantity

    if text is None:
        return None
    written = f"{text.strip()} {dimension.canonical}" if _NUMBER.fullmatch(text.strip()) else text
    try:
        found = parse_quantity(written, dimension)
    except QuantityError as error:
        problems.append(Problem(str(error), key=_option(name), found=text, expected=error.expected))
        return None
    if found.value <= 0.0 and name not in ("ambient", "continuous", "noncontinuous", "rooftop_height"):
        problems.append(Problem(f'"{text}" is not more than 0', key=_option(name), found=text))
    return found.value


def _size(text: str | None, problems: list[Problem]) -> str | None:
    """A conductor size as the trade writes it; ``6`` and ``6 awg`` are 6 AWG."""
    from linecalc.codebook.sizes import SIZES
    from linecalc.project.wording import nearest, quoted, suggestion

    if text is None:
        return None
    plain = " ".join(text.split())
    known = {size.lower(): size for size in SIZES}
    found = known.get(plain.lower()) or known.get(f"{plain} awg".lower()) or known.get(f"{plain} kcmil".lower())
    if found is None:
        close = nearest(plain, SIZES)
        message = f"no size {quoted(text)}; {suggestion(close, SIZES)}"
        problems.append(Problem(message, key="--size", found=text, expected=", ".join(SIZES), nearest=close))
    return found


def _insulation(text: str, edition: str, problems: list[Problem]) -> str:
    """An insulation type of the edition, however its letters are written."""
    from linecalc.codebook import open_book
    from linecalc.project.wording import nearest, quoted, suggestion

    known = {name.lower(): name for name in open_book(edition).table("insulation").texts("type")}
    found = known.get(text.strip().lower())
    if found is None:
        close = nearest(text, known.values())
        message = f"no insulation {quoted(text)}; {suggestion(close, known.values())}"
        problems.append(Problem(message, key="--insulation", found=text, nearest=close))
    return found or text


def _option(name: str) -> str:
    return "--" + name.replace("_", "-")
