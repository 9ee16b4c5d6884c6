"""What is wrong with a document, in the user's words: the model's own reports, translated."""

from __future__ import annotations

import re
import types
from collections.abc import Callable, Mapping
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from linecalc.errors import QuantityError
from linecalc.project.equipment import EQUIPMENT_KINDS
from linecalc.project.fields import ConductorField, QuantityField, TradeSizeField
from linecalc.project.model import Project
from linecalc.project.wording import Fault, Path, alternatives, dotted, nearest, quoted, shown, suggestion
from linecalc.units import parse_quantity

_CHOICES = re.compile(r"'([^']*)'")
_KEY_MARK = "[key]"
_TAG_EXPECTED = "1 to 24 letters, digits, _ . or -, starting with a letter or digit"

Report = Mapping[str, Any]


def model_faults(error: ValidationError) -> list[Fault]:
    """One fault for each thing that the model refuses."""
    return [_fault(report) for report in error.errors(include_url=False)]


def keys_of(model: type[BaseModel]) -> tuple[str, ...]:
    """The keys of a table as the file writes them."""
    return tuple(info.alias or name for name, info in model.model_fields.items())


def model_at(path: Path, within: type[BaseModel] = Project) -> type[BaseModel] | None:
    """The record that the table at ``path`` below ``within`` becomes; None where it is not one record."""
    if not path:
        return within
    info = field_of(within, path[0])
    inner = _record_in(info.annotation) if info else None
    if info is None or inner is None:
        return None
    used = 2 if _is_keyed(info.annotation) else 1
    return model_at(path[used:], inner) if len(path) >= used else None


def field_of(model: type[BaseModel], key: str | int) -> FieldInfo | None:
    """The field that the file writes as ``key``."""
    return next((info for name, info in model.model_fields.items() if (info.alias or name) == key), None)


def _is_record(annotation: Any) -> bool:
    return isinstance(annotation, type) and issubclass(annotation, BaseModel)


def _is_keyed(annotation: Any) -> bool:
    """Whether the records of a field stand under tags or in a list."""
    return get_origin(annotation) in (dict, tuple)


def _record_in(annotation: Any) -> type[BaseModel] | None:
    """The one record class inside a field's annotation."""
    if _is_record(annotation):
        return annotation
    found = [_record_in(inner) for inner in get_args(annotation) if inner is not Ellipsis]
    records = [record for record in found if record is not None]
    return records[0] if len(records) == 1 else None


def _fault(report: Report) -> Fault:
    path, model = _place(report)
    wording = _WORDINGS.get(report["type"])
    if wording is None:
        return Fault(path, f"{shown(report['input'])} is not accepted here", found=shown(report["input"]))
    return wording(report, path, model)


def _place(report: Report) -> tuple[Path, type[BaseModel] | None]:
    """The key path without the model's own marks, and the record around its last key."""
    loc: Path = tuple(report["loc"])
    if loc and loc[-1] == _KEY_MARK:
        loc = loc[:-1]
    if loc[:1] == ("equipment",) and len(loc) > 2 and loc[2] in EQUIPMENT_KINDS:
        return (*loc[:2], *loc[3:]), EQUIPMENT_KINDS[str(loc[2])]
    for length in range(len(loc) - 1, -1, -1):
        model = model_at(loc[:length])
        if model is not None:
            return loc, model
    return loc, None


def _unknown_key(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    key = str(path[-1])
    known = keys_of(model) if model else ()
    what = "unknown table" if len(path) == 1 and isinstance(report["input"], dict) else "unknown key"
    close = nearest(key, known)
    advice = suggestion(close, known)
    return Fault(path, f"{what}; {advice}", found=key, expected=", ".join(known), nearest=close)


def _missing(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    if isinstance(path[-1], int):
        return Fault(path, "the list is too short: a value is missing at its end")
    info = field_of(model, path[-1]) if model else None
    expected = expectation(info) if info else ""
    return Fault(path, f"is missing; give {expected}" if expected else "is missing", expected=expected or None)


def expectation(info: FieldInfo) -> str:
    """What a field accepts, in words; empty where there is nothing to say."""
    validators = [*info.metadata, *_metadata_in(info.annotation)]
    for validator in validators:
        if isinstance(validator, QuantityField):
            return _with_article(validator.expected)
        if isinstance(validator, ConductorField):
            return 'a conductor, like "6 AWG Cu THWN-2"'
        if isinstance(validator, TradeSizeField):
            return 'a trade size, like "1 in"'
    choices = _literals(info.annotation)
    if choices:
        return alternatives(choices)
    return _PLAIN_KINDS.get(info.annotation, "") or ("a table of keys" if _is_record(info.annotation) else "")


def _with_article(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


_PLAIN_KINDS: dict[Any, str] = {str: "text", int: "a whole number", float: "a number", bool: "true or false"}


def _metadata_in(annotation: Any) -> list[Any]:
    """The validators inside ``Annotated[...] | None`` and the like."""
    if get_origin(annotation) is Annotated:
        return list(annotation.__metadata__)
    if get_origin(annotation) in (Union, types.UnionType, tuple):
        return [found for inner in get_args(annotation) for found in _metadata_in(inner)]
    return []


def _literals(annotation: Any) -> tuple[str, ...]:
    if get_origin(annotation) in (Union, types.UnionType):
        return tuple(found for inner in get_args(annotation) for found in _literals(inner))
    return tuple(value for value in get_args(annotation) if isinstance(value, str))


def _quantity(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    context, found = report["ctx"], report["input"]
    problem = str(context["problem"])
    validator = _quantity_field(path, model)
    if isinstance(found, int | float) and not isinstance(found, bool) and validator:
        problem = _without_unit(shown(found), validator)
    elif "found" in context:
        problem = f"{shown(found)} {problem}"
    return Fault(path, problem, found=shown(found), expected=context.get("expected"))


def _without_unit(number: str, validator: QuantityField) -> str:
    """What a number without quotes and unit should have been."""
    try:
        parse_quantity(number, *validator.dimensions)
    except QuantityError as error:
        return str(error)
    return f"{number} has no unit"


def _quantity_field(path: Path, model: type[BaseModel] | None) -> QuantityField | None:
    keys = [key for key in path if isinstance(key, str)]
    info = field_of(model, keys[-1]) if model and keys else None
    validators = [*info.metadata, *_metadata_in(info.annotation)] if info else []
    return next((validator for validator in validators if isinstance(validator, QuantityField)), None)


def _custom(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    found, expected = shown(report["input"]), report["ctx"].get("expected")
    problem = report["ctx"].get("problem", "is not a trade size")
    return Fault(path, f"{found} {problem}; expected {expected}", found=found, expected=expected)


def _choice(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    choices = tuple(_CHOICES.findall(report["ctx"]["expected"]))
    return not_a_choice(path, report["input"], choices)


def not_a_choice(path: Path, found: Any, choices: tuple[str, ...]) -> Fault:
    """``found`` is none of the words that may stand at ``path``."""
    close = nearest(found, choices) if isinstance(found, str) else ()
    listed = alternatives(choices)
    message = f"{shown(found)} is not one of {listed}"
    if close and len(choices) > 3:
        message += f"; did you mean {alternatives(close)}?"
    return Fault(path, message, found=shown(found), expected=listed, nearest=close)


def _no_kind(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    kinds = alternatives(EQUIPMENT_KINDS)
    return Fault((*path, "kind"), f"is missing; give {kinds}", expected=kinds)


def _wrong_kind(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    return not_a_choice((*path, "kind"), report["input"]["kind"], tuple(EQUIPMENT_KINDS))


def _tag(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    found = shown(report["input"])
    return Fault(path, f"{found} cannot be a tag; a tag is {_TAG_EXPECTED}", found=found, expected=_TAG_EXPECTED)


def _wrong_type(expected: str) -> Callable[[Report, Path, type[BaseModel] | None], Fault]:
    """The wording of a value of the wrong TOML type, with the same value rewritten where that is sure."""

    def wording(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
        found = report["input"]
        rewritten = _rewritten(found, expected)
        advice = f"; write {rewritten}" if rewritten else ""
        return Fault(path, f"{shown(found)} is not {expected}{advice}", found=shown(found), expected=expected)

    return wording


def _rewritten(found: Any, expected: str) -> str:
    if isinstance(found, str):
        plain = found.strip().lower()
        if expected == "true or false":
            return {"yes": "true", "no": "false", "true": "true", "false": "false"}.get(plain, "")
        number = r"-?\d{1,15}" if expected == "a whole number" else r"-?\d{1,15}(\.\d{1,15})?"
        return plain if "number" in expected and re.fullmatch(number, plain) else ""
    if expected == "text" and not isinstance(found, dict | list | tuple):
        return quoted(shown(found))
    return ""


def _bound(word: str, key: str) -> Callable[[Report, Path, type[BaseModel] | None], Fault]:
    def wording(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
        limit = f"{report['ctx'][key]:g}"
        found = shown(report["input"])
        if found == "nan":
            return Fault(path, "nan is not a number", found=found)
        return Fault(path, f"{found} is {word} {limit}", found=found, expected=f"a limit of {limit}")

    return wording


def _too_long(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    limit = report["ctx"]["max_length"]
    if isinstance(report["input"], str):
        return Fault(path, f"text of {len(report['input'])} characters; the limit is {limit}")
    return Fault(path, f"a list of {len(report['input'])} values; the limit is {limit}")


def _no_table(report: Report, path: Path, model: type[BaseModel] | None) -> Fault:
    found = shown(report["input"])
    return Fault(path, f"{found} stands where a table of keys is needed; write [{dotted(path)}] and its keys below", found=found)


_WORDINGS: dict[str, Callable[[Report, Path, type[BaseModel] | None], Fault]] = {
    "extra_forbidden": _unknown_key,
    "missing": _missing,
    "quantity": _quantity,
    "conductor": _custom,
    "trade_size": _custom,
    "literal_error": _choice,
    "union_tag_not_found": _no_kind,
    "union_tag_invalid": _wrong_kind,
    "string_pattern_mismatch": _tag,
    "string_type": _wrong_type("text"),
    "int_type": _wrong_type("a whole number"),
    "float_type": _wrong_type("a number"),
    "bool_type": _wrong_type("true or false"),
    "tuple_type": _wrong_type("a list"),
    "greater_than": _bound("not more than", "gt"),
    "greater_than_equal": _bound("below the least allowed,", "ge"),
    "less_than_equal": _bound("above the limit,", "le"),
    "string_too_long": _too_long,
    "too_long": _too_long,
    "dict_type": _no_table,
    "model_type": _no_table,
    "model_attributes_type": _no_table,
}
