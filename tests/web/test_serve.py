"""Starting and stopping the server itself."""

import os
import signal
import socket
import subprocess
import sys

import pytest

from finishadvisor.errors import UsageError
from finishadvisor.web.serve import DEFAULT_PORT, open_port
from tests.web.running import free_port, serving


def started(*words):
    command = [sys.executable, "-m", "finishadvisor", "serve", *map(str, words)]
    return subprocess.run(command, capture_output=True, encoding="utf-8", timeout=60, check=False)


def test_it_listens_on_this_machine_alone(jobs):
    port = free_port()
    with serving(jobs, port):
        for address in socket.getaddrinfo(socket.gethostname(), port, socket.AF_INET, socket.SOCK_STREAM):
            host = address[4][0]
            if host.startswith("127."):
                continue
            with pytest.raises(OSError), socket.create_connection((host, port), timeout=2):
                pass


@pytest.mark.skipif(os.name == "nt", reason="Windows sends Ctrl+C another way")
def test_ctrl_c_closes_it_without_a_word_of_complaint(jobs):
    with serving(jobs, free_port()) as (_, process):
        process.send_signal(signal.SIGINT)
        said, _ = process.communicate(timeout=20)
    assert process.returncode == 0
    assert "The page is closed." in said
    assert "Traceback" not in said


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    done = started("--jobs", tmp_path / "nothing")
    assert done.returncode == 2
    assert "is not a folder" in done.stderr


def test_a_port_that_is_taken_is_refused(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        done = started("--jobs", tmp_path, "--port", taken.getsockname()[1])
    assert done.returncode == 2
    assert "--port" in done.stderr


@pytest.mark.parametrize("port", [0, 65_536, -1])
def test_a_port_that_there_is_not_is_refused(tmp_path, port):
    assert started("--jobs", tmp_path, "--port", port).returncode == 2


def test_without_a_port_the_first_free_one_is_taken():
    with open_port("127.0.0.1", None) as first, open_port("127.0.0.1", None) as second:
        ports = [first.getsockname()[1], second.getsockname()[1]]
    assert ports[0] >= DEFAULT_PORT
    assert ports[1] > ports[0]


def test_one_job_folder_may_be_served_alone(jobs):
    with serving(jobs / "pottery", free_port()) as (address, _):
        import urllib.request

        html = urllib.request.urlopen(address, timeout=10).read().decode("utf-8")
    assert "Pottery, two floors" in html
    assert "Begin a job" not in html


def test_a_taken_port_is_named_in_words():
    with open_port("127.0.0.1", None) as taken, pytest.raises(UsageError, match="taken"):
        open_port("127.0.0.1", taken.getsockname()[1])
