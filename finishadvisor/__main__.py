"""The console script, and `python -m finishadvisor`; it imports nothing before Ctrl+C would be answered."""

import sys


def main() -> None:
    """Run the command line; Ctrl+C while it is still being loaded ends as quietly as later on."""
    try:
        from finishadvisor.cli.main import main as run

        run()
    except KeyboardInterrupt:
        sys.exit("Stopped. What was finished before is kept.")  # a text goes to standard error, and the exit code is 1


if __name__ == "__main__":
    main()
