"""What may be sent in, what is kept of it, and what is never shown on."""

import io
import json
import os
import struct
import subprocess
import sys
import zlib

import pytest
from PIL import Image

from finishadvisor.job.folder import open_job
from finishadvisor.web.pages.photos import stored_stem

PHOTOS = "/job/pottery/1/photos"
ORIENTATION, GPS, MAKE, SERIAL = 0x0112, 0x8825, 0x010F, 0xA431


def picture(kind="JPEG", size=(640, 480), exif=None) -> bytes:
    file = io.BytesIO()
    image = Image.effect_noise(size, 30).convert("RGB")
    notes = {"exif": exif, "comment": b"PRIVATE-COMMENT", "xmp": b"<x>PRIVATE-PLACE</x>"} if exif else {}
    image.save(file, kind, **notes)
    return file.getvalue()


def with_private_notes(orientation: int = 6) -> bytes:
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    exif[MAKE] = "PRIVATE-CAMERA"
    exif.get_ifd(0x8769)[SERIAL] = "PRIVATE-SERIAL"
    gps = exif.get_ifd(GPS)
    gps[1], gps[2], gps[3], gps[4] = "N", (41.0, 52.0, 59.0), "W", (87.0, 37.0, 59.0)
    return picture(exif=exif)


def bomb() -> bytes:
    """A PNG of a few bytes that says it is 60 000 x 60 000."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"\0" * 100)) + chunk(b"IEND", b"")
    )


def send(page, name: str, content: bytes, kind: str = "image/jpeg"):
    return page.post(PHOTOS, files={"photos": (name, content, kind)})


def stored(jobs):
    return {path.name for path in (jobs / "pottery" / "photos").iterdir()}


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("a.jpg", b"this is no picture"),
        ("a.jpg", b""),
        ("a.jpg", picture()[:900]),
        ("a.jpg", picture()[:-4000]),
        ("a.jpg", b"<html><script>alert(1)</script></html>"),
        ("a.svg", b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'),
        ("a.png", bomb()),
        ("a.gif", b"GIF89a" + b"\0" * 50),
        ("a.jpg", picture("BMP")),
        ("a.jpg", picture(size=(8, 8))),
        ("a.eps", b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n(/etc/passwd) run\n"),
    ],
    ids=["text", "empty", "header-only", "cut-short", "html", "svg", "bomb", "gif", "bmp", "tiny", "postscript"],
)
def test_what_is_no_photo_is_refused_and_nothing_of_it_is_kept(page, jobs, name, content):
    before, text = stored(jobs), (jobs / "pottery" / "job.toml").read_bytes()
    answer = send(page, name, content)
    assert answer.status_code == 400
    assert "Not kept" in answer.text
    assert "Traceback" not in answer.text
    assert stored(jobs) == before
    assert (jobs / "pottery" / "job.toml").read_bytes() == text


@pytest.mark.parametrize(
    "name",
    ["../../evil.jpg", "..\\..\\evil.jpg", "/etc/cron.d/evil.jpg", "C:\\evil.jpg", "a\x00b.jpg", "CON.jpg", ".htaccess",
     "x" * 300 + ".jpg", "<script>.jpg", "job.toml", "ß ü.jpeg", "evil.php", "[[floor]]\nname='x'.jpg"],
)  # fmt: skip
def test_a_photo_is_stored_under_a_name_of_our_own_making(name):
    stem = stored_stem(name)
    assert stem.replace("-", "").isalnum()
    assert stem.isascii()
    assert len(stem) <= 40


def test_a_hostile_name_stays_in_the_photos_folder(page, jobs):
    everything = {path for path in jobs.parent.rglob("*") if path.is_file()}
    assert send(page, "../../../evil.php", picture()).status_code == 303
    new = {path for path in jobs.rglob("*") if path.is_file()} - everything
    assert {path.name for path in new} - {".job.lock", "job.previous.toml"} == {"evil.jpg"}
    assert (jobs / "pottery" / "photos" / "evil.jpg").is_file()


def test_two_photos_of_one_name_are_both_kept(page, jobs):
    first, second = picture(), picture(size=(320, 240))
    send(page, "slab.jpg", first)
    send(page, "slab.jpg", second)
    folder = jobs / "pottery" / "photos"
    assert (folder / "slab.jpg").read_bytes() == first
    assert (folder / "slab-2.jpg").read_bytes() == second
    listed = [photo.file for photo in open_job(jobs / "pottery").job.floors[0].photos]
    assert listed[-2:] == ["slab.jpg", "slab-2.jpg"]


def test_the_ending_follows_the_content_not_the_name(page, jobs):
    send(page, "slab.jpg", picture("PNG"))
    assert "slab.png" in stored(jobs)


def test_nothing_private_is_shown_on(page, jobs):
    original = with_private_notes()
    for private in (b"PRIVATE-CAMERA", b"PRIVATE-SERIAL", b"PRIVATE-COMMENT", b"PRIVATE-PLACE"):
        assert private in original
    assert send(page, "slab.jpg", original).status_code == 303
    shown = page.get(f"{PHOTOS}/slab.jpg/shown.jpg").content
    image = Image.open(io.BytesIO(shown))
    assert not dict(image.getexif())
    assert not dict(image.getexif().get_ifd(GPS))
    for private in (b"PRIVATE", b"Exif", b"GPS", b"photoshop", b"xmp"):
        assert private not in shown


def test_the_original_is_kept_as_it_came(page, jobs):
    original = with_private_notes()
    send(page, "slab.jpg", original)
    assert (jobs / "pottery" / "photos" / "slab.jpg").read_bytes() == original


@pytest.mark.parametrize(("orientation", "size"), [(1, (640, 480)), (3, (640, 480)), (6, (480, 640)), (8, (480, 640))])
def test_a_photo_is_shown_and_marked_upright(page, orientation, size):
    send(page, "slab.jpg", with_private_notes(orientation))
    shown = Image.open(io.BytesIO(page.get(f"{PHOTOS}/slab.jpg/shown.jpg").content))
    assert shown.size == size
    html = page.get(f"{PHOTOS}/slab.jpg/mark").text
    assert f'data-width="{size[0]}" data-height="{size[1]}"' in html


def test_sending_nothing_says_so(page):
    assert "No photo was chosen" in page.post(PHOTOS, files={"photos": ("", b"", "image/jpeg")}).text


def test_a_picture_that_takes_too_long_is_left(jobs):
    from finishadvisor.errors import FinishAdvisorError
    from finishadvisor.web import work

    with pytest.raises(FinishAdvisorError, match="took more than"):
        work.run_child(
            "look", {"photo": str(jobs / "pottery" / "photos" / "kiln-yard.jpg"), "preview": ""}, seconds=0.01
        )


def test_a_picture_with_too_many_pixels_is_left(tmp_path):
    from finishadvisor.errors import FinishAdvisorError
    from finishadvisor.web import work

    huge = tmp_path / "huge.png"
    Image.new("1", (11_000, 9_900)).save(huge)
    with pytest.raises(FinishAdvisorError, match="megapixels"):
        work.run_child("look", {"photo": str(huge), "preview": str(tmp_path / "preview.jpg")})


def test_a_phone_s_largest_photos_are_let_in(tmp_path):
    from finishadvisor.web import work

    large = tmp_path / "large.jpg"
    Image.new("L", (16_320, 12_240), 120).save(large)
    preview = tmp_path / "preview.jpg"
    seen = work.run_child("look", {"photo": str(large), "preview": str(preview)})
    assert (seen["width"], seen["height"]) == (16_320, 12_240)
    with Image.open(preview) as shown:
        assert max(shown.size) == 1600


def test_a_file_of_several_pictures_counts_as_its_first(tmp_path):
    from finishadvisor.web import work

    several = tmp_path / "several.jpg"
    Image.new("RGB", (64, 48), (150, 120, 90)).save(
        several, "MPO", save_all=True, append_images=[Image.new("RGB", (32, 24))]
    )
    seen = work.run_child("look", {"photo": str(several), "preview": str(tmp_path / "preview.jpg")})
    assert (seen["width"], seen["ending"]) == (64, ".jpg")


@pytest.mark.skipif(os.name == "nt", reason="Windows knows no limit of this kind; the pixel limit holds there")
def test_a_picture_that_needs_more_memory_than_is_allowed_is_left_in_words(jobs, tmp_path):
    given = {"photo": str(jobs / "pottery" / "photos" / "kiln-yard.jpg"), "preview": str(tmp_path / "preview.jpg")}
    start = "import sys; from finishadvisor.web import child; child.MOST_MEMORY_BYTES = {}; child.main()"
    for most, key in ((30_000_000, "error"), (3_000_000_000, "width")):
        command = [sys.executable, "-c", start.format(most), "look", json.dumps(given)]
        done = subprocess.run(command, capture_output=True, encoding="utf-8", check=False)
        assert key in json.loads(done.stdout.splitlines()[-1]), done
