"""`advise` as a person reads it."""

from click.testing import CliRunner

from finishadvisor.cli.main import cli
from tests.cli.test_own_rows import JOB

DOWN = """
[[floor.layer_down]]
material = "acrylic"
laid = 2026-05-01
"""


def advise(folder, text):
    (folder / "job.toml").write_text(text, encoding="utf-8")
    result = CliRunner().invoke(cli, ["advise", str(folder), "--on", "2026-09-21"], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return " ".join(result.output.split())


def test_what_lies_on_the_slab_is_told_with_what_it_leaves(tmp_path):
    plain = JOB.replace('rules = ["mine.toml"]', "")
    told = advise(tmp_path, plain + DOWN)
    assert "On the slab lies acrylic; from here can still be reached:" in told
    assert "Out of reach without taking it off: Unsealed (bare)" in told
    assert "can still be reached" not in advise(tmp_path, plain)


def test_the_first_place_is_told_in_plain_words(tmp_path):
    told = advise(tmp_path, JOB.replace('rules = ["mine.toml"]', ""))
    assert "If prices, lives and what counts most turn out otherwise" in told
    assert "the first choice stays first in" in told


def test_what_cannot_be_told_yet_asks_the_questions_that_settle_it(tmp_path):
    garage = JOB.replace('rules = ["mine.toml"]', "").replace("outdoors", "indoors").replace("patio", "garage")
    told = advise(tmp_path, garage)
    open_yet = told.split("Cannot tell yet, until these are known:")[1].split("Find out next:")[0]
    assert "Clear epoxy with clear urethane top: " in open_yet
    assert "sun" in open_yet and "_" not in open_yet
    assert 'Write: sun = "none" or "part" or "full"' in told


def test_a_finish_that_cannot_be_judged_is_not_told_as_one_that_nothing_stands_against(tmp_path):
    told = advise(tmp_path, 'name = "House"\n[[floor]]\nname = "Floor"\n[floor.answers]\nplace = "indoors"\n')
    assert "No finish can be judged yet" in told
    assert "nothing stands in its way" not in told
    assert "stays first" not in told
    assert "Costs, order and days need the floor's size" in told


SALTED = """
name = "House"
[[floor]]
name = "Deck"
pour = { date = 2026-06-01 }
[floor.outline]
rectangle = [{ x = "20 ft", y = "10 ft" }]
[floor.answers]
use = "pool-deck"
sun = "full"
winter = "frost-and-salt"
surface = "broom"
color_depth = "dark"
"""


def test_the_best_finishes_are_told_with_what_speaks_for_them_the_weightiest_first(tmp_path):
    told = advise(tmp_path, SALTED)
    first, second = (told.split(f" {number}. ")[1].split(f" {number + 1}. ")[0] for number in (1, 2))
    assert first.startswith("Penetrating sealer (silane/siloxane): - for it: A silane keeps salt water out")
    assert "against it: " in first
    assert "for it: " in second


def test_prices_in_dollars_are_not_passed_off_as_another_currency(tmp_path):
    told = advise(tmp_path, SALTED.replace('name = "House"', 'name = "House"\ncurrency = "EUR"'))
    assert "usual US prices in dollars, taken one for one as EUR" in told
    assert "in dollars" not in advise(tmp_path, SALTED)


def test_a_finish_that_does_not_suit_is_never_ordered_without_a_word(tmp_path):
    (tmp_path / "job.toml").write_text(SALTED, encoding="utf-8")
    for words, told in (
        (["order", "--finish", "polished-dyed"], "asked for. It does not suit this floor: "),
        (["plan", "--finish", "polished-dyed"], "asked for. It does not suit this floor: "),
        (["order"], "the top of the ranking. Order"),
    ):
        line = [words[0], str(tmp_path), *words[1:], "--on", "2026-09-21"]
        result = CliRunner().invoke(cli, line, catch_exceptions=False)
        assert told in " ".join(result.output.split())
