"""The closed lists of the JSON contracts, written by hand in the schemas, are those that the code answers in."""

import pytest

from finishadvisor.advice.causes import LIKELIHOODS
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
