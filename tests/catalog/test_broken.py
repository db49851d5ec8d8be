"""Each broken file holds one mistake, and says in its first lines which words the message must contain."""

from pathlib import Path

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.errors import CatalogError

HERE = Path(__file__).parent
BROKEN = sorted((HERE / "broken").glob("*.toml"))
SAYS = "# must say: "


def test_the_rows_that_the_broken_files_are_made_from_are_sound():
    catalog = load_catalog([HERE / "sound" / "my-rows.toml"])
    assert {"sealer", "flake"} <= set(catalog.materials)
    assert {"two-coats", "bare"} <= set(catalog.finishes)


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_mistake_is_named_with_file_row_key_and_what_is_allowed(path: Path):
    lines = path.read_text(encoding="utf-8").splitlines()
    must_say = [line.removeprefix(SAYS) for line in lines if line.startswith(SAYS)]
    assert must_say

    with pytest.raises(CatalogError) as refused:
        load_catalog([path])

    message = str(refused.value)
    for words in (path.name, *must_say):
        assert words in message
    assert "\n" not in message


def test_a_broken_file_is_refused_again_when_it_is_read_again():
    for _ in range(2):
        with pytest.raises(CatalogError, match="unknown"):
            load_catalog([HERE / "broken" / "unknown-key.toml"])
