"""A floor with joints, a load and a test on its plan, and patches on it, for tests of their causes."""

from finishadvisor.advice.marks import photo_facts
from finishadvisor.advice.patch_facts import Scene, patch_facts
from finishadvisor.records.comparison import Comparison, Mottling, SeenTwice
from tests.advice.floors import a_job, a_patch, a_photo, day, facts_of, measured, reading, shipped

OLD = {"date": day("2026-01-05")}
YOUNG = {"date": day("2026-08-10")}
ROOM = {
    "outline": {
        "rectangle": [{"x": 20, "y": 20}],
        "joint": [{"kind": "control", "start": [10, 0], "end": [10, 20]}],
    },
    "load": [{"name": "a", "boundary": [[0, 12], [20, 12]]}],
    "reading": [reading("sheet-test", "dry", "2026-09-10", place=(5, 5))],
    "photo": [{"file": "a.jpg", "size": [20, 20]}],
}
"""Twenty feet square: a sawcut across the middle, a load that ends 12 ft up, a sheet test 5 ft in."""
TROWELED = {"surface": "light-steel-trowel", "place": "indoors"}
TWICE = {"photo": [{"file": "a.jpg", "size": [20, 20]}, {"file": "b.jpg", "size": [20, 20]}]}
SHEEN = {"compared": Comparison(seen_twice=SeenTwice(seen_ft2=400, turned_ft2=30, moved_ft2=0))}
MOTTLED = {"compared": Comparison(mottling=(Mottling(photo="a.jpg", lightness=1.2),))}
GONE = {**TWICE, "together": a_photo(photo="together")}
PALE_GRAY = {"dL": 5, "da": -1.5, "db": -3.5}


def box(x, y, width, length, kind="dark", share=1.0, **more):
    """A patch that fills so much of its box."""
    outline = [(x, y), (x + width, y), (x + width, y + length), (x, y + length)]
    return a_patch(
        kind,
        x_ft=x,
        y_ft=y,
        width_ft=width,
        length_ft=length,
        area_ft2=share * width * length,
        outline_ft=outline,
        **more,
    )


def floor_of(**floor):
    return a_job(**floor).floors[0]


def about(patch, *others, compared=None, together=None, on_plan=True, caveats=(), **floor):
    """Everything that the rules ask of a patch."""
    written = {"pour": OLD, **(ROOM if on_plan else {}), **floor}
    photo = a_photo(patch, *others, caveats=caveats)
    evenness = measured(photo, together=together).model_copy(update={"compared": compared})
    scene = Scene(photo, floor_of(**written), evenness)
    return {**facts_of(evenness, **written), **photo_facts([photo]), **patch_facts(patch, scene, shipped())}
