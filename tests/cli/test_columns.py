"""Tables of plain text."""

from finishadvisor.cli.columns import Column, print_columns, print_prose

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


def test_a_terminal_too_narrow_for_the_columns_gets_lines_of_their_own(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "50")
    columns = (Column("", right=True), Column("finish", wraps=True), Column("verdict"), Column("cost", right=True))
    print_columns(columns, [("1", "Clear acrylic, water-borne", "suits if three things hold", "$1,300")])
    lines = capsys.readouterr().out.splitlines()
    assert lines == ["1 Clear acrylic, water-borne", "    verdict suits if three things hold; cost", "    $1,300"]


def test_prose_is_no_wider_than_the_terminal(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")
    print_prose("plain words " * 30, "  - ", "    ")
    lines = capsys.readouterr().out.splitlines()
    assert max(map(len, lines)) <= 60 and lines[0].startswith("  - ") and lines[1].startswith("    words")


def test_an_empty_table_prints_its_titles(capsys):
    print_columns(COLUMNS, [])
    assert capsys.readouterr().out == "  finish  cost\n"
