"""The trace pages as somebody at a screen meets them."""

import datetime as dt

import pytest
from django.urls import reverse

from records.models import Lamination, MaterialUse, Ownership
from tests import factories
from tests.factories import NOON
from tests.web.seen import queries_of, said, text_of

pytestmark = pytest.mark.django_db
ROWS = 20
# One extra query where the page is opened by the first request of a test.
KINDS = ("lot", "board", "lamination", "mix", "load", "blank", "coupon", "gauge")


def page(name, *args):
    return reverse(f"trace:{name}", args=args)


@pytest.fixture
def propeller(shop):
    blank = factories.glued_blank(laminations=3)
    return factories.PropellerFactory(serial="SN-031", blank=blank)


def hand_over(propeller, name="A. Owner"):
    return Ownership.objects.create(
        propeller=propeller,
        owner=factories.OwnerFactory(name=name),
        happened_at=NOON,
        written_at=NOON,
        written_by=propeller.written_by,
    )


class TestFind:
    def test_whole_serial_leads_to_its_history(self, signed_in, propeller):
        answer = signed_in.get(page("trace"), {"q": " SN-031 "})
        assert answer.url == page("serial", "SN-031")

    def test_part_of_a_serial_lists_what_it_may_be(self, signed_in, propeller):
        factories.PropellerFactory(serial="2025-031")
        text = text_of(signed_in.get(page("trace"), {"q": "031"}))
        assert "2025-031" in text
        assert "SN-031" in text

    def test_number_of_a_material_leads_to_where_it_went(self, signed_in, propeller):
        mix = propeller.blank.spreads.first().mix
        answer = signed_in.get(page("trace"), {"q": mix.number.lower()})
        assert answer.url == page("mix", mix.number)

    def test_nothing_found_says_what_to_do(self, signed_in, shop):
        text = text_of(signed_in.get(page("trace"), {"q": "9999"}))
        assert "try fewer digits" in text

    def test_nothing_asked_shows_the_box(self, signed_in, shop):
        assert "Serial, or any number" in text_of(signed_in.get(page("trace")))


class TestHistory:
    def test_shows_wood_glue_press_and_what_happened(self, signed_in, propeller):
        blank = propeller.blank
        mix = blank.spreads.first().mix
        board = blank.laminations.first().board
        factories.LaminationFactory(
            number="GAP-1",
            board=board,
            state=Lamination.State.VOID,
            void_reason="end check",
        )
        factories.ReadingFactory(propeller=propeller, verdict="outside", entered="2.1")
        factories.SignOffFactory(propeller=propeller, printed_name="M. Maker")
        factories.MaterialUseFactory(propeller=propeller, place="tip of blade 2")
        hand_over(propeller)
        text = text_of(signed_in.get(page("serial", "SN-031")))
        for words in (
            f"Lot {board.lot} received: {board.lot.material}",
            f"Joints 1, 2 closed with mix {mix}",
            f"Press load {blank.loaded.get().load}: pressure off",
            "1 reading, 1 outside",
            "signed by M. Maker",
            "tip of blade 2",
            "why end check",
            "Handed over to A. Owner",
        ):
            assert words in text

    def test_what_happened_is_in_order(self, signed_in, propeller):
        factories.SignOffFactory(propeller=propeller, happened_at=NOON)
        factories.ReadingFactory(
            propeller=propeller, happened_at=NOON + dt.timedelta(days=9)
        )
        answer = signed_in.get(page("serial", "SN-031"))
        days = answer.context["timeline"]
        moments = [event.at for _, events in days for event in events]
        assert moments == sorted(moments)
        assert len(moments) > 6

    def test_hold_on_its_mix_is_the_first_thing_seen(self, signed_in, propeller):
        mix = propeller.blank.spreads.first().mix
        factories.HoldFactory(mix=mix, reason="coupon failed")
        text = text_of(signed_in.get(page("serial", "SN-031")))
        assert "on hold, in work" in text
        assert f"Mix {mix}, which propeller SN-031 is made with, is on hold" in text
        assert "Open a deviation" in text

    def test_next_thing_to_log_is_one_press_away(self, signed_in, propeller):
        stage = factories.StageFactory(revision=propeller.blank.route)
        factories.CharacteristicFactory(stage=stage, name="Track")
        answer = signed_in.get(page("serial", "SN-031"))
        assert answer.context["step"].label == "Log track"

    def test_scrapped_serial_has_no_next_step(self, signed_in, shop):
        factories.PropellerFactory(serial="SN-099", state="scrapped")
        answer = signed_in.get(page("serial", "SN-099"))
        assert answer.context["step"] is None
        assert said(answer) == ("void", "scrapped")

    def test_corrected_reading_stays_to_be_seen(self, signed_in, propeller):
        wrong = factories.ReadingFactory(propeller=propeller, entered="103")
        factories.ReadingFactory(
            propeller=propeller, entered="10.3", corrects=wrong, reason="slipped point"
        )
        text = text_of(signed_in.get(page("serial", "SN-031")))
        assert "1 corrected or withdrawn since" in text
        assert "103" in text

    def test_unknown_serial_is_not_found(self, signed_in, shop):
        assert signed_in.get(page("serial", "1999-001")).status_code == 404

    def test_a_reader_sees_why_nothing_can_be_logged(self, client, propeller):
        reader = factories.PersonFactory(role="reader")
        client.force_login(reader, backend="django.contrib.auth.backends.ModelBackend")
        stage = factories.StageFactory(revision=propeller.blank.route)
        factories.CharacteristicFactory(stage=stage)
        text = text_of(client.get(page("serial", "SN-031")))
        assert "You are signed in as a reader" in text

    def test_queries_do_not_grow(self, signed_in, propeller):
        gauge = factories.GaugeFactory()

        def work():
            factories.ReadingFactory(propeller=propeller, gauge=gauge)
            factories.SignOffFactory(propeller=propeller)
            factories.MaterialUseFactory(propeller=propeller)
            subject = factories.DeviationSubjectFactory(propeller=propeller)
            factories.DispositionFactory(deviation=subject.deviation)
            factories.CouponFactory(mix=propeller.blank.spreads.first().mix)
            hand_over(propeller)

        work()
        few = queries_of(signed_in, page("serial", "SN-031"))
        for _ in range(ROWS):
            work()
        assert queries_of(signed_in, page("serial", "SN-031")) <= few


class TestWent:
    @pytest.fixture
    def things(self, propeller):
        mix = propeller.blank.spreads.first().mix
        gauge = factories.GaugeFactory()
        factories.ReadingFactory(propeller=propeller, gauge=gauge)
        lamination = propeller.blank.laminations.first()
        return {
            "lot": lamination.board.lot,
            "board": lamination.board,
            "lamination": lamination,
            "mix": mix,
            "load": propeller.blank.loaded.get().load,
            "blank": propeller.blank,
            "coupon": factories.CouponFactory(mix=mix),
            "gauge": gauge,
        }

    @pytest.mark.parametrize("kind", KINDS)
    def test_every_kind_leads_to_its_serial(self, signed_in, things, kind):
        text = text_of(signed_in.get(page(kind, things[kind].number)))
        assert "SN-031" in text

    def test_says_with_whom_and_through_what(self, signed_in, propeller, things):
        hand_over(propeller, "B. Flyer")
        mix = things["mix"]
        text = text_of(signed_in.get(page("lot", mix.resin_lot.number)))
        assert "B. Flyer" in text
        assert f"joints 1, 2 by mix {mix}" in text

    def test_coupon_speaks_through_its_mix(self, signed_in, things):
        text = text_of(signed_in.get(page("coupon", things["coupon"].number)))
        assert f"joints 1, 2 by mix {things['mix']}" in text

    def test_serials_are_exact_with_their_gaps(self, signed_in, things):
        for serial in ("S-001", "S-002", "S-003", "S-005"):
            factories.PropellerFactory(serial=serial, blank=things["blank"])
        answer = signed_in.get(page("blank", things["blank"].number))
        ranges = answer.context["ranges"]
        assert ranges == ["S-001 to S-003", "S-005", "SN-031"]

    def test_blank_without_a_serial_is_named(self, signed_in, things):
        other = factories.glued_blank(3, mix=things["mix"])
        text = text_of(signed_in.get(page("mix", things["mix"].number)))
        assert f"Blanks with no serial yet {other.number} glued" in text

    def test_export_is_csv_with_every_serial(self, signed_in, things):
        for number in range(30):
            factories.PropellerFactory(serial=f"S-{number}", blank=things["blank"])
        number = things["mix"].number
        answer = signed_in.get(page("mix", number), {"export": "csv"})
        lines = b"".join(answer.streaming_content).decode("utf-8-sig").splitlines()
        assert lines[0].startswith("Serial,Model,State,Owner,Since,Blank,Through")
        assert len(lines) == 32

    def test_list_can_be_sorted(self, signed_in, things):
        factories.PropellerFactory(serial="ZZ-001", blank=things["blank"])
        path = page("mix", things["mix"].number)
        answer = signed_in.get(path, {"sort": "-serial"})
        rows = [row.record["serial"] for row in answer.context["table"].rows]
        assert rows == ["ZZ-001", "SN-031"]

    def test_unknown_number_is_not_found(self, signed_in, shop):
        assert signed_in.get(page("lot", "L9999")).status_code == 404

    @pytest.mark.parametrize("kind", ["lot", "mix", "gauge"])
    def test_queries_do_not_grow(self, signed_in, things, kind):
        path = page(kind, things[kind].number)
        queries_of(signed_in, path)
        few = queries_of(signed_in, path)
        for _ in range(ROWS):
            blank = factories.glued_blank(3, mix=things["mix"])
            piece = blank.laminations.first()
            factories.LaminationFactory(
                board=things["board"], blank=blank, position=piece.position + 9
            )
            made = factories.PropellerFactory(blank=blank)
            factories.ReadingFactory(propeller=made, gauge=things["gauge"])
        assert queries_of(signed_in, path) == few


class TestQuestion:
    """Situation 18: serials by lot or day, where they are, and why not the others."""

    @pytest.fixture
    def other(self, propeller):
        return factories.PropellerFactory(
            serial="SN-032", blank=factories.glued_blank(3)
        )

    def asked(self, client, **given):
        return client.get(page("question"), given)

    def rows(self, answer):
        return {
            row.record["serial"]: row.record for row in answer.context["table"].rows
        }

    def test_names_the_serials_and_shows_why_the_others_are_not(
        self, signed_in, propeller, other
    ):
        mix = propeller.blank.spreads.first().mix
        answer = self.asked(signed_in, materials=mix.resin_lot.number)
        rows = self.rows(answer)
        named, out = rows["SN-031"], rows["SN-032"]
        assert (named["answer"], out["answer"]) == ("yes", "no")
        assert named["through"] == f"lot {mix.resin_lot}"
        assert mix.resin_lot.number not in out["made_of"]
        assert other.blank.spreads.first().mix.resin_lot.number in out["made_of"]
        assert ("Exactly", "SN-031") in answer.context["facts"]
        assert answer.context["asked"] == f"Serials made with lot {mix.resin_lot}"

    def test_days_are_spelled_in_the_rule(self, signed_in, propeller):
        answer = self.asked(
            signed_in, pressed_from="2026-03-01", pressed_until="2026-03-02"
        )
        assert answer.context["asked"] == (
            "Serials pressed from 1 Mar 2026 to 2 Mar 2026, both included"
        )
        assert self.rows(answer)["SN-031"]["answer"] == "yes"

    @pytest.mark.parametrize(
        ("given", "sentence"),
        [
            ({"materials": "L9999, X1"}, "Not in the book: L9999, X1."),
            ({"materials": " "}, "Name a material, or days of pressing."),
            ({"pressed_from": "tomorrow"}, "Enter the day as 2026-03-04."),
            (
                {"pressed_from": "2026-03-02", "pressed_until": "2026-03-01"},
                "This day is before the first.",
            ),
        ],
    )
    def test_bad_question_gets_a_sentence_and_keeps_what_was_typed(
        self, signed_in, shop, given, sentence
    ):
        answer = self.asked(signed_in, **given)
        assert sentence in text_of(answer)
        assert next(iter(given.values())).strip() in answer.content.decode()

    def test_export_holds_every_serial_in_the_book(self, signed_in, propeller, other):
        mix = propeller.blank.spreads.first().mix
        answer = self.asked(signed_in, materials=mix.number, export="csv")
        text = b"".join(answer.streaming_content).decode("utf-8-sig")
        lines = text.splitlines()
        assert len(lines) == 3
        assert lines[1].startswith("SN-031,yes,in work")
        assert lines[2].startswith("SN-032,no,in work")

    def test_queries_do_not_grow(self, signed_in, propeller):
        mix = propeller.blank.spreads.first().mix
        path = f"{page('question')}?materials={mix.number}"
        queries_of(signed_in, path)
        few = queries_of(signed_in, path)
        for _ in range(ROWS):
            factories.PropellerFactory(blank=factories.glued_blank(3, mix=mix))
            factories.PropellerFactory()
        assert queries_of(signed_in, path) == few


class TestUse:
    def given(self, **change):
        return {"place": "leading edge", "happened_at": "2026-03-02T12:00"} | change

    def test_lot_is_noted_and_seen_in_the_history(self, signed_in, propeller):
        lot = factories.LotFactory()
        path = page("use", "propeller", "SN-031")
        answer = signed_in.post(path, self.given(lot=lot.pk), follow=True)
        assert answer.redirect_chain[-1][0] == page("serial", "SN-031")
        assert MaterialUse.objects.get().lot == lot

    @pytest.mark.parametrize("both", [True, False])
    def test_lot_or_mix_and_one_of_them_only(self, signed_in, propeller, both):
        mix = propeller.blank.spreads.first().mix
        lot = factories.LotFactory()
        chosen = {"lot": lot.pk, "mix": mix.pk} if both else {}
        path = page("use", "propeller", "SN-031")
        answer = signed_in.post(path, self.given(**chosen))
        assert answer.status_code == 422
        assert "one of them" in text_of(answer)
        assert not MaterialUse.objects.exists()

    def test_only_blanks_and_propellers_take_material(self, signed_in, shop):
        board = factories.BoardFactory()
        path = page("use", "board", board.number)
        assert signed_in.get(path).status_code == 404
