"""Photos that were measured and refused, as text on a terminal."""

from finishadvisor.cli.columns import print_prose
from finishadvisor.records.evenness import FloorEvenness


def show_refused(floor: str, evenness: FloorEvenness | None) -> None:
    """Say of each photo of a floor that was refused that it was, and why; nothing where none was."""
    for photo in evenness.photos if evenness else ():
        if photo.refused:
            from finishadvisor.whole_job.one_photo import SENTENCES

            print_prose(f"{floor}: the photo {photo.photo} was refused. {SENTENCES[photo.refused[0]]}")
