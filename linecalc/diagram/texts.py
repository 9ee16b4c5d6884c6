"""Notes, operating modes, abbreviations and the title block, all from the Study."""

from __future__ import annotations

import re

from linecalc.check import Level
from linecalc.diagram.labels import amount, figure
from linecalc.diagram.plan import Plan, TextBlock, TitleBlock, branches_of, nodes_of
from linecalc.network.build import natural
from linecalc.network.records import Kind, Mode
from linecalc.project.model import SERVICE
from linecalc.study import CAUTION, Study
from linecalc.term import value_of

SHEET = "E-601"
SHEET_TITLE = "SINGLE-LINE DIAGRAM"
#: Every abbreviation that may stand on the drawing; those that do are listed on it.
KNOWN = (
    ("AC", "alternating current"),
    ("AHJ", "authority having jurisdiction"),
    ("Al", "aluminium"),
    ("AWG", "American wire gauge"),
    ("Cu", "copper"),
    ("DC", "direct current"),
    ("EGC", "equipment grounding conductor"),
    ("EMT", "electrical metallic tubing"),
    ("ENT", "electrical nonmetallic tubing"),
    ("EV", "electric vehicle"),
    ("FMC", "flexible metal conduit"),
    ("IMC", "intermediate metal conduit"),
    ("Isc", "short-circuit current"),
    ("LFMC", "liquidtight flexible metal conduit"),
    ("LFNC-B", "liquidtight flexible nonmetallic conduit"),
    ("LRA", "locked-rotor amperes"),
    ("MCA", "minimum circuit ampacity"),
    ("MID", "microgrid interconnect device"),
    ("MOCP", "maximum overcurrent protection"),
    ("NEC", "National Electrical Code"),
    ("PV", "photovoltaic"),
    ("PVC40", "rigid PVC conduit, schedule 40"),
    ("PVC80", "rigid PVC conduit, schedule 80"),
    ("RLA", "rated-load amperes"),
    ("RMC", "rigid metal conduit"),
    ("SSBJ", "supply-side bonding jumper"),
    ("Voc", "open-circuit voltage"),
)
_MODES = (
    (Mode.EXPORT, "Export: utility present, loads at zero, every source at its continuous rating."),
    (Mode.SUPPLY, "Supply: utility present, sources at zero, calculated loads."),
    (Mode.CHARGE, "Charge: supply, and storage charging from the utility."),
    (Mode.ISLAND, "Island: utility absent, isolation device open, units carry the backed-up part."),
)


def note_blocks(study: Study) -> tuple[TextBlock, ...]:
    """Numbered notes, then the operating modes."""
    blocks = [TextBlock("NOTES", tuple(note for note in _notes(study) if note), numbered=True)]
    modes = _modes(study)
    if modes:
        blocks.append(TextBlock("OPERATING MODES", modes))
    return tuple(blocks)


def _notes(study: Study) -> list[str]:
    project = study.project
    failing, missing = study.count(Level.FAIL), study.count(Level.NOT_CHECKED)
    notes = [
        f"Scope: {project.project.scope}." if project.project.scope else "",
        f"Checked against NEC {study.book.edition}: {_verdicts(study)}. See the calculation sheet.",
        "THIS DESIGN FAILS CHECKS: see the calculation sheet before use." if failing else "",
        "CHECKS COULD NOT BE MADE because inputs are missing: see the calculation sheet." if missing else "",
        _temperatures(study),
        _backup(study),
        _bonds(study),
        f"Assumed inputs, listed on the calculation sheet: {len(study.assumptions)}." if study.assumptions else "",
        "Conductor schedule: current is the largest of the operating modes, drop that of the worst mode, "
        "in this run alone.",
    ]
    notes.extend(f"Local: {amendment.text} ({amendment.source})." for amendment in project.amendments)
    if project.power_control is not None:
        control = project.power_control
        covers = ", ".join(control.covers)
        notes.append(f"Power control setting {amount(control.setting)}, {control.listing}, covers {covers}.")
    return notes


def _verdicts(study: Study) -> str:
    counts = [(level, study.count(level)) for level in Level]
    return ", ".join(f"{count} {level.value}" for level, count in counts if count) or "no checks"


def _temperatures(study: Study) -> str:
    site = study.project.site
    parts = [
        f"lowest {amount(site.low_temperature)}" if site.low_temperature else "",
        f"highest {amount(site.high_temperature)}" if site.high_temperature else "",
    ]
    text = ", ".join(part for part in parts if part)
    return f"Design temperatures: {text}." if text else ""


def _backup(study: Study) -> str:
    method = study.project.backup.method
    if method is None:
        return ""
    setting = study.project.backup.management_setting
    limit = f", set to {amount(setting)}" if setting is not None else ""
    return f"Backup capacity by {method}{limit}."


def _bonds(study: Study) -> str:
    """Where the neutral is bonded, in one sentence."""
    bonded = [
        "the meter" if tag == SERVICE else tag
        for tag, node in study.network.nodes.items()
        if getattr(node.item, "neutral_bond", None) is True
    ]
    if not bonded:
        return ""
    return f"Neutral bonded to ground at {', '.join(bonded)} only."


def _modes(study: Study) -> tuple[str, ...]:
    """Each mode with what the service conductors carry in it."""
    if study.network.is_standalone():
        return ("Stand-alone: no utility supply; the units carry every load.",)
    circuits = [study.sized.circuit(circuit.tag) for circuit in study.network.children.get(SERVICE, ())]
    island = study.network.island
    found = []
    for mode, sentence in _MODES:
        if mode is Mode.ISLAND:
            if island is not None:
                found.append(sentence.replace("isolation device", island) + _island_sources(study, island))
            continue
        carried = []
        for sized in circuits:
            current = sized.currents.of(mode)
            if current is not None:
                total = value_of(current.continuous) + value_of(current.noncontinuous)
                carried.append(f"{sized.tag} {figure(total, 'A')}")
        found.append(f"{sentence} Service: {', '.join(carried)}." if carried else sentence)
    return tuple(found)


def _island_sources(study: Study, island: str) -> str:
    """Which units carry the backed-up part."""
    below = study.network.below(island)
    units = [tag for tag in below if study.network.nodes[tag].kind is Kind.UNIT]
    return f" Units: {', '.join(sorted(units, key=natural))}." if units else ""


def title_block(study: Study) -> TitleBlock:
    """The title block of the single-line diagram."""
    info = study.project.project
    people = (
        f"owner: {info.owner}" if info.owner else "",
        f"designer: {info.designer}" if info.designer else "",
        f"license: {info.license}" if info.license else "",
    )
    place = (info.address or "", f"parcel {info.parcel}" if info.parcel else "", info.date or "")
    lines = ("; ".join(part for part in group if part) for group in (place, people))
    return TitleBlock(
        title=info.title,
        lines=tuple(line for line in lines if line),
        sheet_title=SHEET_TITLE,
        sheet=SHEET,
        sheet_count="sheet 1 of 1",
        edition=f"NEC {study.book.edition}; not to scale",
        checked=study.checked_against,
        caution=CAUTION,
        revisions=tuple((revision.number, revision.date, revision.description) for revision in info.revisions),
    )


def abbreviations(plan: Plan) -> tuple[tuple[str, str], ...]:
    """The known abbreviations that the plan's texts use."""
    words = set(re.findall(r"[A-Za-z][A-Za-z0-9\-]*", " ".join(_texts(plan))))
    words |= {word.split("-")[0] for word in words}
    return tuple((short, meaning) for short, meaning in KNOWN if short in words)


def _texts(plan: Plan) -> list[str]:
    texts: list[str] = [plan.title_block.caution, plan.title_block.checked, plan.title_block.edition]
    for node in nodes_of(plan.root):
        texts.extend([*node.label, node.boundary, node.electrode or ""])
        texts.extend(line for item in node.stack for line in item.label)
    texts.extend(branch.rating for branch in branches_of(plan.root))
    for row in (tuple(column.heading for column in plan.schedule.columns), *plan.schedule.rows):
        texts.extend(row)
    for block in plan.blocks:
        texts.extend([block.heading, *block.paragraphs])
    return texts
