"""Bad input through the real command: the exit code of the contract, one clear line, nothing half-written."""

import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from tests.whole.conftest import assert_refused, run_command

FRAME = "20,20 620,20 620,460 20,460"


@pytest.fixture
def plain_photo(tmp_path: Path) -> Path:
    path = tmp_path / "slab.jpg"
    Image.effect_noise((640, 480), 12).convert("RGB").save(path, quality=90)
    return path


def png_header_of(width: int, height: int) -> bytes:
    """A PNG that says it is huge and holds next to nothing: a bomb's shape."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    rows = zlib.compress(b"\0" * 1_000_000)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def truncated_jpeg(tmp_path: Path) -> bytes:
    path = tmp_path / "whole.jpg"
    Image.effect_noise((1600, 1200), 60).convert("RGB").save(path, quality=90)
    return path.read_bytes()[:20_000]


def test_a_photo_that_is_not_there(tmp_path):
    assert_refused(run_command("evenness", tmp_path / "none.jpg"), 1, "none.jpg", "no such file")


@pytest.mark.parametrize("kind", ["empty", "text", "truncated", "bomb"])
def test_a_photo_that_cannot_be_read_is_refused_and_its_json_written(kind, tmp_path):
    content = {
        "empty": b"",
        "text": b"this is no picture\n" * 20,
        "truncated": truncated_jpeg(tmp_path),
        "bomb": png_header_of(30_000, 30_000),
    }[kind]
    photo = tmp_path / ("photo.png" if kind == "bomb" else "photo.jpg")
    photo.write_bytes(content)
    result, picture = tmp_path / "out.json", tmp_path / "map.png"
    done = run_command("evenness", photo, "--json", result, "--map", picture)
    assert_refused(done, 1, photo.name)
    assert '"refused"' in result.read_text(encoding="utf-8")
    assert not picture.exists()


@pytest.mark.parametrize(
    ("corners", "size", "word"),
    [
        ("20,20 620,20 700,460 20,460", "20ft x 15ft", "outside"),
        ("20,20 620,460 620,20 20,460", "20ft x 15ft", "cross"),
        (FRAME, "0ft x 15ft", "above zero"),
        (FRAME, "20ft x -3ft", "-3"),
        (FRAME, None, "--size"),
        ("20,20 620,20 620,460", "20ft x 15ft", "four"),
    ],
)
def test_wrong_marks_are_wrong_usage(corners, size, word, plain_photo, tmp_path):
    words = ["evenness", plain_photo, "--corners", corners, "--json", tmp_path / "out.json"]
    done = run_command(*words, *(["--size", size] if size else []))
    assert_refused(done, 2, word)
    assert not (tmp_path / "out.json").exists()


def test_an_unknown_option_is_wrong_usage(plain_photo):
    assert_refused(run_command("evenness", plain_photo, "--cornrs", FRAME), 2, "--cornrs")


def test_a_misspelt_key_names_the_nearest_right_one(demo_job):
    job = demo_job / "job.toml"
    text = job.read_text(encoding="utf-8")
    job.write_text(text.replace("time_zone", "time_zome", 1), encoding="utf-8")
    assert_refused(run_command("check", demo_job), 1, "time_zome", "time_zone")


def test_a_reading_dated_before_the_pour(demo_job):
    job = demo_job / "job.toml"
    text = job.read_text(encoding="utf-8")
    assert "[[floor.reading]]" in text
    head, _, rest = text.partition("[[floor.reading]]")
    before, _, after = rest.partition("date = ")
    job.write_text(f"{head}[[floor.reading]]{before}date = 2001-01-01{after[10:]}", encoding="utf-8")
    assert_refused(run_command("check", demo_job), 1, "2001-01-01", "pour")


def test_a_negative_length(demo_job):
    job = demo_job / "job.toml"
    text = job.read_text(encoding="utf-8")
    import re

    changed, count = re.subn(r"^x = .*$", 'x = "-4 ft"', text, count=1, flags=re.MULTILINE)
    assert count == 1
    job.write_text(changed, encoding="utf-8")
    assert_refused(run_command("check", demo_job), 1, "-4 ft")


def test_a_job_file_with_a_byte_order_mark_works(demo_job):
    job = demo_job / "job.toml"
    job.write_bytes(b"\xef\xbb\xbf" + job.read_bytes())
    done = run_command("check", demo_job)
    assert done.returncode == 0, done.stderr


def test_a_folder_without_a_job(tmp_path):
    assert_refused(run_command("advise", tmp_path), 1, "job.toml")


def test_a_second_writer_is_told_and_nothing_is_half_written(demo_job):
    from filelock import FileLock

    from finishadvisor.job.writing import LOCK_FILE

    words = ("used", demo_job, "--floor", "Glaze room", "--material", "flake", "--layer", "flake")
    before = (demo_job / "job.toml").read_bytes()
    with FileLock(demo_job / LOCK_FILE):
        done = run_command(*words, "--area", 10, "--amount", 1)
    assert_refused(done, 1, "is writing to the job")
    assert (demo_job / "job.toml").read_bytes() == before
    assert run_command(*words, "--area", 10, "--amount", 1).returncode == 0
    assert (demo_job / "job.toml").read_bytes() != before


@pytest.mark.parametrize("command", [("order",), ("plan",), ("why", "--floor", "Glaze room")])
def test_a_finish_that_is_not_there_is_told_with_those_that_are(command, demo_job):
    name, *more = command
    done = run_command(name, demo_job, *more, "--finish", "densifed")
    assert_refused(done, 1, 'no finish "densifed"', "Allowed are", "polished-cream", 'Did you mean "densified"?')
