"""`python -m finishadvisor`: the same as the console script."""

from finishadvisor.cli.main import main

if __name__ == "__main__":
    main()
