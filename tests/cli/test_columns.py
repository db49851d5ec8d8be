"""Tables of plain text."""

from finishadvisor.cli.columns import Column, print_columns

COLUMNS = (Column("", right=True), Column("finish", wraps=True), Column("cost", right=True))


def test_columns_stand_under_their_titles(capsys):
    print_columns(COLUMNS, [("1", "bare", "$300"), ("10", "acrylic", "$1,200")])
    assert capsys.readouterr().out.splitlines() == [
        "    finish     cost",
        " 1  bare       $300",
        "10  acrylic  $1,200",
    ]


def test_a_long_cell_wraps_between_words_and_the_others_stay(capsys):
    name = "Clear acrylic " * 12
    print_columns(COLUMNS, [("1", name, "$300")])
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 3 and all(len(line) <= 110 for line in lines)
    assert lines[1].startswith("1  Clear acrylic") and lines[1].endswith("$300") and "$" not in lines[2]
    first = lines[1].split().index("$300") - 1
    assert " ".join(lines[1:]).split() == ["1", *name.split()[:first], "$300", *name.split()[first:]]


def test_a_column_keeps_room_for_words_however_narrow_the_line(capsys):
    print_columns(COLUMNS, [("1", "several plain words of a name", "$" * 120)])
    assert capsys.readouterr().out.splitlines()[1].startswith("1  several plain")


def test_an_empty_table_prints_its_titles(capsys):
    print_columns(COLUMNS, [])
    assert capsys.readouterr().out == "  finish  cost\n"
