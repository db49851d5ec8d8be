"""The command line in this process: quick enough to be tried many times, and a fault inside is raised, not printed."""

import sys
from unittest import mock

import pytest


def run_line(capture: pytest.CaptureFixture[str], *words: object) -> tuple[int, str]:
    """Run `finishadvisor` with these words; return the exit code and what stands on standard error.

    Checks what holds of every run: an exit code of the contract and, where it is not 0, one plain line.
    """
    from finishadvisor.cli.main import main

    capture.readouterr()
    with (
        mock.patch.object(sys, "argv", ["finishadvisor", *map(str, words)]),
        mock.patch.dict("os.environ", {"FINISHADVISOR_TRACEBACK": "1"}),
        pytest.raises(SystemExit) as stopped,
    ):
        main()
    code = stopped.value.code
    said = capture.readouterr().err
    assert code in {0, 1, 2}
    if code:
        lines = said.splitlines()
        assert len(lines) == 1, said
        assert lines[0].isprintable()
        assert 10 < len(lines[0]) < 1000
    return int(code), said
