"""Prints how long pricing and ordering take, next to one decode of a 12 MP photo in the same run.

Run: python tests/bench/order_time.py
"""

import sys
from pathlib import Path

from timing import best_of, decode_seconds

sys.path.insert(0, str(Path(__file__).parents[2]))

from finishadvisor.order.make import make_order
from finishadvisor.order.price import first_cost
from finishadvisor.works.make import make_works
from tests.works.shipped import a_floor_plain, a_job, required, shipped

FINISHES = ("polyaspartic-flake", "acrylic-solvent", "polished-dyed", "epoxy-urethane-solid", "enhancer", "dye-acrylic")


def main():
    """Print each time and how many decodes it is."""
    catalog, decode = shipped(), decode_seconds()
    print(f"a decode: {decode:.3f} s")
    for floors in (1, 2, 4, 6):
        job = a_job(*(a_floor_plain(20 + 6 * number, 18, f"Floor {number}") for number in range(floors)))
        works = [
            make_works(floor, catalog.finishes[finish], [required("repair-cracks")], {}, catalog)
            for floor, finish in zip(job.floors, FINISHES, strict=False)
        ]
        took = best_of(2, lambda works=works, job=job: make_order(works, job, catalog))
        print(f"order of {floors} floors: {took:.3f} s, {took / decode:.1f} decodes")
    job = a_job()
    every = [make_works(job.floors[0], finish, (), {}, catalog) for finish in catalog.finishes.values()]
    took = best_of(2, lambda: [first_cost(works, job, catalog) for works in every])
    print(f"first cost of {len(every)} finishes: {took:.3f} s, {took / decode:.2f} decodes")


if __name__ == "__main__":
    main()
