"""What led the fuzzer into new code, and small changes to it, by every reader: taken, or answered in a clear line."""

import random
from pathlib import Path

import pytest

from tests.hostile.damage import DAMAGES
from tests.hostile.readers import CORPUS, READERS, kept_inputs, ready

CHANGED = {"photo": 20, "forms": 25}
"""Changed inputs of a reader that takes its time; of any other 150."""
SHORTEST = 8
"""Bytes; what is shorter there is little to change in."""


@pytest.fixture(autouse=True)
def _no_user_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))


def begun(name: str) -> list[bytes]:
    return [*READERS[name].sound(), *kept_inputs(name)]


def test_the_saved_corpus_is_small_text_of_readers_that_there_are() -> None:
    files = [path for path in CORPUS.rglob("*") if path.is_file()]
    assert {path.parent.name for path in files} == {name for name, reader in READERS.items() if reader.text}
    assert sum(path.stat().st_size for path in files) < 300_000
    for path in files:
        path.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", [name for name, reader in READERS.items() if reader.text])
def test_saved_and_sound_input_is_taken_or_answered(name: str, tmp_path: Path) -> None:
    take = ready(name, tmp_path / "place")
    for data in begun(name):
        take(data)


@pytest.mark.parametrize("name", READERS)
def test_changed_input_is_taken_or_answered(name: str, tmp_path: Path) -> None:
    take = ready(name, tmp_path / "place")
    every = [data for data in begun(name) if len(data) >= SHORTEST]
    for number in range(CHANGED.get(name, 150)):
        chance = random.Random(number)
        changed = bytes(chance.choice(DAMAGES[:-1])(bytearray(chance.choice(every)), chance))
        try:
            take(changed)
        except Exception as error:
            raise AssertionError(f"{number}: {changed[:300]!r}") from error


def test_a_reader_that_lets_something_out_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise KeyError("air_f")

    monkeypatch.setattr("finishadvisor.plan.weather.weather_of_csv", broken)
    with pytest.raises(KeyError):
        ready("weather", tmp_path / "place")(READERS["weather"].sound()[0])
