"""On whose word a number of the order stands is told beside its arithmetic."""

import re
from html import unescape

from finishadvisor.whole_job.work_through import work_through


def test_each_line_of_arithmetic_names_its_source(page, jobs):
    whole = work_through(jobs / "pottery", page.site.on)
    text = unescape(page.get("/job/pottery/order").text)
    shown = re.findall(r'<p class="working">(.*?)</p><p class="quiet">Source: (.*?)\.</p>', text)
    lines = [line for floor in whole.order.floors for line in floor.lines]
    assert len(shown) == len(lines) > 10
    for line in lines:
        title = whole.catalog.sources[line.source.id].title
        assert any(working == line.working and source.startswith(title) for working, source in shown), line
    assert any(", from memory" in source for _, source in shown)
