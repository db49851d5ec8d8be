from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

import pytest

from finishadvisor.catalog.models import Fact
from finishadvisor.errors import JobError
from finishadvisor.job.catalog_check import check_against_catalog
from finishadvisor.job.document import Job
from tests.plain_jobs import job_from_plain


def job(answers: dict[str, Any] | None = None, floor: dict[str, Any] | None = None, **head: Any) -> Job:
    plain = {"name": "n", "floor": [{"name": "Shed", "answers": answers or {}, **(floor or {})}], **head}
    return job_from_plain(plain, metric=False)


def check_answers(made: Job, facts: Mapping[str, Fact]) -> None:
    catalog: Any = SimpleNamespace(facts=facts, finishes={}, materials={}, criteria={})
    check_against_catalog(made, catalog)


def test_answers_that_fit_pass(facts: Mapping[str, Fact]) -> None:
    check_answers(job({"sun": "part", "thickness_in": 5, "heat_in_slab": False}), facts)


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"son": "part"}, '"son" is not a fact. Did you mean "sun"?'),
        ({"sun": "ful"}, 'sun: "ful" is not allowed; write one of: none, part, full. Did you mean "full"?'),
        ({"sun": True}, "sun: true is not allowed; write one of"),
        ({"thickness_in": 25}, "thickness_in: 25 is out of range; it must be at most 24 in."),
        ({"thickness_in": 0.5}, "it must be at least 1 in."),
        ({"thickness_in": "5"}, 'thickness_in: "5" is not allowed; write a number in in'),
        ({"thickness_in": True}, "thickness_in: true is not allowed"),
        ({"heat_in_slab": "yes"}, 'heat_in_slab: "yes" is not allowed; write true or false'),
        ({"heat_in_slab": 1}, "heat_in_slab: 1.0 is not allowed"),
    ],
)
def test_answers_that_do_not_fit_are_refused(facts: Mapping[str, Fact], answers: dict[str, Any], said: str) -> None:
    with pytest.raises(JobError) as refused:
        check_answers(job(answers), facts)
    assert str(refused.value).startswith('job.toml: floor "Shed", answers')
    assert said in str(refused.value)


def test_all_wrong_names_are_found_at_once(facts: Mapping[str, Fact]) -> None:
    catalog: Any = SimpleNamespace(
        facts=facts,
        finishes={"bare": SimpleNamespace(name="Unsealed (bare)"), "densified": SimpleNamespace(name="Densified")},
        materials={"densifier": SimpleNamespace(name="Silicate densifier", chemistry="silicate")},
        criteria={"look": SimpleNamespace(name="the look")},
    )
    right = job(
        {"sun": "part"},
        {"decision": {"finish": "bare"}, "layer_down": [{"material": "silicate"}, {"material": "unknown"}]},
        weights={"look": 2},
        price=[{"material": "densifier", "size": 5, "price": 100}],
    )
    check_against_catalog(right, catalog)
    wrong = job(
        {"sun": "ful"},
        {
            "decision": {"finish": "bear"},
            "layer_down": [{"material": "silikate"}],
            "mock_up": [{"finish": "unsealed (Bare)", "area_ft2": 4, "material": "x", "used": 1}],
            "used": [{"material": "densifer", "layer": "l", "area_ft2": 4, "used": 1, "date": "2026-09-01"}],
        },
        weights={"look": -1, "looks": 1},
        price=[{"material": "densify", "size": 5, "price": 100}],
    )
    with pytest.raises(JobError) as refused:
        check_against_catalog(wrong, catalog)
    lines = "\n".join(refused.value.mistakes)
    assert len(refused.value.mistakes) == 9
    for said in ('Did you mean "look"?', 'Did you mean "densifier"?', "below zero", 'decision, finish: "bear"',
                 'is a name; write its id, "bare".',
                 'layer_down 1, material: "silikate" is not a kind of material. Did you mean "silicate"?',
                 '"x" is not a material. Write one of: densifier.'):  # fmt: skip
        assert said in lines
