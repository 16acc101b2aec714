"""The JSON schema knows the keys, kinds and choices of the file."""

import json

from simengine.collector.constructions import PANES
from simengine.scenario import json_schema
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.walk import fields_by_key


def test_it_is_plain_json_with_every_key() -> None:
    schema = json.loads(json.dumps(json_schema()))
    assert schema["$schema"].endswith("2020-12/schema")
    assert set(schema["properties"]) == set(fields_by_key(Inputs))
    assert set(schema["required"]) == {"schema", "title", "collector", "fan", "control"}
    assert schema["additionalProperties"] is False


def test_sections_close_and_describe_their_keys() -> None:
    for section in json_schema()["$defs"].values():
        assert section["additionalProperties"] is False
        assert all(field["description"] for field in section["properties"].values())


def test_choices_are_listed() -> None:
    sections = json_schema()["$defs"]
    assert sections["Pane"]["properties"]["construction"]["enum"] == list(PANES)
    assert sections["Run"]["properties"]["step"]["default"] == "600 s"
