"""The family of errors: each carries one sentence for the person who can mend the cause."""


class SimengineError(Exception):
    """Base of every error that this package raises on purpose."""


class InputError(SimengineError):
    """Something that the user gave is at fault; holds every problem found, one line each."""

    def __init__(self, *problems: str) -> None:
        self.problems = problems
        super().__init__("\n".join(problems))


class WeatherError(InputError):
    """A weather file cannot be used; the line says which file, where and what is accepted."""


class ScenarioError(InputError):
    """A scenario cannot be used; each line says file, line, column, key and what is accepted."""


class RangeError(InputError, ValueError):
    """A number lies outside the range in which a relation holds."""


class RunEnded(SimengineError):
    """A run ended early for a named reason; what was done is kept."""
