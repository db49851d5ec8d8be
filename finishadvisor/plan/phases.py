"""The phases of the work items that the plan tells apart, see `catalog.models.WorkItem`."""

from typing import Final

FIND_OUT: Final = 10
SITE: Final = 20
CUT: Final = 40
BEFORE_COATS: Final = 60
AFTER: Final = 80
