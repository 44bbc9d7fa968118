"""What a propeller was made of stands in plain tables, with nothing invented."""

import pytest

from records.documents import export_made as made_of
from records.queries.provenance.dossiers import dossiers
from tests import factories
from tests.finished import built, made  # noqa: F401

pytestmark = pytest.mark.django_db


@pytest.fixture
def one(made):  # noqa: F811
    return next(dossiers())


def column(section, name):
    return [row[section.columns.index(name)] for row in section.rows]


@pytest.mark.parametrize(
    "tell",
    [
        made_of.laminations,
        made_of.joints,
        made_of.pressing,
        made_of.coupons,
        made_of.uses,
    ],
)
def test_each_row_has_a_cell_for_each_column(one, tell):
    section = tell(one)
    assert all(len(row) == len(section.columns) for row in section.rows)
    assert all(isinstance(cell, str) for row in section.rows for cell in row)


def test_each_lamination_leads_to_board_lot_and_species(one):
    section = made_of.laminations(one)
    assert column(section, "Place") == ["1", "2", "3", "4"]
    assert set(column(section, "Species")) == {"Yellow birch"}
    assert column(section, "Mass")[0] == "3151\xa0g (6.95\xa0lb)"


def test_what_is_not_known_is_called_unknown(shop):
    lot = factories.LotFactory(supplier=None, supplier_lot="")
    propeller = factories.PropellerFactory(serial="T-1")
    factories.LaminationFactory(
        board__lot=lot, blank=propeller.blank, position=1, mass_g=None
    )
    section = made_of.laminations(list(dossiers())[-1])
    assert column(section, "Supplier") == ["unknown"]
    assert column(section, "Supplier's lot") == ["unknown"]


def test_each_joint_names_its_mix_and_lots(one):
    section = made_of.joints(one)
    assert column(section, "Joint") == [f"{n}, both faces" for n in (1, 2, 3)]
    assert len(set(column(section, "Mix"))) == 2
    assert all(" and " in lots for lots in column(section, "Lots"))


def test_the_press_shows_what_was_asked_and_what_was_seen(one):
    section = made_of.pressing(one)
    assert column(section, "Samples") == ["40"]
    assert column(section, "Asked at the glue line")[0].startswith("1.00\xa0MPa")
    # 1.19 MPa at first; 90 kPa less in the tenth of 40 samples: 1.0937 MPa (invented).
    assert column(section, "Seen at the glue line")[0].startswith("1.09\xa0MPa")


def test_a_load_without_samples_says_nothing_of_pressure(shop):
    propeller = factories.PropellerFactory(serial="T-2")
    factories.LoadedBlankFactory(blank=propeller.blank)
    section = made_of.pressing(list(dossiers())[-1])
    assert column(section, "Seen at the glue line") == ["\N{EN DASH} to \N{EN DASH}"]


def test_coupons_and_later_uses_are_listed(one):
    assert column(made_of.coupons(one), "Wood failure") == ["90\xa0%", "90\xa0%"]
    factories.MaterialUseFactory(propeller=one.propeller, place="leading edges")
    section = made_of.uses(next(dossiers()))
    assert column(section, "Where") == ["leading edges"]
    assert column(section, "What")[0].startswith("lot L")
