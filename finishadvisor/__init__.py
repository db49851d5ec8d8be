"""Choose, check, order, schedule and hand over the finish of integrally colored concrete floors."""

__version__ = "0.1.0"
