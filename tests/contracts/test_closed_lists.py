"""The closed lists of the JSON contracts, written by hand in the schemas, are those that the code answers in."""

from pathlib import Path

import pytest

from finishadvisor.advice.patch_causes import LIKELIHOODS
from finishadvisor.catalog.load import load_catalog
from finishadvisor.evenness.words import Caveat, Grade, Masked, PatchKind, Refusal
from tests.contracts.schemas import contract

DEFINITIONS = contract("evenness")["$defs"]


@pytest.mark.parametrize(
    ("listed", "words"),
    [
        (DEFINITIONS["grade"]["enum"], Grade),
        (DEFINITIONS["caveat"]["enum"], Caveat),
        (DEFINITIONS["refusal"]["enum"], Refusal),
        (DEFINITIONS["patch"]["properties"]["kind"]["enum"], PatchKind),
        (DEFINITIONS["photo"]["properties"]["masked"]["propertyNames"]["enum"], Masked),
        (DEFINITIONS["cause"]["properties"]["likelihood"]["enum"], LIKELIHOODS),
    ],
    ids=["grade", "caveat", "refusal", "kind", "masked", "likelihood"],
)
def test_the_list_in_the_contract_is_the_list_in_the_code(listed, words):
    assert sorted(listed) == sorted(str(word) for word in words)


@pytest.mark.parametrize("words", [Grade, Caveat, Refusal, PatchKind, Masked, LIKELIHOODS, load_catalog().causes])
def test_the_page_about_json_prints_every_word(words):
    page = (Path(__file__).parents[2] / "docs" / "json.md").read_text(encoding="utf-8")
    missing = [str(word) for word in words if f"`{word}`" not in page]
    assert not missing
