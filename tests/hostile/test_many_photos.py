"""Many photos of one floor: what is kept of each does not grow with the number of the others."""

from finishadvisor.evenness.plan_maps import lay_on_plan
from tests.evenness.test_together import flat, made, placed


def bytes_laid(bays: int) -> int:
    maps = [made(flat(20, 20)).shade for _ in range(bays)]
    plan = lay_on_plan([shade for shade in maps if shade], [placed(5 * bay, 0) for bay in range(bays)])
    return sum(laid.lab.nbytes + laid.error.nbytes for laid in plan.maps)


def test_bays_side_by_side_take_the_room_that_they_fill() -> None:
    assert bytes_laid(40) < 1.2 * 4 * bytes_laid(10)
