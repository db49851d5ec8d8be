"""Prints how long `advise` takes on the example job, next to the imports that it cannot do without, in the same run.

Run: python tests/bench/advise_speed.py
"""

import subprocess
import sys
import tempfile
import time
from importlib import resources
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from finishadvisor.advice.advise import advise_floor
from finishadvisor.advice.derive import derive_facts
from finishadvisor.advice.verdict import judge_finishes
from finishadvisor.catalog.load import load_catalog
from finishadvisor.job.folder import open_job
from finishadvisor.whole_job.advised import price_finishes
from finishadvisor.whole_job.opened import Opened
from tests.advice.floors import ON
from tests.bench.installed import as_installed

YARDSTICK = "import click, numpy, tomlkit, rich.table; from pydantic import BaseModel"
RUNS = 7
WANTED = 2.5


def best_of(work):
    """Return the shortest time of several runs [s]; the machine may be busy with other things."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def process(compiled, *words):
    """Return a run of Python with these words, its output thrown away; the run that compiles is behind it."""

    def run():
        subprocess.run([sys.executable, *words], stdout=subprocess.DEVNULL, check=True, env=as_installed(compiled))

    run()
    return run


def print_parts(job_folder):
    """Print how long each part takes on the first floor, imports done."""
    opened, catalog = open_job(job_folder), load_catalog()
    job, floor = opened.job, opened.job.floors[0]
    facts = derive_facts(job, floor, catalog, ON, None)
    judgements = judge_finishes(facts, catalog)
    whole = Opened(opened.folder, job, catalog, ON)
    priced = price_finishes(whole, floor, facts, judgements, {})
    costs = priced.first_costs, priced.recoat_costs, priced.days_out, priced.works
    parts = {
        "read the job": lambda: open_job(job_folder),
        "derive the facts": lambda: derive_facts(job, floor, catalog, ON, None),
        "judge every finish": lambda: judge_finishes(facts, catalog),
        "works, prices, days out": lambda: price_finishes(whole, floor, facts, judgements, {}),
        "rank and tell": lambda: advise_floor(job, floor, facts, judgements, *costs, catalog, ON),
    }
    for name, work in parts.items():
        print(f"  {name}: {1000 * best_of(work):.1f} ms a floor")


def main():
    """Print the yardstick, the whole process, their ratio, and the parts."""
    with tempfile.TemporaryDirectory() as empty:
        example = Path(str(resources.files("finishadvisor.demo"))) / "job"
        compiled, json_file = Path(empty), str(Path(empty) / "advice.json")
        words = ["-m", "finishadvisor", "advise", str(example), "--on", str(ON), "--json", json_file]
        yardstick = best_of(process(compiled, "-c", YARDSTICK))
        advise = best_of(process(compiled, *words))
        print(f"the imports alone: {yardstick:.3f} s")
        print(f"advise on the example job: {advise:.3f} s, {advise / yardstick:.2f} of them (wanted: {WANTED} at most)")
        print_parts(example)


if __name__ == "__main__":
    main()
