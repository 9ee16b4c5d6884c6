"""Notes, operating modes, abbreviations and the title block, all from the Study."""

from __future__ import annotations

import re

from linecalc.diagram.note_texts import notes, source_notes
from linecalc.diagram.phrases import figure, listed
from linecalc.diagram.plan import Plan, TextBlock, TitleBlock, branches_of, nodes_of
from linecalc.diagram.protection import SURGE_TAG
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
    ("AIC", "interrupting rating"),
    ("Al", "aluminium"),
    ("AWG", "American wire gauge"),
    ("Cu", "copper"),
    ("DC", "direct current"),
    ("EGC", "equipment grounding conductor"),
    ("EMT", "electrical metallic tubing"),
    ("ENT", "electrical nonmetallic tubing"),
    ("EV", "electric vehicle"),
    ("FMC", "flexible metal conduit"),
    ("GEC", "grounding electrode conductor"),
    ("IMC", "intermediate metal conduit"),
    ("Isc", "short-circuit current"),
    ("LFMC", "liquidtight flexible metal conduit"),
    ("LFNC-B", "liquidtight flexible nonmetallic conduit"),
    ("LRA", "locked-rotor amperes"),
    ("MBJ", "main bonding jumper"),
    ("MCA", "minimum circuit ampacity"),
    ("MID", "microgrid interconnect device"),
    ("MOCP", "maximum overcurrent protection"),
    ("NEC", "National Electrical Code"),
    ("OCPD", "overcurrent protective device"),
    ("PV", "photovoltaic"),
    ("PVC40", "rigid PVC conduit, schedule 40"),
    ("PVC80", "rigid PVC conduit, schedule 80"),
    ("RLA", "rated-load amperes"),
    ("RMC", "rigid metal conduit"),
    ("RSD", "rapid shutdown"),
    ("SBJ", "system bonding jumper"),
    ("SPD", "surge protective device"),
    ("SSBJ", "supply-side bonding jumper"),
    ("Voc", "open-circuit voltage"),
)
_MODES = (
    (Mode.EXPORT, "Export: no loads, every source at its rating"),
    (Mode.SUPPLY, "Supply: no sources, calculated loads"),
    (Mode.CHARGE, "Charge: supply, and storage charging"),
)


#: Columns of the schedule that hold tags only.
_TAG_COLUMNS = 2


def note_blocks(study: Study) -> tuple[TextBlock, ...]:
    """Numbered notes, then what is to be known of the sources, then the operating modes."""
    blocks = [TextBlock("NOTES", notes(study), numbered=True)]
    sources = source_notes(study)
    if sources:
        blocks.append(TextBlock("SOURCES AND STORAGE", sources))
    modes = _modes(study)
    if modes:
        blocks.append(TextBlock("OPERATING MODES, with the service current", modes))
    return tuple(blocks)


def _modes(study: Study) -> tuple[str, ...]:
    """Each mode with what the service conductors carry in it."""
    if study.network.is_standalone():
        return ("Stand-alone: no utility supply; the units carry every load.",)
    circuits = [study.sized.circuit(circuit.tag) for circuit in study.network.children.get(SERVICE, ())]
    found = []
    for mode, sentence in _MODES:
        carried = []
        for sized in circuits:
            current = sized.currents.of(mode)
            if current is not None:
                total = value_of(current.continuous) + value_of(current.noncontinuous)
                carried.append(f"{sized.tag} {figure(total, 'A')}")
        found.append(f"{sentence}: {', '.join(carried)}." if carried else f"{sentence}.")
    island = study.network.island
    if island is None:
        return tuple(found)
    switch = f"transfer of {island}" if study.network.nodes[island].kind is Kind.UNIT else island
    return (*found, f"Island, utility lost: {switch} open, {_island_sources(study, island)}.")


def _island_sources(study: Study, island: str) -> str:
    """Which units carry the backed-up part."""
    units = sorted((tag for tag in study.network.below(island) if study.network.nodes[tag].kind is Kind.UNIT), key=natural)
    verb = "carries" if len(units) == 1 else "carry"
    return f"{listed(units) or 'the units'} {verb} the backed-up part"


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
    """The known abbreviations that the plan's texts use; the tag of a thing or of a run is none."""
    words = set(re.findall(r"[A-Za-z][A-Za-z0-9\-]*", " ".join(_texts(plan))))
    words |= {word.split("-")[0] for word in words}
    return tuple((short, meaning) for short, meaning in KNOWN if short in words)


def _texts(plan: Plan) -> list[str]:
    """All texts of a plan, without the tags ahead of labels and in the first columns of the schedule."""
    texts: list[str] = [plan.title_block.caution, plan.title_block.checked, plan.title_block.edition]
    for node in nodes_of(plan.root):
        tag = "" if node.tag == SURGE_TAG else node.tag
        texts.extend(line.removeprefix(tag) for line in node.label)
        texts.extend([node.boundary, node.electrode or ""])
        texts.extend(line for item in (*node.stack, *node.apart) for line in item.label)
    texts.extend(branch.rating for branch in branches_of(plan.root))
    for row in (tuple(column.heading for column in plan.schedule.columns), *plan.schedule.rows):
        texts.extend(row[_TAG_COLUMNS:])
    for block in plan.blocks:
        texts.extend([block.heading, *block.paragraphs])
    return texts
