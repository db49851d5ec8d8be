"""One price for one finish, on the page as on the client's paper."""

from finishadvisor.papers.wording import money_range_text, money_text
from finishadvisor.whole_job.work_through import work_through
from tests.whole_job.test_added_work import JOB, ON


def test_the_pages_show_the_price_with_what_the_plan_adds(make_page, jobs):
    folder = jobs / "shop"
    folder.mkdir()
    (folder / "job.toml").write_text(JOB.format(more=""), encoding="utf-8")
    page = make_page(on=ON)
    whole = work_through(folder, ON)
    assert whole.plan.added["Shop"]
    (outcome,) = whole.floors
    price = outcome.selling_prices[outcome.finish]
    one, all_of_them = (page.get(f"/job/shop/1/finishes{which}").text for which in (f"/{outcome.finish}", ""))
    assert money_range_text(price, whole.job.currency) in one
    assert money_text(price.expected, whole.job.currency) in all_of_them
