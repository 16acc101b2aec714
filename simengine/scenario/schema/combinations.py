"""Which combinations of a sweep belong together, which make no sense, and what counts as best."""

from dataclasses import dataclass
from typing import Any, ClassVar

from simengine.scenario.schema.reading import JsonSchema, Reader, describe, refuse

MEASURES = {
    "offset_kwh": 1,
    "delivered_kwh": 1,
    "efficiency": 1,
    "net_saving": 1,
    "npv": 1,
    "saving_to_investment": 1,
    "irr": 1,
    "simple_payback_a": -1,
    "discounted_payback_a": -1,
    "levelised_heat_cost": -1,
    "first_cost": -1,
    "fan_kwh": -1,
}
"""What a member can be best in: 1 where more is better, -1 where less is."""

MOST_RULES = 100


@dataclass(frozen=True, slots=True)
class Condition:
    """What the value of one key has to be: one of a list, or within ends that belong to it."""

    any_of: tuple[Any, ...] = ()
    low: Any = None
    high: Any = None


@dataclass(frozen=True, slots=True)
class KeyGroups(Reader):
    """Groups of keys."""

    EXAMPLE: ClassVar[str] = '[["collector.width", "collector.height"]]'
    SCHEMA: ClassVar[JsonSchema] = {
        "type": "array",
        "items": {"type": "array", "items": {"type": "string"}, "minItems": 2},
    }

    def read(self, value: Any) -> tuple[tuple[str, ...], ...]:
        """Return the groups."""
        good = isinstance(value, list | tuple) and all(
            isinstance(group, list | tuple) and len(group) > 1 and all(isinstance(key, str) for key in group)
            for group in value
        )
        if not good or len(value) > MOST_RULES:
            raise refuse(f"{describe(value)} where groups of keys are due", self.example())
        return tuple(tuple(group) for group in value)

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"lists of keys, e.g. {self.example()}"


@dataclass(frozen=True, slots=True)
class LeaveOut(Reader):
    """Combinations to leave out: all conditions of one table hold."""

    EXAMPLE: ClassVar[str] = (
        '[{ "collector.arrangement" = "behind", "collector.tilt" = { from = "80 deg" } }]'
    )
    ACCEPTS: ClassVar[str] = "tables of key and value, list of values, or { from = .., to = .. }"

    def read(self, value: Any) -> tuple[dict[str, Condition], ...]:
        """Return the rules."""
        good = isinstance(value, list | tuple) and len(value) <= MOST_RULES
        if not good or not all(isinstance(rule, dict) and rule for rule in value):
            raise refuse(f"{describe(value)} where combinations are due", f"a list such as {self.example()}")
        return tuple({key: _condition(one) for key, one in rule.items()} for rule in value)

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        single: JsonSchema = {"type": ["string", "number", "boolean"]}
        ends = {"type": "object", "properties": {"from": single, "to": single}, "additionalProperties": False}
        each = {"anyOf": [single, {"type": "array", "items": single, "minItems": 1}, ends]}
        return {"type": "array", "items": {"type": "object", "additionalProperties": each}}


def _condition(value: Any) -> Condition:
    if (
        isinstance(value, dict)
        and value
        and set(value) <= {"from", "to"}
        and all(map(_single, value.values()))
    ):
        return Condition(low=value.get("from"), high=value.get("to"))
    if isinstance(value, list | tuple) and value and all(map(_single, value)):
        return Condition(any_of=tuple(value))
    if _single(value):
        return Condition(any_of=(value,))
    raise refuse(
        f"{describe(value)} says nothing about a value",
        'a value, a list of them, or { from = "1 m", to = "3 m" }',
    )


def _single(value: Any) -> bool:
    return isinstance(value, str | int | float | bool)
