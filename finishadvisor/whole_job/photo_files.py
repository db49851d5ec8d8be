"""How large a photo may be, for whoever lets photos in: the measurement's own limits."""

from finishadvisor.evenness.picture_file import most_megapixels

__all__ = ["most_megapixels"]
