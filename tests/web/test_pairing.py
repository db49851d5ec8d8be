"""Letting a phone in, and nobody else."""

import pytest

from finishadvisor.web.pairing import CODE_SECONDS, COOKIE, PAIRED_SECONDS, FormTokens, Pairing
from tests.web.addresses import addresses
from tests.web.conftest import LAN

OUTSIDE = "192.0.2.99"


class Clock:
    """A clock that stands until it is moved."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.mark.parametrize("address", [address for address in addresses("GET") if "/pair/" not in address])
def test_a_device_that_is_not_paired_gets_nothing(make_page, address):
    page = make_page(lan=True, asked_from=OUTSIDE)
    for cookie in ({}, {"Cookie": f"{COOKIE}="}, {"Cookie": f"{COOKIE}=guess"}, {"Cookie": f"{COOKIE}={'0' * 43}"}):
        answer = page.get(address, headers=cookie)
        assert answer.status_code == 401
        assert "Pottery" not in answer.text
        assert "set-cookie" not in answer.headers


@pytest.mark.parametrize("address", [address for address in addresses("POST") if "/pair/" not in address])
def test_a_device_that_is_not_paired_changes_nothing(make_page, jobs, address):
    page = make_page(lan=True, asked_from=OUTSIDE)
    before = (jobs / "pottery" / "job.toml").read_bytes()
    assert page.post(address, {"name": "x"}).status_code == 401
    assert (jobs / "pottery" / "job.toml").read_bytes() == before


def test_this_machines_own_names_open_no_door_to_the_network(make_page):
    page = make_page(lan=True, asked_from=OUTSIDE)
    assert page.get("/", headers={"Host": "127.0.0.1:8712"}).status_code == 401


def test_this_machine_itself_needs_no_code(make_page):
    page = make_page(lan=True, asked_from="127.0.0.1")
    assert page.get("/", headers={"Host": "127.0.0.1:8712"}).status_code == 200


def test_looking_a_code_over_does_not_use_it_up(make_page):
    page = make_page(lan=True, asked_from=OUTSIDE)
    code = page.site.door.pairing.new_code()
    assert page.get(f"/pair/{code}").status_code == 200
    assert page.get(f"/pair/{code}").status_code == 200
    assert page.site.door.pairing.count() == 0


def test_a_code_lets_one_device_in_once_by_a_strict_cookie(make_page):
    page = make_page(lan=True, asked_from=OUTSIDE)
    code = page.site.door.pairing.new_code()
    answer = page.post(f"/pair/{code}")
    assert answer.status_code == 303
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert "path=/" in cookie
    assert page.get("/").status_code == 200

    another = make_page(lan=True, asked_from="192.0.2.100")
    another.site.door.pairing.__dict__.update(page.site.door.pairing.__dict__)
    assert another.post(f"/pair/{code}").status_code == 401
    assert another.get("/").status_code == 401


def test_pairing_from_another_site_is_turned_away(make_page):
    page = make_page(lan=True, asked_from=OUTSIDE)
    code = page.site.door.pairing.new_code()
    assert page.client.post(f"/pair/{code}", headers={"Origin": "http://evil.example"}).status_code == 403
    assert page.site.door.pairing.waits(code)


def test_a_form_needs_the_token_of_its_own_device(make_page):
    page = make_page(lan=True, asked_from=OUTSIDE)
    page.post(f"/pair/{page.site.door.pairing.new_code()}")
    of_this_machine = page.site.tokens.of("")
    answer = page.client.post(
        "/job/pottery/papers", data={"token": of_this_machine}, headers={"Origin": LAN}, follow_redirects=False
    )
    assert answer.status_code == 403


def test_codes_and_pairings_end():
    clock = Clock()
    pairing = Pairing(clock)
    late = pairing.new_code()
    clock.now += CODE_SECONDS
    assert pairing.redeem(late) is None
    secret = pairing.redeem(pairing.new_code())
    assert pairing.is_paired(secret)
    clock.now += PAIRED_SECONDS
    assert not pairing.is_paired(secret)


def test_all_devices_can_be_let_out(make_page):
    page = make_page(lan=True, asked_from=OUTSIDE)
    waiting = page.site.door.pairing.new_code()
    page.post(f"/pair/{page.site.door.pairing.new_code()}")
    secret = page.client.cookies[COOKIE]
    assert page.client.get("/devices").status_code == 200
    answer = page.post("/devices/out", {"token": page.site.tokens.of(secret)})
    assert answer.status_code == 303
    assert page.get("/").status_code == 401
    assert not page.site.door.pairing.waits(waiting)


def test_memory_holds_no_secret():
    pairing = Pairing()
    code = pairing.new_code()
    secret = pairing.redeem(code)
    assert code not in repr(vars(pairing))
    assert secret not in repr(vars(pairing))


def test_tokens_of_two_starts_differ():
    assert FormTokens().of("") != FormTokens().of("")


def test_without_the_network_there_is_nothing_to_pair(page):
    assert page.get("/devices").status_code == 404
    assert page.get("/pair/x").status_code == 404
