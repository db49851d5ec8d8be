from finishadvisor.works.subject import cautions_of, finish_subject
from tests.advice.floors import a_finish, shipped


def subject(id_):
    return finish_subject(a_finish(id_), shipped())


def test_words_of_the_finish_and_of_its_layers():
    words = subject("epoxy-urethane-solid")
    assert words["finish"] == {"epoxy-urethane-solid"}
    assert (words["cover"], words["film"]) == ({"solid"}, {"tight"})
    assert words["layer"] == {"epoxy", "urethane"}
    assert (words["first"], words["top"]) == ({"epoxy"}, {"urethane"})


def test_what_is_thrown_into_a_coat_is_neither_layer_nor_top():
    words = subject("polyaspartic-flake")
    assert words["top"] == {"polyaspartic"}
    assert "supply" not in words["layer"]
    assert any("flake" in material for material in words["material"])


def test_a_finish_without_layers_has_no_chemistry():
    words = subject("bare")
    assert (words["layer"], words["top"], words["first"], words["carrier"]) == (frozenset(),) * 4


def test_cautions_come_from_work_and_materials():
    assert "flammable-solvent" in subject("acrylic-solvent")["caution"]
    assert any(caution.startswith("silica") for caution in cautions_of(a_finish("polished-cream"), shipped()))
    assert len(cautions_of(a_finish("polished-cream"), shipped())) == len(subject("polished-cream")["caution"])
