"""A summary fit for strict JSON: every number is finite, or missing with its reason beside it."""

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

_UNIT_ENDINGS = ("_kwh", "_pa", "_kg", "_a", "_c", "_m2", "_m", "_kd", "_h")


def settle(value: Any) -> Any:
    """Return a copy in which every number is finite, or None with a reason beside it.

    >>> settle({"npv": float("nan")})
    {'npv': None, 'npv_reason': 'no finite number came out'}
    """
    if isinstance(value, Mapping):
        return _settle_mapping(value)
    if isinstance(value, list | tuple):
        return [settle(item) for item in value]
    if isinstance(value, np.generic):
        value = value.item()
    if isinstance(value, float):
        return value + 0.0 if math.isfinite(value) else None
    return value


def reason_key(key: str) -> str:
    """Return the name under which the reason for a missing number stands: without its unit.

    >>> reason_key("simple_payback_a")
    'simple_payback_reason'
    """
    stem = next((key.removesuffix(unit) for unit in _UNIT_ENDINGS if key.endswith(unit)), key)
    return f"{stem}_reason"


def _settle_mapping(value: Mapping[str, Any]) -> dict[str, Any]:
    reasons = {name for key in value for name in (f"{key}_reason", reason_key(key))}
    settled: dict[str, Any] = {}
    for key, item in value.items():
        if key in reasons:
            continue
        settled[key] = settle(item)
        if settled[key] is None:
            told = value.get(f"{key}_reason") or value.get(reason_key(key))
            unexplained = "not known" if item is None else "no finite number came out"
            settled[reason_key(key)] = told or unexplained
    return settled
