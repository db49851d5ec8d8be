"""The child process: opens pictures within limits, measures photos, makes papers. Answers a JSON object a line.

python -m finishadvisor.web.child TASK '{"..."}'

Without words it practices measuring, then takes {"task": ..., "given": ...} as one line of standard input.
"""

import contextlib
import datetime
import io
import json
import sys
from pathlib import Path
from typing import Any, Final

from finishadvisor.errors import FinishAdvisorError

MOST_MEMORY_BYTES: Final = 3_000_000_000
"""Address space of the child that opens pictures: 100 megapixels several times over (our choice)."""

MOST_MEMORY_TO_MEASURE_BYTES: Final = 8_000_000_000
"""Address space of the child that measures, its libraries included (our choice)."""


def say(**answer: Any) -> None:
    """Write one answer."""
    sys.stdout.write(json.dumps(answer) + "\n")
    sys.stdout.flush()


def limit_memory(most_bytes: int) -> None:
    """Limit this process's memory where the system can; elsewhere the pixel limit alone holds."""
    try:
        import resource
    except ImportError:  # Windows
        return
    resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))


def look(given: dict[str, Any]) -> None:
    """Open one picture, write its preview without any of its private notes, and answer its size and kind."""
    limit_memory(MOST_MEMORY_BYTES)
    from finishadvisor.web.pictures import write_preview

    say(**write_preview(Path(given["photo"]), Path(given["preview"])))


def propose(given: dict[str, Any]) -> None:
    """Look for corners and cards in a picture that was made fit to be shown, and answer them as marks."""
    limit_memory(MOST_MEMORY_BYTES)
    from finishadvisor.whole_job.proposals import propose_marks

    found = propose_marks(Path(given["preview"]), given["width"])
    say(corners=found.corners, cards=[{"at": at, "reflectance": reflectance} for at, reflectance in found.cards])


def measure(given: dict[str, Any]) -> None:
    """Measure the photos of one floor and draw its pictures, within limits."""
    limit_memory(MOST_MEMORY_TO_MEASURE_BYTES)
    from finishadvisor.web.maps import write_maps
    from finishadvisor.whole_job.opened import open_for
    from finishadvisor.whole_job.photos import measure_floor

    opened = open_for(Path(given["folder"]), datetime.date.fromisoformat(given["on"]))
    (floor,) = opened.floors_named(given["floor"])
    measurements, _ = measure_floor(opened.folder, floor, opened.catalog, opened.on, lambda line: say(line=line))
    say(line="Drawing the maps")
    write_maps(opened.folder, floor, measurements, opened.catalog)
    say(done=True)


def papers(given: dict[str, Any]) -> None:
    """Work the whole job through and write every paper."""
    from finishadvisor.papers.make import make_papers
    from finishadvisor.whole_job.work_through import work_through

    whole = work_through(
        Path(given["folder"]), datetime.date.fromisoformat(given["on"]), measure_photos=True,
        progress=lambda line: say(line=line),
    )  # fmt: skip
    make_papers(
        whole, whole.folder / "papers", lambda line: say(line=line), map_for_client=given["map_for_client"]
    )  # fmt: skip
    say(done=True)


def wait_for_task() -> tuple[str, dict[str, Any]]:
    """Practice measuring, then wait for a task; none comes when the page is closed."""
    from finishadvisor.web.practice import practice

    with contextlib.redirect_stdout(io.StringIO()):
        practice(measure)
    line = sys.stdin.readline()
    if not line:
        sys.exit()
    asked = json.loads(line)
    return asked["task"], asked["given"]


TASKS: Final = {"look": look, "propose": propose, "measure": measure, "papers": papers}


def main() -> None:
    """Do one task; whatever goes wrong is answered in words."""
    task, given = (sys.argv[1], json.loads(sys.argv[2])) if len(sys.argv) > 1 else wait_for_task()
    try:
        TASKS[task](given)
    except FinishAdvisorError as error:
        say(error=str(error))
    except MemoryError:
        say(error="This needs more memory than is allowed. Use the camera's normal setting, 12 to 50 megapixels.")
    except Exception as error:  # the page shows a sentence, never a traceback
        say(error=f"A fault inside Finish Advisor ({type(error).__name__}: {error}). Nothing of yours was changed.")


if __name__ == "__main__":
    main()
