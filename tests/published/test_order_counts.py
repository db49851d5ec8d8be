"""Test kits in the number of the standards, as they stand on the order.

ASTM F2170, 10.1 (restated): 3 holes for the first 1000 ft², 1 more for each further 1000 ft²; 2000 ft² take 4.
ASTM F1869-11 (count from memory): dishes by the same rule.
ASTM D4262-05(2012), 6.2: at least two pH readings for each 500 ft² or part.
ASTM D4263 (from memory): one sheet for each 500 ft² or part.
"""

import pytest

from finishadvisor.order.make import make_order
from finishadvisor.works.make import make_works
from tests.works.shipped import a_floor_plain, a_job, required, shipped, with_limits

SIZES = {600: ("30ft", "20ft"), 1000: ("40ft", "25ft"), 2000: ("50ft", "40ft"), 2500: ("50ft", "50ft")}


@pytest.mark.parametrize(
    ("test", "material", "counts"),
    [
        ("test-slab-rh", "rh-probe", {600: 3, 1000: 3, 2000: 4, 2500: 5}),
        ("test-calcium-chloride", "calcium-chloride-kit", {600: 3, 1000: 3, 2000: 4, 2500: 5}),
        ("test-ph", "ph-paper", {600: 4, 1000: 4, 2000: 8, 2500: 10}),
        ("test-plastic-sheet", "test-sheet", {600: 2, 1000: 2, 2000: 4, 2500: 5}),
    ],
)
def test_kits_are_ordered_by_the_standards_count(test, material, counts):
    catalog = with_limits(shipped(), draws=10)
    loss = shipped().materials[material].loss.expected
    for area_ft2, count in counts.items():
        job = a_job(a_floor_plain(*SIZES[area_ft2]))
        works = make_works(job.floors[0], catalog.finishes["bare"], [required(test)], {}, catalog)
        line = next(line for line in make_order([works], job, catalog).floors[0].lines if line.material == material)
        assert line.need.expected * (1 - loss) == pytest.approx(count)
