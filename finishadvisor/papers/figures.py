"""What all figures share: colors and sizes of type."""

from typing import Final

from finishadvisor.papers.look import look

PAPER: Final = look().color["paper"]
INK: Final = look().color["ink"]
QUIET: Final = look().color["quiet"]
RULE: Final = look().color["rule"]
WORK: Final = look().color["work"]
HOLD: Final = look().color["hold"]
WHITE: Final = "#FFFFFF"

TEXT_PT: Final = 9.0
TITLE_PT: Final = 10.5
