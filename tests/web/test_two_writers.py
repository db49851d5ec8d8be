"""Two windows on one job: nothing is silently destroyed, whatever happens in the middle."""

import os
import re
import signal
import threading
import time
from html import escape

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.errors import ChangedMeanwhileError
from finishadvisor.job.edits import answer
from finishadvisor.job.folder import job_version, open_job
from tests.web.running import free_port, serving

FLOOR = "/job/shed/1/floor"


def job_of(jobs):
    return open_job(jobs / "shed").job.floors[0]


def test_an_answer_thought_out_for_an_older_job_is_not_written(page, jobs):
    old = page.version("shed")
    answer(jobs / "shed", "Floor", {"sun": "full"})
    reply = page.post(f"{FLOOR}/answers", {"version": old, "sun": "none", "water": "wet"})
    assert reply.status_code == 409
    assert "changed meanwhile" in reply.text
    assert "none" in reply.text
    assert "wet" in reply.text
    assert job_of(jobs).answers == {"place": "covered", "sun": "full"}


def test_what_was_entered_is_told_in_the_words_of_its_question(page, jobs):
    """The fact's question and its unit, not its id; what the job has just so is not told again."""
    old = page.version("shed")
    answer(jobs / "shed", "Floor", {"sun": "full"})
    given = {"place": "covered", "winter": "frost-and-salt", "thickness_in": "4.5", "sun": ""}
    told = re.search(r"<dl.*?</dl>", page.post(f"{FLOOR}/answers", {"version": old, **given}).text, re.DOTALL)[0]
    facts = load_catalog().facts
    for fact, said in (("winter", "frost and salt"), ("thickness_in", "4.5 in"), ("sun", "not known")):
        assert f"<dt>{escape(facts[fact].question)}</dt><dd>{said}</dd>" in told
        assert f"{fact}<" not in told
    assert facts["place"].question not in told
    days = {"first_side": "9 ft", "second_side": "9 ft", "pour": "2026-09-01", "about": "on"}
    told = page.post("/job/shed/1/floor/about", {"version": old, **days}).text
    assert "<dt>Poured, or to be poured, on</dt><dd>Tue Sep 1, 2026</dd>" in told
    assert "<dt>The day of the pour is not certain</dt><dd>yes</dd>" in told


def test_what_was_entered_can_be_saved_over_it_knowingly(page, jobs):
    old = page.version("shed")
    answer(jobs / "shed", "Floor", {"sun": "full"})
    page.post(f"{FLOOR}/answers", {"version": old, "sun": "none"})
    assert page.post(f"{FLOOR}/answers", {"version": page.version("shed"), "sun": "none"}).status_code == 303
    assert job_of(jobs).answers["sun"] == "none"


@pytest.mark.parametrize(
    ("address", "fields"),
    [
        ("/floor/about", {"first_side": "9 ft", "second_side": "9 ft"}),
        ("/finishes/densified", {"by": "the other window"}),
    ],
)
def test_other_forms_are_held_back_too(page, jobs, address, fields):
    old = page.version("shed")
    answer(jobs / "shed", "Floor", {"sun": "full"})
    before = (jobs / "shed" / "job.toml").read_bytes()
    assert page.post(f"/job/shed/1{address}", {"version": old, **fields}).status_code == 409
    assert (jobs / "shed" / "job.toml").read_bytes() == before


def test_the_version_is_looked_at_while_the_job_is_locked(jobs):
    """Many writers with the same version: exactly one may write."""
    version = job_version(jobs / "shed")
    outcomes = []

    def write(number: int) -> None:
        try:
            answer(jobs / "shed", "Floor", {"thickness_in": 4.0 + number}, version)
            outcomes.append(number)
        except ChangedMeanwhileError:
            pass

    threads = [threading.Thread(target=write, args=(number,)) for number in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(outcomes) == 1
    assert job_of(jobs).answers["thickness_in"] == 4.0 + outcomes[0]


def test_comments_stay_when_the_page_writes(page, jobs):
    page.post(f"{FLOOR}/answers", {"version": page.version("shed"), "sun": "part"})
    text = (jobs / "shed" / "job.toml").read_text(encoding="utf-8")
    assert "# Take the # away in front of a line" in text
    assert 'sun = "part"' in text


def test_refused_entries_are_shown_again_and_nothing_is_written(page, jobs):
    before = (jobs / "shed" / "job.toml").read_bytes()
    reply = page.post(f"{FLOOR}/answers", {"version": page.version("shed"), "thickness_in": "four"})
    assert reply.status_code == 400
    assert "Not saved" in reply.text
    assert 'value="four"' in reply.text
    assert (jobs / "shed" / "job.toml").read_bytes() == before


@pytest.mark.skipif(os.name == "nt", reason="Windows has no kill signal")
@pytest.mark.slow
def test_a_server_killed_while_it_saves_leaves_a_whole_job(jobs):
    """The page is killed in the middle of a stream of saves, several times."""
    import httpx

    for round_ in range(2):
        port = free_port()
        with serving(jobs, port) as (address, process):
            token = httpx.get(f"{address}{FLOOR}", timeout=20).text.split('name="token" value="')[1].split('"')[0]

            def save_on_and_on(address=address, token=token) -> None:
                for number in range(500):
                    fields = {
                        "token": token,
                        "thickness_in": str(3 + number % 7),
                        "sun": ("none", "part", "full")[number % 3],
                    }
                    try:
                        httpx.post(f"{address}{FLOOR}/answers", data=fields, headers={"Origin": address}, timeout=5)
                    except httpx.HTTPError:
                        return

            writer = threading.Thread(target=save_on_and_on)
            writer.start()
            time.sleep(0.6 + 0.23 * round_)
            os.kill(process.pid, signal.SIGKILL)
            process.wait()
            writer.join()
        answers = job_of(jobs).answers
        assert answers["place"] == "covered"
        assert answers["sun"] in {"none", "part", "full"}
