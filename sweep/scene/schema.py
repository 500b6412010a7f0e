"""The JSON Schema of a scene (draft 2020-12), with which editors complete and check what is written."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from sweep.scene.model import Scene


class _AsWritten(GenerateJsonSchema):
    """Says nothing twice, as a field's title beside its name, and nothing of null, which TOML cannot write.

    So an editor marks the key that is wrong, not the whole section for being neither right nor null.
    """

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False

    def nullable_schema(self, schema: Any) -> Any:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: Any) -> Any:
        told = super().default_schema(schema)
        if told.get("default", ...) is None:
            del told["default"]
        return told


def scene_schema() -> dict[str, Any]:
    """Return the schema, ready for JSON.

    A rule that spans several keys (heights rise, one blade or a list) is in it only where a schema can say it plainly;
    reading a scene holds to all of them.
    """
    schema = Scene.model_json_schema(schema_generator=_AsWritten)
    schema["oneOf"] = [{"required": [blade]} for blade in ("blade", "blades")]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
