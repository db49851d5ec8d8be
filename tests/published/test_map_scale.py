"""The scale of shade maps against its source."""

from finishadvisor.papers.shade_scale import DARKER_TO_LIGHTER

# C. A. Brewer and M. Harrower, open set of map scales (2003): PuOr in 11 classes, from purple to orange (from memory)
PUOR = "2d004b 542788 8073ac b2abd2 d8daeb f7f7f7 fee0b6 fdb863 e08214 b35806 7f3b08"


def test_the_scale_is_the_published_one():
    assert [f"{red:02x}{green:02x}{blue:02x}" for red, green, blue in DARKER_TO_LIGHTER] == PUOR.split()
