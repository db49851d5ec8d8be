"""A thumb taps twice, a browser sends again: what is wished once is done once."""

import re
import threading

from finishadvisor.job.folder import open_job
from finishadvisor.web.site import Answered

READINGS = "/job/shed/1/floor/readings"
READING = {"kind": "slab-rh", "value": "78", "date": "2026-09-10"}


def readings(jobs):
    return open_job(jobs / "shed").job.floors[0].readings


def once_of(page, address):
    """Return the mark of a form of the page."""
    return re.search(r'name="once" value="([^"]+)"', page.get(address).text)[1]


def test_the_same_form_twice_is_one_reading(page, jobs):
    fields = {**READING, "once": once_of(page, "/job/shed/1/floor")}
    answers = [page.post(READINGS, fields) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [303, 303]
    assert answers[0].headers["location"] == answers[1].headers["location"]
    assert len(readings(jobs)) == 1


def test_the_same_reading_from_two_forms_is_two_readings(page, jobs):
    for _ in range(2):
        page.post(READINGS, {**READING, "once": once_of(page, "/job/shed/1/floor")})
    assert len(readings(jobs)) == 2


def test_a_form_that_was_refused_may_be_corrected_and_sent_again(page, jobs):
    mark = once_of(page, "/job/shed/1/floor")
    assert page.post(READINGS, {**READING, "value": "", "once": mark}).status_code == 400
    assert page.post(READINGS, {**READING, "once": mark}).status_code == 303
    assert len(readings(jobs)) == 1


def test_answers_sent_twice_are_no_conflict(page):
    version, mark = page.version("shed"), once_of(page, "/job/shed/1/floor")
    fields = {"version": version, "once": mark, "sun": "full"}
    assert [page.post("/job/shed/1/floor/answers", fields).status_code for _ in range(2)] == [303, 303]


def test_photos_sent_twice_are_kept_once(page, jobs):
    from pathlib import Path

    picture = (Path(__file__).parents[2] / "reference_images" / "even-buff-window.jpg").read_bytes()
    mark = once_of(page, "/job/shed/1/photos")
    for _ in range(2):
        files = {"photos": ("slab.jpg", picture, "image/jpeg")}
        assert page.post("/job/shed/1/photos", {"once": mark}, files=files).status_code == 303
    assert [photo.file for photo in open_job(jobs / "shed").job.floors[0].photos] == ["slab.jpg"]


def test_the_second_thread_waits_for_the_answer_of_the_first():
    answered, done = Answered(), []

    def slow():
        done.append(1)
        threading.Event().wait(0.1)
        return len(done)

    results = []
    threads = [
        threading.Thread(target=lambda: results.append(answered.run("form", slow, lambda _: True))) for _ in range(4)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert results == [1, 1, 1, 1]
