"""The demo: one command, the whole job, every file there and in order."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from tests.contracts.schemas import contract
from tests.whole.conftest import assert_refused, run_command


def test_it_says_what_was_decided_for_each_floor_and_what_to_find_out(demo_run):
    _, done = demo_run
    for words in ("Glaze room", "Kiln yard walk", "Finish:", "Find out next:", "Order:", "Schedule:", "Files, all in"):
        assert words in done.stdout


def test_it_leaves_pdfs_pictures_json_and_csv_and_names_them(demo_run):
    folder, done = demo_run
    papers = {path.name for path in (folder / "papers").iterdir()}
    for ending in (".pdf", ".png", ".json", ".csv", ".ics"):
        assert any(name.endswith(ending) for name in papers), ending
    listed = done.stdout.split("Files, all in")[1]
    assert all(name in listed for name in papers)


def test_it_never_overwrites(demo_run):
    folder, _ = demo_run
    assert_refused(run_command("demo", folder), 2, str(folder.name), "exists already")


@pytest.mark.parametrize("name", ["advise", "order", "plan"])
def test_its_json_keeps_the_contract(name, demo_run):
    folder, _ = demo_run
    file = {"advise": "advice.json", "order": "order.json", "plan": "plan.json"}[name]
    content = json.loads((folder / "papers" / file).read_text(encoding="utf-8"))
    Draft202012Validator(contract(name)).validate(content)


def test_its_evenness_json_keeps_the_contract(demo_run):
    folder, _ = demo_run
    files = sorted((folder / "papers").glob("*-evenness.json"))
    assert len(files) == 2
    for file in files:
        Draft202012Validator(contract("evenness")).validate(json.loads(file.read_text(encoding="utf-8")))


def test_its_client_sheets_are_whole(demo_run):
    folder, _ = demo_run
    for sheet in sorted((folder / "papers").glob("*-client-sheet.pdf")):
        text = " ".join(page.extract_text() for page in PdfReader(sheet).pages)
        for words in ("Mock-up and acceptance", "Cautions", "Price", "Upkeep"):
            assert words in text, (sheet.name, words)


@pytest.mark.parametrize("command", ["advise", "order", "plan"])
def test_each_command_alone_writes_json_that_keeps_the_contract(command, demo_job, tmp_path):
    result = tmp_path / "out.json"
    done = run_command(command, demo_job, "--on", "2026-09-21", "--json", result)
    assert done.returncode == 0, done.stderr
    Draft202012Validator(contract(command)).validate(json.loads(result.read_text(encoding="utf-8")))


def test_evenness_of_a_job_writes_json_that_keeps_the_contract(demo_job, tmp_path):
    result = tmp_path / "out.json"
    words = ("evenness", demo_job, "--floor", "Glaze room", "--on", "2026-09-21", "--json", result)
    assert run_command(*words).returncode == 0
    content = json.loads(result.read_text(encoding="utf-8"))
    Draft202012Validator(contract("evenness")).validate(content)
    assert content["floor"] == "Glaze room"
    assert content["photos"][0]["causes"] is not None


def test_the_schemas_are_closed_and_can_fail(demo_run: tuple[Path, object]):
    content = json.loads((demo_run[0] / "papers" / "advice.json").read_text(encoding="utf-8"))
    content["floors"][0]["finishes"][0]["verdict"] = "perhaps"
    content["floors"][0]["surprise"] = 1
    messages = [error.message for error in Draft202012Validator(contract("advise")).iter_errors(content)]
    assert any("perhaps" in message for message in messages)
    assert any("surprise" in message for message in messages)
