"""Building a project from a script: the same tables and keys as the file, as method calls."""

from __future__ import annotations

from typing import Any

from linecalc.errors import Problem
from linecalc.project import include
from linecalc.project.model import Project
from linecalc.project.sources import Source, Sources
from linecalc.project.validate import validated
from linecalc.project.wording import dotted


class ProjectBuilder:
    """Collects what a script says about one house; :meth:`build` validates it whole.

    Every method takes the keys of the file's table of the same name, with
    ``from_`` for ``from``. A key given as None counts as left out. Nothing is
    checked before :meth:`build`, which reports all problems at once.

    Examples
    --------
    >>> house = ProjectBuilder(title="Juniper Bend residence", code="NEC 2023")
    >>> house.site(low_temperature="-14 degC", high_temperature="36 degC")
    >>> house.service(voltage="240 V", rating="200 A")
    >>> house.panel("MP", bus="225 A", main="200 A", feed="top")
    >>> house.circuit("C1", from_="service", to="MP", length="10 ft")
    >>> house.build().panel["MP"].bus.value
    225.0
    """

    def __init__(self, title: str, code: str, **keys: Any):
        self._raw: dict[str, Any] = {"project": _stated({"title": title, "code": code, **keys})}
        self._sources = Sources()
        self._problems: list[Problem] = []

    def site(self, **keys: Any) -> None:
        """The design temperatures: the table ``[site]``."""
        self._table("site", keys)

    def service(self, **keys: Any) -> None:
        """The utility supply: the table ``[service]``."""
        self._table("service", keys)

    def dwelling(self, **keys: Any) -> None:
        """What the load calculation asks of the dwelling: the table ``[dwelling]``."""
        self._table("dwelling", keys)

    def backup(self, **keys: Any) -> None:
        """How the backup capacity is justified: the table ``[backup]``."""
        self._table("backup", keys)

    def grounding(self, **keys: Any) -> None:
        """The electrodes and the grounding of the array: the table ``[grounding]``."""
        self._table("grounding", keys)

    def rapid_shutdown(self, **keys: Any) -> None:
        """How PV circuits are brought to a safe voltage: the table ``[rapid_shutdown]``."""
        self._table("rapid_shutdown", keys)

    def required(self, **keys: Any) -> None:
        """Devices that belong to the house as a whole: the table ``[required]``."""
        self._table("required", keys)

    def facts(self, **keys: Any) -> None:
        """What offices ask a sheet to say: the table ``[facts]``."""
        self._table("facts", keys)

    def attachments(self, **keys: Any) -> None:
        """Papers that go with the sheets: the table ``[attachments]``."""
        self._table("attachments", keys)

    def label(self, key: str, **keys: Any) -> None:
        """A label as the AHJ wants it: ``[label.KEY]``."""
        self._tagged("label", key, keys)

    def power_control(self, **keys: Any) -> None:
        """A listed power control setting: the table ``[power_control]``."""
        self._table("power_control", keys)

    def amendment(self, text: str, source: str) -> None:
        """A local change of the code: one ``[[amendments]]``."""
        self._raw.setdefault("amendments", []).append({"text": text, "source": source})

    def revision(self, number: str, date: str, description: str) -> None:
        """A line of the revision block: one ``[[project.revisions]]``."""
        entry = {"number": number, "date": date, "description": description}
        self._raw["project"].setdefault("revisions", []).append(entry)

    def include(self, path: str) -> None:
        """The equipment and amendments of a file, as ``include = [path]`` does; relative to the working directory."""
        merge = include.merged({"include": [path]}, Source("", ""))
        for problem in merge.problems:
            self._problems.append(Problem(problem.message, key=f'include("{path}")') if not problem.file else problem)
        for key, (source, place) in merge.sources.included.items():
            self._take(key, source, place, merge.raw)

    def _take(self, key: tuple[str | int, ...], source: Source, place: tuple[str | int, ...], added: dict[str, Any]) -> None:
        """One entry of an included file, unless the script already has it."""
        kind, name = key
        if isinstance(name, str):
            self._tagged(str(kind), name, added[kind][name])
            self._sources.included[key] = (source, place)
            return
        entries = self._raw.setdefault(str(kind), [])
        self._sources.included[(kind, len(entries))] = (source, place)
        entries.append(added[str(kind)][name])

    def options(self, **keys: Any) -> None:
        """What the study of the system's size tries: the table ``[options]``."""
        self._table("options", keys)

    def equipment(self, tag: str, **keys: Any) -> None:
        """Datasheet values of one product: ``[equipment.TAG]``."""
        self._tagged("equipment", tag, keys)

    def panel(self, tag: str, **keys: Any) -> None:
        """A panelboard: ``[panel.TAG]``."""
        self._tagged("panel", tag, keys)

    def string(self, tag: str, **keys: Any) -> None:
        """Modules in series: ``[string.TAG]``."""
        self._tagged("string", tag, keys)

    def unit(self, tag: str, **keys: Any) -> None:
        """An inverter-battery unit: ``[unit.TAG]``."""
        self._tagged("unit", tag, keys)

    def inverter(self, tag: str, **keys: Any) -> None:
        """A PV-only inverter: ``[inverter.TAG]``."""
        self._tagged("inverter", tag, keys)

    def storage(self, tag: str, **keys: Any) -> None:
        """A DC-coupled storage module: ``[storage.TAG]``."""
        self._tagged("storage", tag, keys)

    def isolation(self, tag: str, **keys: Any) -> None:
        """The isolation device: ``[isolation.TAG]``."""
        self._tagged("isolation", tag, keys)

    def disconnect(self, tag: str, **keys: Any) -> None:
        """A disconnect: ``[disconnect.TAG]``."""
        self._tagged("disconnect", tag, keys)

    def junction(self, tag: str, **keys: Any) -> None:
        """A junction box: ``[junction.TAG]``."""
        self._tagged("junction", tag, keys)

    def combiner(self, tag: str, **keys: Any) -> None:
        """A PV combiner: ``[combiner.TAG]``."""
        self._tagged("combiner", tag, keys)

    def generator(self, tag: str, **keys: Any) -> None:
        """A standby generator: ``[generator.TAG]``."""
        self._tagged("generator", tag, keys)

    def transfer(self, tag: str, **keys: Any) -> None:
        """A transfer switch: ``[transfer.TAG]``."""
        self._tagged("transfer", tag, keys)

    def load(self, tag: str, **keys: Any) -> None:
        """A load: ``[load.TAG]``."""
        self._tagged("load", tag, keys)

    def circuit(self, tag: str, **keys: Any) -> None:
        """The conductors between two tagged things: ``[circuit.TAG]``; ``from_`` stands for ``from``."""
        if "from_" in keys:
            keys = {"from": keys["from_"], **{key: value for key, value in keys.items() if key != "from_"}}
        self._tagged("circuit", tag, keys)

    def section(self, tag: str, **keys: Any) -> None:
        """A stretch of a run: ``[section.TAG]``."""
        self._tagged("section", tag, keys)

    def build(self) -> Project:
        """The project, validated as a file would be.

        Raises
        ------
        InputError
            Every problem found; ``file`` and ``line`` are None.
        """
        return validated(self._raw, self._sources, self._problems)

    def _table(self, name: str, keys: dict[str, Any]) -> None:
        if name in self._raw:
            self._problems.append(Problem(f"{name} is described twice", key=name))
        self._raw[name] = _stated(keys)

    def _tagged(self, kind: str, tag: str, keys: dict[str, Any]) -> None:
        table = self._raw.setdefault(kind, {})
        if tag in table:
            self._problems.append(Problem("is described twice", key=dotted((kind, str(tag)))))
        table[tag] = _stated(keys)


def _stated(keys: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in keys.items() if value is not None}
