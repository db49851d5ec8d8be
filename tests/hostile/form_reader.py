"""The reader of the page's forms."""

from pathlib import Path
from urllib.parse import urlencode

from tests.hostile.one_reader import Take, example_job

HERE = "http://127.0.0.1:8712"
FORMS = {
    "/job/shed/1/floor/about": {"first_side": "20ft 6in", "second_side": "4 m", "pour": "2026-08-01", "about": "on"},
    "/job/shed/1/floor/answers": {"heat_in_slab": "yes", "pets": "no", "thickness_in": "4.5", "sun": "none"},
    "/job/shed/1/floor/readings": {"kind": "slab-rh", "value": "78", "date": "2026-09-10", "place": "by the door"},
    "/job/shed/1/finishes/densified": {"by": "the client", "date": "2026-09-20"},
    "/job/shed/order/used": {"floor": "Bike shed", "material": "flake", "amount": "30", "area": "200"},
    "/job/shed/days/done": {"task": "Bike shed\nsweep", "date": "2026-09-21", "time": "12:00"},
    "/job/pottery/2/photos/kiln-yard.jpg/mark": {
        "marks": '{"corners": [[170, 980], [1420.5, 981], [1130, 279], [470, 279]], "cards": '
        '[{"at": [550, 678], "reflectance": 0.85}], "leave_out": [[[1, 1], [9, 1], [9, 9]]], "wet": []}',
        "first_side": "12ft", "second_side": "4.2 m", "origin_x": "22", "origin_y": "0", "turned": "90",
    },
}  # fmt: skip
"""Sound entries by the form that they are sent to."""


def form_reader(folder: Path) -> Take:
    """The first line is the form's address, the rest its fields as a browser sends them."""
    from starlette.testclient import TestClient

    from finishadvisor.demo.example import EXAMPLE_DAY
    from finishadvisor.job.folder import job_version
    from finishadvisor.web.app import make_app
    from finishadvisor.web.guard import Door, hosts_for
    from finishadvisor.web.site import Site
    from finishadvisor.whole_job.changes import begin_job

    root = example_job(folder).parent
    begin_job(root / "shed", "Bike shed", {"place": "covered"})
    (folder / "cache").mkdir()
    site = Site(root, EXAMPLE_DAY, Door(hosts_for([], 8712), None), folder / "cache")
    client = TestClient(make_app(site), base_url=HERE, client=("127.0.0.1", 50_000))
    token = urlencode({"token": site.tokens.of("")}).encode()
    kept = {job: (root / job / "job.toml").read_bytes() for job in ("pottery", "shed")}
    headers = {"Origin": HERE, "Content-Type": "application/x-www-form-urlencoded"}

    def take(data: bytes) -> None:
        address, _, fields = data.partition(b"\n")
        path = address.decode("ascii", "replace").strip()
        if path not in FORMS:
            path = sorted(FORMS)[len(address) % len(FORMS)]
        name = path.split("/")[2]
        file = root / name / "job.toml"
        file.write_bytes(kept[name])
        version = urlencode({"version": job_version(file.parent)}).encode()
        body = b"&".join((token, version, fields))
        answer = client.post(path, content=body, headers=headers, follow_redirects=False)
        assert answer.status_code < 500, f"{path}: {answer.status_code}"
        if answer.status_code != 303:
            assert file.read_bytes() == kept[name], f"{path}: {answer.status_code}, and the job was changed"

    return take


def sound_forms() -> list[bytes]:
    return [f"{path}\n{urlencode(fields)}".encode() for path, fields in FORMS.items()]
