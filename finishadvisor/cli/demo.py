"""`finishadvisor demo`: the whole job on the example, in one command."""

from pathlib import Path

import click


@click.command("demo", short_help="Run the whole job on the built-in example, in DIR.")
@click.argument("folder", metavar="[DIR]", required=False, type=click.Path(path_type=Path))
def command(folder: Path | None) -> None:
    """Copy the example job to DIR (./demo-job when left out), run the whole job on it, and say what was decided."""
    from finishadvisor.cli.show_summary import show_summary
    from finishadvisor.demo.example import EXAMPLE_DAY, copy_example
    from finishadvisor.papers.make import make_papers
    from finishadvisor.papers.wording import day_text
    from finishadvisor.whole_job.work_through import work_through

    folder = folder or Path("demo-job")
    copy_example(folder)
    click.echo(f"The example job is in {folder}, as of {day_text(EXAMPLE_DAY)}.")

    def say(line: str) -> None:
        click.echo(f"  {line}")

    whole = work_through(folder, EXAMPLE_DAY, measure_photos=True, progress=say)
    written = make_papers(whole, folder / "papers", say)
    show_summary(whole, written)
    click.echo(
        f"\nGo on with it: finishadvisor advise {folder} --on {EXAMPLE_DAY}\nStart your own: finishadvisor new my-job"
    )
