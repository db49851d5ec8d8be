import pytest

from finishadvisor.advice.ranking import Contender, rank, weights_of, wish_points
from finishadvisor.advice.stability import Draws, drawn_life_costs, triangular, winner_stability
from finishadvisor.catalog.models import Merits
from finishadvisor.catalog.row import Range
from finishadvisor.errors import JobError
from finishadvisor.job.document import Business
from finishadvisor.records.base import Money
from tests.advice.floors import a_job, shipped
from tests.advice.test_life_cost import upkeep

EVEN = {"first_cost": 0.25, "life_cost": 0.25, "look": 0.25, "days_out": 0.25}


def money(expected, spread=0.2):
    return Money(low=expected * (1 - spread), expected=expected, high=expected * (1 + spread), basis="")


def contender(id_="a", cost=1000, life=2000, look=5, days=3, **more):
    plain = {
        "finish": id_, "settled": True, "first_cost": cost and money(cost), "life_cost": life and money(life),
        "upkeep": None, "days_out": days, "merits": Merits(look=look, wear=5, upkeep=5, slip=5), "wish_points": 0,
    }  # fmt: skip
    return Contender(**{**plain, **more})


def ranked(*contenders, weights=EVEN):
    return {one.finish: one for one in rank(contenders, weights, shipped())}


# --- weights -------------------------------------------------------------------------------------------------------


def test_the_usual_weights_add_up_to_one():
    assert sum(weights_of(a_job(), shipped()).values()) == pytest.approx(1)


def test_a_job_changes_a_weight_and_the_rest_keep_their_proportion():
    usual, own = weights_of(a_job(), shipped()), weights_of(a_job(job={"weights": {"look": 0.6}}), shipped())
    assert own["look"] == pytest.approx(0.6 / 1.4)
    assert own["wear"] / own["slip"] == pytest.approx(usual["wear"] / usual["slip"])


def test_weights_of_nothing_are_refused():
    nothing = {"weights": dict.fromkeys(shipped().criteria, 0.0)}
    with pytest.raises(JobError, match="all weights are 0"):
        weights_of(a_job(job=nothing), shipped())


# --- order ---------------------------------------------------------------------------------------------------------


def test_a_score_that_can_be_redone_by_hand():
    got = ranked(contender("a", 1000, 2000, 8, 2), contender("b", 2000, 3000, 6, 4), contender("c", 1500, 2000, 4, 3))
    assert got["a"].score == pytest.approx(0.25 * (1 + 1 + 0.8 + 1))
    assert got["b"].score == pytest.approx(0.25 * (0 + 0 + 0.6 + 0))
    assert got["c"].score == pytest.approx(0.25 * (0.5 + 1 + 0.4 + 0.5))
    assert [got[id_].rank for id_ in "abc"] == [1, 3, 2]


def test_the_order_of_the_finishes_never_matters():
    three = contender("a", 1000), contender("b", 900), contender("c", 1000)
    assert rank(three, EVEN, shipped()) == rank(three[::-1], EVEN, shipped())


def test_equal_scores_go_by_first_cost_then_id():
    alike = contender("b"), contender("a")
    assert [one.finish for one in rank(alike, EVEN, shipped())] == ["a", "b"]
    by_look = {"look": 1.0, "first_cost": 0.0}
    cheaper = contender("b", 900), contender("a", 1000)
    assert [one.finish for one in rank(cheaper, by_look, shipped())] == ["b", "a"]


def test_what_cannot_be_told_stands_behind_all_others():
    got = ranked(contender("good", 100, 100, 10, 1, settled=False), contender("poor", 900, 900, 1, 9))
    assert (got["poor"].rank, got["good"].rank) == (1, 2)
    assert got["poor"].dominated_by is None


def test_wishes_move_a_finish_by_stated_steps():
    got = ranked(contender("a"), contender("b", wish_points=3))
    assert got["b"].score - got["a"].score == pytest.approx(3 * 0.04)


def test_without_prices_the_rest_decides():
    got = ranked(contender("a", None, None, 4, None), contender("b", None, None, 7, None))
    assert (got["b"].rank, got["b"].score) == (1, 0.7)
    only_money = {"first_cost": 1.0}
    assert ranked(contender("a", None), weights=only_money)["a"].score == pytest.approx(0.5)


def test_dominated_is_nowhere_better_and_somewhere_worse():
    best, worse, other = contender("best", 900, 1900, 6), contender("worse", 1000, 2000, 6), contender("other", 2000)
    got = ranked(best, worse, contender("looks", 5000, 9000, 9))
    assert (got["worse"].dominated_by, got["looks"].dominated_by, got["best"].dominated_by) == ("best", None, None)
    twins = ranked(contender("a"), contender("b"))
    assert (twins["a"].dominated_by, twins["b"].dominated_by) == (None, None)
    wished = ranked(best, contender("worse", 1000, 2000, 6, wish_points=1))
    assert wished["worse"].dominated_by is None
    assert other.value("first_cost") == 2000


def test_points_of_wishes_count_met_rules_only():
    from finishadvisor.advice.verdict import judge
    from tests.advice.floors import a_catalog, a_fact, a_finish, a_rule

    facts = [a_fact("yes"), a_fact("no"), a_fact("open")]
    rules = [
        a_rule("favor", {"yes": True}, "a", weight=3), a_rule("against", {"yes": True}, "b"),
        a_rule("favor", {"no": True}, "c"), a_rule("against", {"open": True}, "d"),
    ]  # fmt: skip
    catalog = a_catalog(facts, rules)
    judged = judge(a_finish(), {"yes": True, "no": False, "open": None}, catalog)
    assert wish_points(judged.findings, catalog) == 2


# --- how firm the first place is -------------------------------------------------------------------------------------


def stability(*order, weights=EVEN):
    return winner_stability(order, weights, Business(), shipped())


def test_one_finish_always_wins_and_none_has_no_share():
    assert stability(contender()) == 1.0


def test_a_clear_winner_nearly_always_wins_and_twins_share():
    assert stability(contender("a", 500, 900, 9, 1), contender("b", 3000, 9000, 2, 9)) == 1.0
    assert 0.4 < stability(contender("a"), contender("b")) < 0.6


def test_the_same_every_time():
    order = contender("a"), contender("b", 1050), contender("c", look=6)
    assert stability(*order) == stability(*order)


def test_what_cannot_be_told_takes_no_part():
    assert stability(contender("a"), contender("b", 1, 1, 10, 0, settled=False)) == 1.0


def test_draws_of_lives_follow_the_same_sums():
    import numpy as np

    from finishadvisor.advice.life_cost import life_cost

    def fixed(value):
        return Range(low=value, expected=value, high=value)

    first = Money(low=1000, expected=1000, high=1000, basis="")
    half = np.full(3, 0.5)
    for years in (0.5, 9, 15, 40.5):
        for rate in (0.0, 0.05):
            for recoat, renew in ((3, None), (None, 7), (3, 7), (2.5, 2.5), (4, 60), (None, None)):
                kept = upkeep(
                    inspection=fixed(20), inspect_years=0.5, yearly=fixed(30), renew=fixed(1300),
                    recoat=fixed(400) if recoat else None, recoat_years=fixed(recoat) if recoat else None,
                    renew_years=fixed(renew) if renew else None,
                )  # fmt: skip
                business = Business(analysis_years=years, discount_rate=rate)
                drawn = drawn_life_costs(first, kept, business, half, half)
                wanted = life_cost(first, kept, business).expected
                assert drawn == pytest.approx([wanted] * 3), (years, rate, recoat, renew)


def test_triangular_draws_keep_to_their_range_and_mean():
    import numpy as np

    draws = Draws(np.random.default_rng(1), 40_000)
    drawn = triangular(Range(low=10, expected=20, high=60), draws.place())
    assert drawn.min() >= 10
    assert drawn.max() <= 60
    assert drawn.mean() == pytest.approx((10 + 20 + 60) / 3, rel=0.01)  # mean of a triangular distribution
    assert np.median(triangular(Range(low=5, expected=5, high=5), draws.place())) == 5
