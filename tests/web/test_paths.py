"""No name from a request leads out of the folder that it belongs to."""

import pathlib

import pytest

from finishadvisor.job.folder import open_job
from finishadvisor.web.jobs import NotListedError, find_floor, find_job, find_photo, papers_of

ESCAPES = [
    "..%2fshed", "%2e%2e%2f%2e%2e%2fetc%2fpasswd", "....//", "..%5cshed", "%00", "pottery%00", "%2fetc%2fpasswd",
    "C:%5c", "con", "~", "pottery%2f..%2fshed", "pottery.", "POTTERY%20", "%c0%ae%c0%ae", "..%2f..%2fsecret.txt",
]  # fmt: skip


@pytest.mark.parametrize(
    "address",
    [
        "/job/{}",
        "/job/{}/order",
        "/job/pottery/papers/{}",
        "/job/pottery/1/photos/{}/shown.jpg",
        "/job/pottery/1/photos/{}/mark",
        "/job/pottery/1/finishes/{}",
        "/job/pottery/1/evenness/1-{}.png",
        "/static/{}",
        "/font/{}.otf",
    ],
)
def test_a_name_that_was_not_listed_leads_nowhere(page, jobs, address):
    (jobs.parent / "secret.txt").write_text("SECRET", encoding="utf-8")
    (jobs / "pottery" / "secret.pdf").write_text("SECRET", encoding="utf-8")
    for name in ESCAPES:
        answer = page.get(address.format(name))
        assert answer.status_code == 404, (name, answer.status_code)
        assert "SECRET" not in answer.text
        assert "Traceback" not in answer.text


@pytest.mark.parametrize("name", ["..", ".", "", "../shed", "pottery/..", "/", "pottery\x00"])
def test_the_look_up_itself_knows_only_listed_names(jobs, name):
    job = open_job(jobs / "pottery").job
    with pytest.raises(NotListedError):
        find_job(jobs, name)
    with pytest.raises(NotListedError):
        find_photo(jobs / "pottery", job.floors[0], name)
    assert name not in papers_of(jobs / "pottery")
    for number in (0, -1, 99):
        with pytest.raises(NotListedError):
            find_floor(job, number)


def test_a_linked_folder_outside_is_no_job(page, jobs, tmp_path):
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "job.toml").write_text('name = "Outside"\n[[floor]]\nname = "F"\n', encoding="utf-8")
    link(outside, jobs / "linked")
    assert "Outside" not in page.get("/").text
    assert page.get("/job/linked").status_code == 404


def test_a_linked_paper_outside_is_not_handed_out(page, jobs, tmp_path):
    (tmp_path / "secret.pdf").write_text("SECRET", encoding="utf-8")
    link(tmp_path / "secret.pdf", jobs / "pottery" / "papers" / "secret.pdf")
    assert page.get("/job/pottery/papers/secret.pdf").status_code == 404


def test_files_that_are_no_papers_are_not_handed_out(page, jobs):
    for name in ("notes.txt", "page.html", "run.exe", ".hidden.pdf"):
        (jobs / "pottery" / "papers" / name).write_text("SECRET", encoding="utf-8")
        assert page.get(f"/job/pottery/papers/{name}").status_code == 404


def test_job_toml_itself_is_not_handed_out(page):
    assert page.get("/job/pottery/papers/..%2Fjob.toml").status_code == 404


def test_a_job_that_cannot_be_read_says_why_and_hides_no_other(page, jobs):
    (jobs / "shed" / "job.toml").write_text("name = [", encoding="utf-8")
    html = page.get("/").text
    assert "Cannot be read" in html
    assert "Pottery" in html
    answer = page.get("/job/shed")
    assert answer.status_code == 400
    assert "Traceback" not in answer.text


@pytest.mark.parametrize("name", ["Ä/../x", "CON", "a" * 300, "<script>alert(1)</script>", "..", "job\n[[floor]]"])
def test_a_new_jobs_folder_bears_only_safe_signs(page, jobs, name):
    page.post("/new", {"name": name})
    for path in jobs.iterdir():
        assert path.name.replace("-", "").isalnum()
        assert path.name.isascii()
        assert len(path.name) <= 64


def test_what_is_typed_is_shown_as_text(page, jobs):
    hostile = '"><script>alert(1)</script>'
    answer = page.post("/new", {"name": hostile, "sun": "blazing"})
    assert answer.status_code == 400
    assert "alert(1)" in answer.text, "what was typed is shown again"
    assert "<script>" not in answer.text
    (jobs / "shed" / "job.toml").write_text(
        "name = '<script>alert(2)</script>'\n[[floor]]\nname = '<b onclick=alert(3)>'\n", encoding="utf-8"
    )
    for address in ("/", "/job/shed", "/job/shed/1/floor", "/job/shed/1/finishes", "/job/shed/order"):
        html = page.get(address).text
        assert "alert(2)" in html
        assert "<script>" not in html
        assert "<b onclick" not in html


def link(target, place):
    try:
        pathlib.Path(place).symlink_to(target)
    except OSError:
        pytest.skip("this system makes no links")
