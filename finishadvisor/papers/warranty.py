"""The warranty page of one floor: what is warranted, what is not, and the record that it rests on."""

from typing import Final

from finishadvisor.papers.blocks import Sheet, heading, points, quiet, signatures, write_in
from finishadvisor.papers.care_sheet import chosen
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.on_record import air_at_coats, lots, readings
from finishadvisor.records.whole import FloorOutcome, WholeJob

EXCLUDED: Final = (
    "cracks, and joints that open as the slab shrinks and moves",
    "curling and settling of the slab",
    "white salts, and damage by vapor or water from below",
    "differences in shade, and their change with age and light",
    "wear, scratches, stains and burns from use, tires, rubber and spills left standing",
    "de-icing salt, frost and standing water where the slab was not made for them",
    "cleaning, coating or repair by others, and care other than the care sheet says",
)


def warranty_page(whole: WholeJob, outcome: FloorOutcome) -> Sheet | None:
    """Return the warranty page of one floor, None where no finish is chosen: terms to fill in, what is on record."""
    finish = chosen(whole, outcome)
    if finish is None:
        return None
    blocks = [
        quiet("A page to complete and sign; what the law of the place gives the client stays untouched."),
        write_in(["Warranted by", "Warranted to", "From (day of handover)", "Until"]),
        heading("What is warranted"),
        points([
            f"{finish.name} was laid as the record says, on a slab prepared and tested as the record says.",
            "Where it lets go or wears through earlier than agreed, in normal use and care, it is mended joint to "
            "joint.",
            "The shade is that of the signed mock-up, within what concrete does from place to place.",
        ]),
        heading("What it excludes"),
        points(EXCLUDED),
        heading("What it rests on"),
        *lots(whole, outcome),
        *readings(whole, outcome),
        *air_at_coats(whole, outcome, planned=False),
        signatures(["For the contractor, date", f"For {whole.job.client or 'the client'}, date"]),
    ]
    answer = f"{finish.name}: what is warranted, what is not, and on what record."
    return Sheet(f"{outcome.floor.name}: warranty", answer, blocks, foot(whole, outcome.floor.name))
