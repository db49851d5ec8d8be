"""What the pages show and write, asked in-process."""

import re

import pytest

from finishadvisor.job.folder import open_job
from finishadvisor.web.serve import lan_address, say_pairing

DEMO_PAGES = [
    "", "/order", "/days", "/papers", "/1/floor", "/1/finishes", "/1/finishes/densified", "/1/photos",
    "/1/photos/glaze-room-west.jpg/mark", "/1/evenness", "/2/floor", "/2/finishes", "/2/evenness",
]  # fmt: skip


@pytest.mark.parametrize("job", ["pottery", "shed"])
@pytest.mark.parametrize("address", DEMO_PAGES)
def test_every_page_of_a_full_and_of_an_empty_job_is_shown(page, job, address):
    if job == "shed" and ("/2/" in address or "west" in address):
        assert page.get(f"/job/{job}{address}").status_code == 404
        return
    answer = page.get(f"/job/{job}{address}")
    assert answer.status_code == 200
    assert "Undefined" not in answer.text
    assert ">None<" not in answer.text


def test_the_list_says_what_each_job_waits_for(page):
    html = page.get("/").text
    assert re.search(r"Pottery.*?Waits for\s*<strong>its photos to be measured</strong>: Glaze room", html, re.DOTALL)
    assert re.search(r"Bike shed.*?Waits for\s*<strong>its sides</strong></p>", html, re.DOTALL)


def test_the_list_leads_straight_to_what_each_job_waits_for(page):
    html = page.get("/").text
    assert re.search(r'href="/job/pottery/1/photos">Measure the photos<', html)
    assert re.search(r'href="/job/shed/1/floor">Type the sides<', html)


def test_a_slab_that_is_down_on_the_day_of_the_page_waits_for_photos(make_page, jobs):
    """The day is the page's, whatever the clock of the machine says."""
    import datetime

    from finishadvisor.job.document import Pour
    from finishadvisor.job.edits import describe

    day = datetime.date(2026, 9, 1)
    describe(jobs / "shed", "Floor", pour=Pour(date=day), last_wetting=None, sides=("9ft", "8ft"))
    assert "Add photos" in make_page(on=day).get("/").text
    assert "Compare the finishes" in make_page(on=day - datetime.timedelta(days=1)).get("/").text


@pytest.mark.parametrize(
    ("address", "leads_to"),
    [
        ("/job/shed/1/floor/about", "/job/shed/1/floor"),
        ("/job/shed/1/measure", "/job/shed/1/photos"),
        ("/job/shed/days/weather", "/job/shed/days"),
        ("/job/shed/work/stop", "/job/shed/work"),
    ],
)
def test_the_address_of_a_form_leads_to_its_page_when_it_is_loaded_anew(page, address, leads_to):
    assert page.get(address).headers["location"] == leads_to


def test_every_address_that_only_takes_forms_leads_to_a_page(page):
    from tests.web.addresses import addresses

    only_forms = set(addresses("POST")) - set(addresses("GET"))
    assert len(only_forms) > 8
    for address in only_forms:
        answer = page.get(address)
        assert answer.status_code == 303, address
        assert answer.headers["location"] in {*addresses("GET"), "/job/pottery/work"}, address


def test_what_is_wrong_stands_in_the_form_that_it_is_about(page):
    floor = "/job/pottery/1/floor"
    for form, fields, before in (
        ("about", {"first_side": "9ft", "second_side": "", "pour": ""}, "Save sides and dates"),
        ("answers", {"thickness_in": "four"}, "Save the answers"),
        ("readings", {"kind": "ph", "value": "", "date": "2026-09-10"}, "Save the reading"),
    ):
        html = page.post(f"{floor}/{form}", {"version": page.version("pottery"), **fields}).text
        assert html.count("Not saved.") == 1
        assert before in html.split("Not saved.")[1].split("</form>")[0], form


def test_questions_come_in_the_order_in_which_they_could_change_most(page):
    from finishadvisor.whole_job.advised import advise_job

    _, (advised,) = advise_job(page.site.root / "shed", page.site.on)
    asked = [fact.fact for fact in advised.advice.find_out_next]
    html = page.get("/job/shed/1/floor").text.split("Everything else that may be told")[0]
    assert re.findall(r'data-fact="([a-z_0-9]+)"', html) == asked
    assert len(asked) > 3


def test_a_day_is_asked_for_once(page):
    """The days of pour and wetting have entries of their own; how long ago they were is not asked beside them."""
    page.post("/job/shed/1/floor/answers", {"version": page.version("shed"), "pour_ahead": "no"})
    html = page.get("/job/shed/1/floor").text
    for fact, entry in (("age_days", "pour"), ("days_since_wetting", "wet")):
        assert f'data-fact="{fact}"' in html
        assert f'name="{fact}"' not in html
        assert f'href="#{entry}"' in html
        assert f'id="{entry}"' in html


def test_every_question_may_stay_unknown(page):
    html = page.get("/job/shed/1/floor").text
    assert html.count("<fieldset") == html.count("<span>not known</span>")
    assert html.count('<option value="">not known</option>') > 0


def test_a_new_job_from_a_name_and_the_first_answers(page, jobs):
    answer = page.post("/new", {"name": "Garage on Hill", "place": "indoors", "use": "garage", "sun": ""})
    assert answer.headers["location"] == "/job/garage-on-hill/1/floor"
    job = open_job(jobs / "garage-on-hill").job
    assert job.name == "Garage on Hill"
    assert job.floors[0].answers == {"place": "indoors", "use": "garage"}


def test_a_job_that_is_there_is_never_begun_anew(page, jobs):
    before = (jobs / "shed" / "job.toml").read_bytes()
    assert page.post("/new", {"name": "Shed"}).status_code == 400
    assert (jobs / "shed" / "job.toml").read_bytes() == before


def test_sides_answers_readings_and_the_decision_are_written_as_commands_read_them(page, jobs):
    floor = "/job/shed/1/floor"
    sides = {"first_side": "20ft 6in", "second_side": "4 m", "pour": "2026-08-01", "about": "on", "last_wetting": ""}
    assert page.post(f"{floor}/about", {"version": page.version("shed"), **sides}).status_code == 303
    given = {"heat_in_slab": "yes", "pets": "no", "thickness_in": "4.5"}
    assert page.post(f"{floor}/answers", {"version": page.version("shed"), **given}).status_code == 303
    reading = {"kind": "slab-rh", "value": "78", "date": "2026-09-10", "place": "by the door"}
    assert page.post(f"{floor}/readings", reading).status_code == 303
    decided = {"version": page.version("shed"), "by": "the client", "date": "2026-09-20"}
    assert page.post("/job/shed/1/finishes/densified", decided).status_code == 303
    (job_floor,) = open_job(jobs / "shed").job.floors
    assert job_floor.outline.rectangles[0].x == 20.5
    assert job_floor.outline.rectangles[0].y == pytest.approx(4 / 0.3048)
    assert job_floor.pour.about
    assert job_floor.answers == {"place": "covered", "heat_in_slab": True, "pets": False, "thickness_in": 4.5}
    assert (job_floor.readings[0].value, job_floor.readings[0].place) == (78, "by the door")
    assert (job_floor.decision.finish, job_floor.decision.by) == ("densified", "the client")


def test_not_known_takes_an_answer_away(page, jobs):
    page.post("/job/shed/1/floor/answers", {"version": page.version("shed"), "place": ""})
    assert open_job(jobs / "shed").job.floors[0].answers == {}


@pytest.mark.parametrize(
    ("address", "fields", "words"),
    [
        ("floor/about", {"first_side": "20ft", "second_side": ""}, "Only one of the two sides"),
        ("floor/about", {"first_side": "-3", "second_side": "4"}, "Not saved"),
        ("floor/about", {"pour": "yesterday"}, "is not a day"),
        ("floor/answers", {"thickness_in": "900"}, "at most"),
        ("floor/answers", {"sun": "blazing"}, "is not allowed"),
        ("floor/answers", {"pets": "maybe"}, "yes, no, or not known"),
        ("floor/readings", {"kind": "slab-rh", "value": "780", "date": "2026-09-10"}, "Not saved"),
        ("floor/readings", {"kind": "slab-rh", "value": "78", "date": ""}, "needs the day"),
        ("floor/readings", {"kind": "palm-reading", "value": "78", "date": "2026-09-10"}, "Not saved"),
    ],
)
def test_a_wrong_entry_is_refused_in_words_and_nothing_is_written(page, jobs, address, fields, words):
    before = (jobs / "shed" / "job.toml").read_bytes()
    answer = page.post(f"/job/shed/1/{address}", {"version": page.version("shed"), **fields})
    assert answer.status_code == 400
    assert words in answer.text
    assert (jobs / "shed" / "job.toml").read_bytes() == before


def test_the_drawn_shape_of_a_floor_is_left_as_it_is(page, jobs):
    before = open_job(jobs / "pottery").job.floors[1].outline
    fields = {"version": page.version("pottery"), "pour": "2026-08-19", "first_side": "9 ft", "second_side": "9 ft"}
    page.post("/job/pottery/2/floor/about", fields)
    assert open_job(jobs / "pottery").job.floors[1].outline == before


def test_marks_are_written_as_the_command_reads_them(page, jobs):
    photo = "/job/pottery/2/photos/kiln-yard.jpg/mark"
    marks = (
        '{"corners": [[170, 980], [1420.5, 981], [1130, 279], [470, 279]], "cards": [{"at": [550, 678], '
        '"reflectance": 0.85}], "leave_out": [[[1, 1], [9, 1], [9, 9]]], "wet": []}'
    )
    fields = {"marks": marks, "first_side": "12ft", "second_side": "4.2 m", "origin_x": "22", "origin_y": "0",
              "turned": "90"}  # fmt: skip
    answer = page.post(photo, {"version": page.version("pottery"), **fields})
    assert answer.status_code == 303
    (marked,) = open_job(jobs / "pottery").job.floors[1].photos
    assert marked.corners == ((170, 980), (1420.5, 981), (1130, 279), (470, 279))
    assert marked.size == pytest.approx((12, 4.2 / 0.3048), abs=1e-4)  # six digits are written
    assert marked.sheets[0].reflectance == 0.85
    assert marked.leave_out == (((1, 1), (9, 1), (9, 9)),)
    assert (marked.origin_on_plan, marked.turned_deg) == ((22, 0), 90)


@pytest.mark.parametrize(
    "fields",
    [
        {"marks": "{}", "first_side": "1ft", "second_side": "1ft"},
        {"marks": "[" * 100_000, "first_side": "1ft", "second_side": "1ft"},
        {"marks": '{"corners": "x", "cards": [], "leave_out": [], "wet": []}', "first_side": "1ft",
         "second_side": "1ft"},
        {"marks": '{"corners": null, "cards": [], "leave_out": [], "wet": []}', "first_side": "", "second_side": "1ft"},
        {"marks": '{"corners": null, "cards": [{"at": [1, 1], "reflectance": 7}], "leave_out": [], "wet": []}',
         "first_side": "1ft", "second_side": "1ft"},
    ],
)  # fmt: skip
def test_marks_that_cannot_be_used_are_refused(page, jobs, fields):
    before = (jobs / "pottery" / "job.toml").read_bytes()
    answer = page.post("/job/pottery/2/photos/kiln-yard.jpg/mark", {"version": page.version("pottery"), **fields})
    assert answer.status_code == 400
    assert "Not saved" in answer.text
    assert (jobs / "pottery" / "job.toml").read_bytes() == before


def test_a_weather_file_is_kept_only_if_the_plan_can_use_it(page, jobs):
    job = jobs / "pottery"
    good = (job / "weather.csv").read_bytes()
    before = {path.name for path in job.iterdir()}
    text = (job / "job.toml").read_bytes()
    for bad in (b"", b"no weather", b"time,air_f\n2026-09-21T00:00,hot\n", b"{", b"\xff\xfe\x00", good[:200]):
        answer = page.post("/job/pottery/days/weather", files={"weather": ("../../w.csv", bad, "text/csv")})
        assert answer.status_code == 400, bad
        assert "Traceback" not in answer.text
    assert {path.name for path in job.iterdir()} == before
    assert (job / "job.toml").read_bytes() == text
    answer = page.post("/job/pottery/days/weather", files={"weather": ("../../w.csv", good, "text/csv")})
    assert answer.status_code == 303
    assert open_job(job).job.weather == "weather-2026-09-21-1.csv"
    assert (job / "weather-2026-09-21-1.csv").read_bytes() == good


def test_the_terminal_shows_a_code_and_an_address():
    said = []
    say_pairing("http://192.0.2.7:8712/pair/abc", said.append)
    text = "\n".join(said)
    assert "http://192.0.2.7:8712/pair/abc" in text
    assert len([line for line in text.splitlines() if "█" in line or "▀" in line or "▄" in line]) > 10


def test_the_address_on_the_network_is_not_this_machines_own_name():
    from finishadvisor.errors import FinishAdvisorError

    try:
        assert not lan_address().startswith("127.")
    except FinishAdvisorError as error:
        assert "no network" in str(error)  # a machine without one


def test_the_page_tells_the_area_that_is_worked_on_its_steps_with_it(page):
    """The yard of 300 ft² has three steps of 28 ft²; the papers and the order count them."""
    assert "328 ft²" in page.get("/job/pottery").text
    floor = page.get("/job/pottery/2/floor").text
    assert "328 ft²" in floor
    assert "steps and cove counted in" in floor
    assert "counted in" not in page.get("/job/pottery/1/floor").text
