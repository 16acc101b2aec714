"""Exports the scenario schema for editors that check a file while it is written."""

from typing import Any

from simengine.scenario.schema import SCHEMA, Inputs


def json_schema() -> dict[str, Any]:
    """Return the JSON schema (draft 2020-12) of a scenario file.

    Returns
    -------
    dict
        Ready for `json.dumps`. It knows keys, kinds of value and choices; bounds that depend on units
        are checked by the program only.

    Examples
    --------
    >>> json_schema()["properties"]["schema"]["maximum"]
    1
    """
    schema = Inputs.model_json_schema(by_alias=True)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": "simengine scenario",
        "description": f"A scenario file, schema {SCHEMA}: one collector, one house, one year.",
    }
