"""Job files that are broken, odd, huge or malicious: one plain line each, and nothing lost."""

import itertools
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishadvisor.errors import JobError
from finishadvisor.job.folder import edit_job, open_job, read_job

GOOD = 'name = "Hof"\n\n[[floor]]\nname = "Größe"  # comment\n'


@pytest.fixture(autouse=True)
def _no_user_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))


def refused(folder: Path, data: bytes) -> str:
    (folder / "job.toml").write_bytes(data)
    with pytest.raises(JobError) as error:
        open_job(folder)
    message = str(error.value)
    assert message.isprintable()
    assert len(message) < 600
    return message


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "BOM"])
@pytest.mark.parametrize("ends", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_byte_order_mark_and_line_ends_are_read_and_kept(tmp_path: Path, mark: bytes, ends: str) -> None:
    data = mark + GOOD.replace("\n", ends).encode()
    (tmp_path / "job.toml").write_bytes(data)
    assert open_job(tmp_path).job.floors[0].name == "Größe"
    edit_job(tmp_path, lambda document: document.update({"crew": 4}))
    after = (tmp_path / "job.toml").read_bytes()
    assert after.startswith(mark + b"name")
    assert after.count(b"\n") == data.count(b"\n") + 1
    assert after.count(b"\r\n") == (after.count(b"\n") if ends == "\r\n" else 0)
    assert "Größe".encode() in after
    assert (tmp_path / "job.previous.toml").read_bytes() == data


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "cp1252", "utf-32"])
def test_other_encodings_are_answered_with_how_to_save(tmp_path: Path, encoding: str) -> None:
    message = refused(tmp_path, GOOD.encode(encoding))
    if encoding == "cp1252":
        assert "line 4" in message
    assert "UTF-8" in message or "not valid TOML" in message


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('name = "a"\nname = "b"\n', 'line 2: the key "name" stands twice'),
        ('name = "a"\n[workday]\n[workday]\n', "line 3"),
        ('name = "a\n', "line 1"),
        ("name = yes\n", 'line 1: "name = yes" cannot be read'),
        ("name = 'a'\nx = 24' 6\"\n", 'Write feet and inches in letters: "24ft 6in"'),
        ('name = "a"\nx = "24\' 6""\n', 'Write feet and inches in letters: "24ft 6in"'),
        ("name = 'a'\ndate = 2026-02-30\n", "line 2"),
        ("a = " + "9" * 6000, "cannot be read"),
        ('name = "a\x00b"', "line 1"),
        ("[" * 50_000, "job.toml"),
        ("a = " + "[" * 50_000, "job.toml"),
        ("a = " + "{a = " * 50_000, "job.toml"),
        (".".join(["a"] * 60_000) + " = 1", "job.toml"),
    ],
    ids=["key twice", "table twice", "open quote", "bare word", "feet", "feet in quotes", "no such day", "huge integer",
         "NUL", "open tables", "open lists", "open tables in line", "deep key"],
)  # fmt: skip
def test_broken_text_is_answered_in_one_line(tmp_path: Path, text: str, said: str) -> None:
    assert said in refused(tmp_path, text.encode())


def test_an_empty_file_says_what_is_missing(tmp_path: Path) -> None:
    assert 'the key "name" is missing' in refused(tmp_path, b"")


def test_a_huge_file_is_not_even_read(tmp_path: Path) -> None:
    assert "at most 2 MB" in refused(tmp_path, GOOD.encode() + b"#" * 2_000_001)


def test_a_folder_named_like_the_file_is_answered(tmp_path: Path) -> None:
    (tmp_path / "job.toml").mkdir()
    with pytest.raises(JobError, match="cannot be read"):
        open_job(tmp_path)


PLACES = ("room = { air = 70, rh_pct = %s }", "outline = { rectangle = [{ x = 3, y = %s }] }")
NO_NUMBERS = ("nan", "inf", "-inf", "1e400", "-1", "true", "0x" + "f" * 6000, "[1]", "{}")


@pytest.mark.parametrize(("key", "number"), [*itertools.product(PLACES, NO_NUMBERS), (PLACES[0], '"3"')])
def test_numbers_that_are_none_are_refused(tmp_path: Path, key: str, number: str) -> None:
    assert refused(tmp_path, (GOOD + key % number).encode())


@pytest.mark.parametrize("name", ["\\u0007bell", "line\\nbreak", "\\u202Ereversed", "\\u001b[31mred", "   ", "x" * 300])
def test_names_with_control_characters_are_refused_and_not_echoed(tmp_path: Path, name: str) -> None:
    assert refused(tmp_path, f'name = "{name}"\n[[floor]]\nname = "f"\n'.encode())


@pytest.mark.parametrize("name", ["\\u001b[31m", "\\u202E", "a\\nb"])
def test_a_floor_name_in_a_message_cannot_color_the_terminal(tmp_path: Path, name: str) -> None:
    assert "crew" in refused(tmp_path, f'name = "n"\ncrew = 0\n[[floor]]\nname = "{name}"\n'.encode())


@pytest.mark.parametrize(
    "file",
    ["../../secret.jpg", "/etc/passwd", "C:/Windows/win.ini", "C:secret.jpg", "//server/share/a.jpg", "a/../../b.jpg",
     "..", ".", "link.jpg", "photos", "a" * 70 + "/" + "b", "inner"],
)  # fmt: skip
def test_photos_outside_the_photos_folder_are_refused(tmp_path: Path, file: str) -> None:
    folder = tmp_path / "job"
    (folder / "photos" / "inner").mkdir(parents=True)
    (tmp_path / "secret.jpg").touch()
    try:
        (folder / "photos" / "link.jpg").symlink_to(tmp_path / "secret.jpg")
    except OSError:  # Windows without the right to make links
        assert file != "link.jpg" or pytest.skip("no links here")
    message = refused(folder, f'{GOOD}[[floor.photo]]\nfile = "{file}"\n'.encode())
    assert "photos folder" in message
    if (file[0] in "/C." and file != ".") or "/.." in file:
        assert "leaves" in message


def test_a_backslash_is_answered_with_the_right_spelling(tmp_path: Path) -> None:
    message = refused(tmp_path, f"{GOOD}[[floor.photo]]\nfile = 'west\\a.jpg'\n".encode())
    assert 'has a backslash. Write / between folders: "west/a.jpg".' in message


def test_a_thousand_floors_are_read(tmp_path: Path) -> None:
    text = 'name = "n"\n' + "".join(f'[[floor]]\nname = "{number}"\n' for number in range(1000))
    assert len(read_job(text, tmp_path).floors) == 1000


def test_an_outline_of_too_many_corners_is_refused(tmp_path: Path) -> None:
    corners = ",".join(f"[{number}, 0]" for number in range(3000))
    assert "too many entries" in refused(tmp_path, f"{GOOD}outline = {{ polygons = [[{corners}]] }}".encode())


VALUES = st.recursive(
    st.booleans() | st.integers(-(10**6), 10**6) | st.floats() | st.text(max_size=8) | st.dates(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)
KEYS = st.sampled_from([
    "name",
    "pour",
    "outline",
    "answers",
    "reading",
    "photo",
    "load",
    "layer_down",
    "room",
    "decision",
    "used",
    "mock_up",
])


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(rows=st.dictionaries(KEYS, VALUES, max_size=4))
def test_whatever_stands_under_a_known_key_the_answer_is_a_job_or_plain_lines(
    tmp_path: Path, rows: dict[str, object]
) -> None:
    import tomlkit

    try:
        text = tomlkit.dumps({"name": "n", "floor": [{"name": "f", **rows}]})
    except Exception:  # lists and texts that the TOML writer has no form for
        return
    try:
        read_job(text, tmp_path)
    except JobError as error:
        assert all(line.isprintable() for line in error.mistakes)


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=60))
def test_any_bytes_are_answered(data: bytes) -> None:
    from finishadvisor.job.toml_text import decode, parse

    try:
        parse(decode(data, "job.toml"), "job.toml")
    except JobError as error:
        assert str(error).isprintable()
