"""The JSON Schema of the project file, for editors and for other programs."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from linecalc.project.model import Project

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_INCLUDE = {
    "type": "array",
    "items": {"type": "string"},
    "description": "Files whose equipment and amendments are added; relative to this file.",
}


def project_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of a project file.

    The schema knows the shape: tables, keys, words. That tags exist and values
    agree is known only to :func:`linecalc.read_project`.
    """
    generated = Project.model_json_schema(by_alias=True, mode="validation", schema_generator=_FileSchema)
    properties = {"include": _INCLUDE, **generated.pop("properties")}
    return {"$schema": DIALECT, "title": "linecalc project file", **_titled(generated), "properties": properties}


def _titled(generated: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in generated.items() if key != "title"}


class _FileSchema(GenerateJsonSchema):
    """The model's schema without what TOML has not: null, defaults of whole tables, generated titles."""

    def nullable_schema(self, schema: Any) -> dict[str, Any]:
        """An optional key is left out, never null."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: Any) -> dict[str, Any]:
        """Defaults are shown where they are a plain value."""
        inner = self.generate_inner(schema["schema"])
        default = schema.get("default")
        return {**inner, "default": default} if isinstance(default, bool | int | str) else inner

    def dict_schema(self, schema: Any) -> dict[str, Any]:
        """A table of tags takes no key that is not a tag; one of paths takes any."""
        found = super().dict_schema(schema)
        return {**found, "additionalProperties": False} if "patternProperties" in found else found

    def field_title_should_be_set(self, schema: Any) -> bool:
        """Keys need no titles: the key is the title."""
        return False
