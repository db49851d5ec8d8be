"""A user's file may be anything: it ends in rows or in one line, and nothing in it runs."""

from pathlib import Path

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.errors import CatalogError

LIMIT = (
    '[[limit]]\nid = "own-limit"\nvalue = 5\nunit = "ft"\nmeaning = "A limit"\nsource = { id = "common-practice" }\n'
)


def refusal(path: Path) -> str:
    with pytest.raises(CatalogError) as refused:
        load_catalog([path])
    message = str(refused.value)
    assert "\n" not in message
    assert len(message) < 500
    return message


def written(folder: Path, content: str | bytes) -> Path:
    path = folder / "my-rows.toml"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def test_a_file_that_is_not_there(tmp_path: Path):
    assert "cannot be read" in refusal(tmp_path / "missing.toml")


def test_a_folder_in_place_of_a_file(tmp_path: Path):
    assert "is no file" in refusal(tmp_path)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\xff\xfe\x00a", "UTF-8"),
        (bytes(range(256)) * 40, "UTF-8"),
        ("id = ", "no valid TOML"),
        ("a = " + "9" * 900, "no table"),
        ("\n".join(["a = ["] + ["["] * 5000 + ["]"] * 5000 + ["]"]), "too deep"),
        ("x = " + "[" * 900, "too deep"),
        ("x = " + "[" * 9, "no valid TOML"),
        ("#" * 2_000_001, "larger than 2,000,000 bytes"),
        (".".join(["a"] * 2_000) + " = 1", "line 1 has 4,003 characters"),
        ("a = 1", 'no table "a"'),
        ("limit = 1", "double brackets"),
        ("limit = [1, 2]", "double brackets"),
        ("[[limit]]\nid = 5", "has the id '5'"),
        ("[[limit]]\nid = '" + "a" * 900 + "'", "has the id"),
    ],
)  # fmt: skip
def test_odd_content_ends_in_one_line(tmp_path: Path, content: str | bytes, words: str):
    assert words in refusal(written(tmp_path, content))


def test_keys_of_many_parts_are_refused_before_they_are_parsed(tmp_path: Path):
    # The parser takes time and memory by the square of the parts: without the bound such a file does not end.
    parts = ".".join(["a"] * 400)
    for line in (f"{parts} = 1", f"[{parts}]", f"a = {{ {parts} = 1 }}", f'"=".{parts} = "x"'):
        assert "line 1 joins more than 12 names by dots" in refusal(written(tmp_path, line))


def test_dots_in_a_sentence_are_no_keys(tmp_path: Path):
    sentence = "A. B. C. D. E. F. G. H. I. J. K. L. M. N. O."
    assert load_catalog([written(tmp_path, LIMIT.replace("A limit", sentence))]).limits["own-limit"].meaning == sentence


def test_an_empty_file_and_one_with_a_byte_order_mark_are_rows_too(tmp_path: Path):
    assert load_catalog([written(tmp_path, "")]).own_rows == ()
    marked = load_catalog([written(tmp_path, b"\xef\xbb\xbf" + LIMIT.replace("\n", "\r\n").encode())])
    assert marked.own_rows == ("limit own-limit (my-rows.toml)",)


def test_text_that_looks_like_code_stays_text(tmp_path: Path):
    text = "{__import__('os').getcwd()} {{7*7}} ${HOME}"
    path = written(tmp_path, LIMIT.replace("A limit", text))
    assert load_catalog([path]).limits["own-limit"].meaning == text
