"""Settings of the property tests: the same examples in every run."""

from hypothesis import HealthCheck, settings


def examples(count: int) -> settings:
    """Return settings for so many examples, the same ones in every run."""
    allowed = [HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
    return settings(max_examples=count, deadline=None, derandomize=True, suppress_health_check=allowed)
