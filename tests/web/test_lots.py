"""The lots area as somebody at a screen meets it."""

import datetime as dt
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from records.models import (
    Attachment,
    GlueSheet,
    LedgerEntry,
    Lot,
    LotCheck,
    Material,
    Supplier,
)
from tests import factories
from tests.rules.test_files import picture
from tests.web.seen import queries_of, said, text_of

pytestmark = pytest.mark.django_db
ROWS = 20


def page(name, *args):
    return reverse(f"lots:{name}", args=args)


@pytest.fixture
def birch(shop):
    """A timber to receive."""
    return factories.TimberFactory(name="Yellow birch")


def delivery(birch, **kwargs):
    facts = {
        "material": birch.pk,
        "received_on": timezone.localdate().isoformat(),
        "document": "3.1",
    }
    return {**facts, **kwargs}


class TestReceive:
    def test_leads_to_the_lot_with_its_number(self, signed_in, birch):
        given = delivery(birch, supplier_lot="A-17", quantity="14 boards")
        answer = signed_in.post(page("receive"), given, follow=True)
        assert answer.redirect_chain[-1][0] == page("lot", "L0001")
        words = text_of(answer)
        assert "Lot L0001 is in the book. Write the number on it." in words
        assert "waiting for its receiving check" in words
        assert "3.1 inspection certificate" in words

    def test_lot_number_left_empty_is_shown_as_unknown(self, signed_in, birch):
        signed_in.post(page("receive"), delivery(birch))
        words = text_of(signed_in.get(page("lot", "L0001")))
        assert "Lot number on it unknown" in words
        assert "lot number on the container of lot L0001 is not known" in words

    def test_a_refusal_keeps_all_that_was_typed(self, signed_in, birch):
        tomorrow = timezone.localdate() + dt.timedelta(days=1)
        given = delivery(
            birch, received_on=tomorrow.isoformat(), quantity="14 <boards>", storage="A"
        )
        answer = signed_in.post(page("receive"), given)
        assert answer.status_code == 422
        html = answer.content.decode()
        assert "still to come" in html
        assert "14 &lt;boards&gt;" in html
        assert tomorrow.isoformat() in html
        assert not Lot.objects.exists()
        assert not LedgerEntry.objects.exists()

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("material", "99999"),
            ("received_on", "yesterday"),
            ("expires_on", "2026-02-30"),
            ("document", "9.9"),
            ("supplier", "x"),
            ("supplier_lot", "9" * 61),
        ],
    )
    def test_what_can_not_be_gets_a_sentence_at_its_field(
        self, signed_in, birch, field, typed
    ):
        answer = signed_in.post(page("receive"), delivery(birch, **{field: typed}))
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not Lot.objects.exists()

    def test_the_material_is_chosen_already_where_it_is_named(self, signed_in, birch):
        answer = signed_in.get(f"{page('receive')}?material={birch.pk}")
        assert f'<option value="{birch.pk}" selected>' in answer.content.decode()

    def test_sent_twice_is_one_lot(self, signed_in, birch):
        form_key = "5f0c5b1e-6d0f-4d4c-9a51-6f1c2f1b8a11"
        given = delivery(birch, form_key=form_key)
        first = signed_in.post(page("receive"), given)
        second = signed_in.post(page("receive"), given)
        assert first.url == second.url
        assert Lot.objects.count() == 1


class TestCheck:
    @pytest.fixture
    def lot(self, shop):
        return factories.LotFactory(state=Lot.State.WAITING)

    def given(self, **kwargs):
        facts = {
            "accepted": "yes",
            "found": "Straight and dry.",
            "happened_at": timezone.localtime().strftime("%Y-%m-%dT%H:%M"),
        }
        return {**facts, **kwargs}

    def test_accepts_with_a_photo(self, signed_in, lot):
        photo = SimpleUploadedFile("end grain.png", picture("PNG"))
        given = self.given(photo=photo)
        answer = signed_in.post(page("check", lot.number), given, follow=True)
        words = text_of(answer)
        assert f"Lot {lot} is accepted." in words
        assert "Straight and dry." in words
        kept = Attachment.objects.get(lot=lot)
        assert reverse("files:file", args=[kept.pk]) in answer.content.decode()
        assert signed_in.get(reverse("files:file", args=[kept.pk])).status_code == 200

    def test_refuses(self, signed_in, lot):
        signed_in.post(page("check", lot.number), self.given(accepted="no"))
        lot.refresh_from_db()
        assert lot.state == Lot.State.REFUSED
        assert "refused" in text_of(signed_in.get(page("lot", lot.number)))

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("accepted", ""),
            ("found", ""),
            ("happened_at", "2199-01-01T10:00"),
            ("happened_at", "noon"),
            ("photo", SimpleUploadedFile("x.jpg", b"not a picture")),
        ],
    )
    def test_a_slip_changes_nothing(self, signed_in, lot, field, value):
        answer = signed_in.post(page("check", lot.number), self.given(**{field: value}))
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not LotCheck.objects.exists()
        assert not Attachment.objects.exists()

    def test_says_why_somebody_without_authority_can_not(self, client, lot):
        maker = factories.PersonFactory()
        backend = "django.contrib.auth.backends.ModelBackend"
        client.force_login(maker, backend=backend)
        words = text_of(client.get(page("lot", lot.number)))
        assert f"{maker.name} has no authority to accept lots and boards" in words
        answer = client.post(page("check", lot.number), self.given())
        assert answer.status_code == 422
        lot.refresh_from_db()
        assert lot.state == Lot.State.WAITING


class TestLotPage:
    def test_accepted_timber_without_boards_asks_for_boards(self, signed_in):
        lot = factories.LotFactory()
        answer = signed_in.get(page("lot", lot.number))
        assert said(answer) == ("ok", "usable")
        assert answer.context["step"].label == "Add boards"

    def test_expired_glue_is_not_usable_and_says_why(self, signed_in):
        lot = factories.ResinLotFactory(expires_on=dt.date(2026, 1, 31))
        answer = signed_in.get(page("lot", lot.number))
        assert said(answer) == ("outside", "not usable")
        assert "was usable until 31 Jan 2026" in text_of(answer)

    def test_held_lot_says_so_first(self, signed_in):
        lot = factories.LotFactory()
        factories.HoldFactory(lot=lot, reason="wrong species on two boards")
        answer = signed_in.get(page("lot", lot.number))
        assert said(answer) == ("hold", "on hold")
        assert "wrong species on two boards" in text_of(answer)

    def test_glue_shows_the_mixes_made_of_it(self, signed_in):
        mix = factories.MixFactory()
        for lot in (mix.resin_lot, mix.hardener_lot):
            assert mix.number in text_of(signed_in.get(page("lot", lot.number)))

    def test_finish_shows_what_it_was_used_on(self, signed_in):
        varnish = factories.TimberFactory(kind="finish", name="Varnish")
        lot = factories.LotFactory(material=varnish)
        assert "Nothing yet." in text_of(signed_in.get(page("lot", lot.number)))
        use = factories.MaterialUseFactory(lot=lot, place="both faces")
        words = text_of(signed_in.get(page("lot", lot.number)))
        assert f"propeller {use.propeller.serial} both faces" in words
        assert "Mixes made of it" not in words

    def test_adhesive_leads_to_its_maker_s_sheet_or_asks_for_it(self, signed_in):
        mix = factories.MixFactory()
        html = signed_in.get(page("lot", mix.resin_lot.number)).content.decode()
        assert page("sheet", mix.sheet_id) in html
        bare = factories.ResinLotFactory()
        words = text_of(signed_in.get(page("lot", bare.number)))
        assert "Copy it before glue is mixed of it." in words

    def test_next_is_the_reading_or_the_signature_the_route_asks_for(self, signed_in):
        lot = factories.BoardFactory().lot
        stage = factories.StageFactory(scope="lot", code="timber", name="Receipt")
        characteristic = factories.CharacteristicFactory(
            stage=stage, on="lot", code="moisture", name="Moisture content", unit="%"
        )
        answer = signed_in.get(page("lot", lot.number))
        step = answer.context["step"]
        assert step.label == "Log moisture content"
        assert "characteristic=moisture" in step.url
        assert "Receipt" in text_of(answer)
        factories.ReadingFactory(
            characteristic=characteristic,
            propeller=None,
            lot=lot,
            entered="9",
            unit="%",
        )
        answer = signed_in.get(page("lot", lot.number))
        assert answer.context["step"].label == "Sign Receipt"
        assert "Moisture content" in text_of(answer)

    def test_unknown_lot_is_not_found(self, signed_in, shop):
        assert signed_in.get(page("lot", "L9999")).status_code == 404

    def test_reader_is_told_that_they_only_look(self, client, shop):
        reader = factories.PersonFactory(role="reader")
        backend = "django.contrib.auth.backends.ModelBackend"
        client.force_login(reader, backend=backend)
        lot = factories.LotFactory()
        assert "you look and write nothing" in text_of(
            client.get(page("lot", lot.number))
        )


class TestOpenAndClose:
    def test_container_is_opened(self, signed_in):
        lot = factories.ResinLotFactory()
        assert "Note it opened" in text_of(signed_in.get(page("lot", lot.number)))
        today = timezone.localdate()
        signed_in.post(page("open", lot.number), {"opened_on": today.isoformat()})
        lot.refresh_from_db()
        assert lot.opened_on == today

    def test_day_before_it_came_is_refused(self, signed_in):
        lot = factories.ResinLotFactory()
        answer = signed_in.post(page("open", lot.number), {"opened_on": "2020-01-01"})
        assert answer.status_code == 422
        assert "can't have been opened before" in text_of(answer)

    def test_lot_is_closed(self, signed_in):
        lot = factories.LotFactory()
        signed_in.post(page("close", lot.number), {"state": "used_up"})
        assert "used up" in text_of(signed_in.get(page("lot", lot.number)))
        again = signed_in.post(page("close", lot.number), {"state": "returned"})
        assert again.status_code == 422


class TestLists:
    def test_lots_are_found_by_kind_state_and_words(self, signed_in):
        timber = factories.LotFactory(supplier_lot="QX-1")
        glue = factories.ResinLotFactory(state=Lot.State.WAITING)
        for asked, result in (
            ("kind=adhesive", glue),
            ("state=accepted", timber),
            ("text=qx-1", timber),
            (f"text={glue.material.name}", glue),
        ):
            answer = signed_in.get(f"{page('lots')}?{asked}")
            numbers = [row.record.number for row in answer.context["table"].rows]
            assert numbers == [result.number], asked

    def test_filter_that_can_not_be_finds_nothing_and_breaks_nothing(self, signed_in):
        factories.LotFactory()
        assert signed_in.get(f"{page('lots')}?state=cheese&page=x").status_code == 200

    def test_expired_lot_says_so_in_the_list(self, signed_in):
        factories.ResinLotFactory(expires_on=dt.date(2026, 1, 31))
        assert "accepted, past its last day" in text_of(signed_in.get(page("lots")))

    def test_csv_has_every_lot_and_no_formula(self, signed_in):
        for n in range(30):
            factories.LotFactory(supplier_lot=f"=SUM({n})")
        answer = signed_in.get(f"{page('lots')}?export=csv")
        lines = answer.getvalue().decode("utf-8-sig").splitlines()
        assert lines[0].startswith("Lot,Material,Supplier,Number on it,Received on")
        assert len(lines) == 31
        assert ",'=SUM(" in lines[1]
        assert ",2026-01-05,," in lines[1]

    @pytest.mark.parametrize("name", ["lots", "suppliers", "materials", "sheets"])
    def test_lists_export(self, signed_in, name):
        factories.GlueSheetFactory()
        factories.LotFactory()
        answer = signed_in.get(f"{page(name)}?export=csv")
        assert len(answer.getvalue().decode().splitlines()) >= 2


class TestSuppliersAndMaterials:
    def test_supplier_is_added_changed_and_left(self, signed_in, shop):
        given = {"name": "Northern Planks", "contact": "555 0100"}
        signed_in.post(page("add_supplier"), given)
        supplier = Supplier.objects.get()
        signed_in.post(page("change_supplier", supplier.pk), {"contact": "555 0199"})
        supplier.refresh_from_db()
        assert (supplier.contact, supplier.in_use) == ("555 0199", False)
        words = text_of(signed_in.get(page("supplier", supplier.pk)))
        assert "not bought from any more" in words

    def test_supplier_s_page_lists_what_they_sent(self, signed_in):
        lot = factories.LotFactory(state=Lot.State.REFUSED)
        factories.LotFactory()
        words = text_of(signed_in.get(page("supplier", lot.supplier_id)))
        assert lot.number in words
        assert "Of these refused or returned 1" in words

    def test_supplier_s_page_lists_deviations_about_their_material(self, signed_in):
        lot = factories.LotFactory()
        about = factories.DeviationSubjectFactory(lot=lot)
        other = factories.DeviationSubjectFactory()
        words = text_of(signed_in.get(page("supplier", lot.supplier_id)))
        assert about.deviation.number in words
        assert other.deviation.number not in words

    def test_name_already_there_is_said_at_the_name(self, signed_in, birch):
        given = {"kind": "timber", "name": birch.name, "hardwood": "yes"}
        answer = signed_in.post(page("add_material"), given)
        assert answer.status_code == 422
        assert answer.context["form"].errors["name"]

    def test_material_is_added_and_given_up(self, signed_in, shop):
        given = {"kind": "timber", "name": "White ash", "hardwood": "yes"}
        signed_in.post(page("add_material"), given)
        ash = Material.objects.get()
        assert ash.hardwood is True
        signed_in.post(page("material_use", ash.pk), {"x": "1"})
        ash.refresh_from_db()
        assert not ash.in_use
        html = signed_in.get(page("receive")).content.decode()
        assert f'<option value="{ash.pk}"' not in html


SHEET = {
    "source": "Bulletin, March 2002, table 2",
    "parts_low": "20",
    "parts_high": "20",
    "spread_in": "lb/1000ft2",
    "spread_low_gm2": "50",
    "spread_high_gm2": "70",
    "pressure_in": "psi",
    "pressure_low_pa": "25",
    "pressure_high_pa": "250",
    "temperatures_in": "degF",
    "times_in": "h",
    "working_life": "60 7.5\n70 3.75\n\n75\t3\n80 2,5\n90 1.5\n100 0.5",
}


class TestSheets:
    """The resorcinol bulletin reprinted in the Falco manual, App. D, rev. 4, as typed.

    shared/glue_manufacturer_bulletins.csv. 1 lb/1000 ft2 is 4.88243 g/m2 and 1 psi is
    6894.757 Pa (NIST SP 811, appendix B).
    """

    @pytest.fixture
    def adhesive(self, shop):
        return factories.AdhesiveFactory(name="Resorcinol")

    def write(self, signed_in, adhesive, **kwargs):
        given = {**SHEET, "adhesive": adhesive.pk, **kwargs}
        return signed_in.post(page("write_sheet"), given)

    def test_maker_s_units_become_the_book_s(self, signed_in, adhesive):
        self.write(signed_in, adhesive)
        sheet = GlueSheet.objects.get()
        assert (sheet.spread_low_gm2, sheet.spread_high_gm2) == (
            Decimal("244.1"),
            Decimal("341.8"),
        )
        assert (sheet.pressure_low_pa, sheet.pressure_high_pa) == (172369, 1723689)
        points = sheet.points.values_list("temperature_c", "minutes")
        assert list(points)[:2] == [
            (Decimal("15.6"), Decimal("450.0")),
            (Decimal("21.1"), Decimal("225.0")),
        ]
        assert len(points) == 6

    def test_page_shows_table_and_times_between_its_rows(self, signed_in, adhesive):
        answer = self.write(signed_in, adhesive)
        words = text_of(signed_in.get(answer.url))
        assert "in force" in words
        assert "15.6 °C" in words
        assert "7 h 30 min" in words
        assert "The sheet gives no least time under pressure." in words
        words = text_of(signed_in.get(f"{answer.url}?celsius=21,1"))
        assert "At 21.1 °C" in words
        assert "Working life 3 h 45 min" in words

    def test_page_says_that_the_table_ends(self, signed_in, adhesive):
        answer = self.write(signed_in, adhesive)
        words = text_of(signed_in.get(f"{answer.url}?celsius=45"))
        assert "Working life not known" in words

    def test_press_time_is_read_like_the_others(self, signed_in, adhesive):
        answer = self.write(signed_in, adhesive, press_time="60 20\n80 10")
        words = text_of(signed_in.get(f"{answer.url}?celsius=15.6"))
        assert "Least time under pressure 20 h" in words
        words = text_of(signed_in.get(f"{answer.url}?celsius=30"))
        assert "Least time under pressure not known" in words

    def test_page_asked_for_nonsense_says_so(self, signed_in, adhesive):
        answer = self.write(signed_in, adhesive)
        shown = signed_in.get(f"{answer.url}?celsius=warm")
        assert shown.status_code == 200
        assert "is not a number" in text_of(shown)

    def test_a_table_has_at_most_forty_lines(self, signed_in, adhesive):
        typed = "\n".join(f"{n} {100 - n}" for n in range(41))
        answer = self.write(signed_in, adhesive, working_life=typed)
        assert "at most 40 lines" in text_of(answer)

    def test_every_bad_line_is_named_and_all_lines_are_kept(self, signed_in, adhesive):
        typed = "60 7.5\nseventy 3\n80\n90 1 5"
        answer = self.write(signed_in, adhesive, working_life=typed)
        assert answer.status_code == 422
        words = text_of(answer)
        for number in (2, 3, 4):
            assert f"Line {number}:" in words
        assert "seventy 3" in words
        assert not GlueSheet.objects.exists()

    def test_slip_found_by_the_rule_stands_at_its_table(self, signed_in, adhesive):
        answer = self.write(signed_in, adhesive, press_time="60 8\n70 9")
        assert answer.context["form"].errors["press_time"]
        assert not GlueSheet.objects.exists()

    def test_newer_sheet_replaces_the_older_in_the_list(self, signed_in, adhesive):
        old = self.write(signed_in, adhesive).url
        new = self.write(signed_in, adhesive).url
        assert "replaced" in text_of(signed_in.get(old))
        listed = signed_in.get(page("sheets")).content.decode()
        assert new in listed
        assert old not in listed


class TestQueries:
    """No page makes more queries for more rows."""

    @pytest.mark.parametrize("name", ["lots", "suppliers", "materials", "sheets"])
    def test_lists(self, signed_in, name):
        path = page(name)

        def fill():
            factories.GlueSheetFactory()
            factories.LotFactory()
            factories.ResinLotFactory(supplier=None)

        fill()
        few = queries_of(signed_in, path)
        for _ in range(ROWS):
            fill()
        assert queries_of(signed_in, path) == few

    def test_timber_lot(self, signed_in, owner):
        stage = factories.StageFactory(scope="lot")
        characteristic = factories.CharacteristicFactory(
            stage=stage, on="lot", at_least=99
        )
        lot = factories.LotFactory()
        gauge = factories.GaugeFactory()
        written = {"written_at": factories.NOON, "written_by": owner}

        def fill():
            factories.BoardFactory(lot=lot)
            factories.ReadingFactory(
                characteristic=characteristic, propeller=None, lot=lot, gauge=gauge
            )
            LotCheck.objects.create(
                lot=lot, happened_at=factories.NOON, accepted=True, found="x", **written
            )
            factories.AttachmentFactory(lot=lot)

        fill()
        few = queries_of(signed_in, page("lot", lot.number))
        for _ in range(ROWS):
            fill()
        assert queries_of(signed_in, page("lot", lot.number)) == few

    def test_glue_lot(self, signed_in):
        mix = factories.MixFactory()
        path = page("lot", mix.resin_lot.number)
        few = queries_of(signed_in, path)
        for _ in range(ROWS):
            factories.MixFactory(resin_lot=mix.resin_lot, sheet=mix.sheet)
        assert queries_of(signed_in, path) == few
