"""Windows of the day in a scenario."""

from dataclasses import dataclass
from typing import Any

from simengine.scenario.schema.reading import JsonSchema, Reader, refuse
from simengine.units import quote


@dataclass(frozen=True, slots=True)
class Windows(Reader):
    """Windows of the day, each from one hour to another."""

    def read(self, value: Any) -> tuple[tuple[float, float], ...]:
        """Return the windows [h]; one that ends before it begins reaches past midnight."""
        windows = value if isinstance(value, list | tuple) else [value]
        if len(windows) > 24 or not all(self._is_window(window) for window in windows):
            raise refuse(
                f"{quote(value)} where windows of the day are due",
                "pairs of different hours from 0 to 24, e.g. [[7, 9], [16.5, 22]]",
            )
        return tuple((float(begin), float(end)) for begin, end in windows)

    @staticmethod
    def _is_window(window: Any) -> bool:
        return (
            isinstance(window, list | tuple)
            and len(window) == 2
            and all(type(hour) in (int, float) and 0.0 <= hour <= 24.0 for hour in window)
            and window[0] != window[1]
        )

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return "[[7, 9], [16.5, 22]]"

    def accepts(self) -> str:
        """Say in words what may be written."""
        return "pairs of hours from 0 to 24"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        hour = {"type": "number", "minimum": 0, "maximum": 24}
        window = {"type": "array", "items": hour, "minItems": 2, "maxItems": 2}
        return {"type": "array", "items": window, "maxItems": 24}
