"""Blanks and propellers as somebody at a bench meets them."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from records.models import (
    Blank,
    Designation,
    MaterialChange,
    Propeller,
    Stage,
    StageEvent,
)
from records.queries.builds.register import stack_of
from tests import factories
from tests.factories import NOON
from tests.models.test_coupons import broken
from tests.queries.deviations.test_decided import decide
from tests.web.seen import queries_of, said, text_of

pytestmark = pytest.mark.django_db
ROWS = 20
Evidence = Stage.Evidence


def page(name, *args):
    return reverse(f"builds:{name}", args=args)


def local(moment):
    return timezone.localtime(moment).strftime("%Y-%m-%dT%H:%M")


def step(client, thing):
    name = "propeller" if isinstance(thing, Propeller) else "blank"
    answer = client.get(page(name, str(thing)))
    result = answer.context["step"]
    return result.label if result else None


@pytest.fixture
def blank(shop):
    return factories.stacked_blank(4)


@pytest.fixture
def free(blank):
    lot = stack_of(blank)[0].board.lot
    return factories.LaminationFactory(board__lot=lot, mass_g=3000)


class TestPlanning:
    def test_leads_to_the_blank_with_its_number(self, signed_in, shop):
        revision = factories.RevisionFactory()
        route = factories.RouteRevisionFactory()
        form = signed_in.get(page("plan")).context["form"]
        assert form["route"].initial == route.pk
        given = {"revision": revision.pk, "route": route.pk}
        answer = signed_in.post(page("plan"), given, follow=True)
        assert answer.redirect_chain[-1][0] == page("blank", "K0001")
        assert "Blank K0001 is planned." in text_of(answer)
        assert answer.context["step"].label == "Lay the stack"

    def test_only_the_newest_route_and_designs_in_use_are_offered(
        self, signed_in, shop
    ):
        old = factories.RouteRevisionFactory()
        factories.RouteRevisionFactory(route=old.route, number=2)
        gone = factories.RevisionFactory(design__in_use=False)
        given = {"revision": gone.pk, "route": old.pk}
        answer = signed_in.post(page("plan"), given)
        assert set(answer.context["form"].errors) == {"revision", "route"}
        assert not Blank.objects.exists()


class TestStack:
    def order(self, *laminations, turned=()):
        facts = {f"place_{n}": x.pk for n, x in enumerate(laminations, 1)}
        return facts | {f"turned_{n}": "on" for n in turned}

    def test_it_shows_what_lies_there_and_is_laid_anew(self, signed_in, blank):
        a, b, c, d = stack_of(blank)
        form = signed_in.get(page("stack", blank.number)).context["form"]
        assert form["place_1"].initial == str(a.pk)
        given = self.order(d, a, b, c, turned=(2,))
        answer = signed_in.post(page("stack", blank.number), given, follow=True)
        assert [x.number for x in stack_of(blank)] == [x.number for x in (d, a, b, c)]
        assert "turned end for end" in text_of(answer)

    def test_a_place_left_empty_under_another_is_said_there(self, signed_in, blank):
        a, _, c, _ = stack_of(blank)
        given = {"place_1": a.pk, "place_3": c.pk}
        answer = signed_in.post(page("stack", blank.number), given)
        assert "under place 3" in answer.context["form"].errors["place_2"][0]
        assert len(stack_of(blank)) == 4

    def test_one_lamination_in_two_places_is_refused(self, signed_in, blank):
        a, b, *_ = stack_of(blank)
        answer = signed_in.post(page("stack", blank.number), self.order(a, b, a))
        assert answer.status_code == 422
        assert f"{a.number} is in the list 2 times" in text_of(answer)

    def test_only_free_laminations_of_the_right_wood_are_offered(
        self, signed_in, blank, free
    ):
        other = factories.LaminationFactory()
        elsewhere = stack_of(factories.stacked_blank(2))[0]
        html = signed_in.get(page("stack", blank.number)).content.decode()
        assert free.number in html
        assert other.number not in html
        assert f"{elsewhere.number}," not in html

    def test_once_glue_is_on_the_button_says_why_not(self, signed_in, blank):
        Blank.objects.filter(pk=blank.pk).update(state=Blank.State.GLUING)
        words = text_of(signed_in.get(page("stack", blank.number)))
        assert "its order is fixed" in words

    def test_one_place_is_changed(self, signed_in, blank, free):
        given = {"lamination": free.pk, "turned": "on"}
        before = text_of(signed_in.get(page("place", blank.number, 2)))
        assert f"Here lies {stack_of(blank)[1].number}." in before
        signed_in.post(page("place", blank.number, 2), given)
        assert stack_of(blank)[1] == free
        assert stack_of(blank)[1].turned

    def test_a_place_beside_a_closed_joint_says_why_not(self, signed_in, blank, free):
        Blank.objects.filter(pk=blank.pk).update(state=Blank.State.GLUING)
        factories.JointSpreadFactory(blank=blank, joint=2)
        path = page("place", blank.number, 2)
        assert "Joint 2 beside place 2 is closed" in text_of(signed_in.get(path))
        answer = signed_in.post(path, {"lamination": free.pk})
        assert answer.status_code == 422

    def test_a_lamination_is_taken_out(self, signed_in, blank):
        piece = stack_of(blank)[3]
        path = page("take_out", piece.number)
        answer = signed_in.post(path, {"sent": "1"}, follow=True)
        assert f"{piece.number} is free again." in text_of(answer)
        assert signed_in.get(path).status_code == 404

    def test_a_void_number_keeps_its_gap_on_the_page(self, signed_in, blank):
        gap = factories.LaminationFactory(
            blank=blank, position=2, state="void", void_reason="cracked end"
        )
        words = text_of(signed_in.get(page("blank", blank.number)))
        assert f"{gap.number} is void here: cracked end" in words

    def test_a_better_order_is_shown_and_laid(self, signed_in, shop):
        blank = factories.BlankFactory(revision__laminations=2)
        lot = factories.LotFactory()
        factories.AllowedSpeciesFactory(revision=blank.revision, material=lot.material)
        for place in (1, 2):
            factories.LaminationFactory(
                board__lot=lot,
                blank=blank,
                position=place,
                mass_g=800 + 20 * place,
                balance_point_mm=4,
            )
        words = text_of(signed_in.get(page("blank", blank.number)))
        assert "See a better order" in words
        assert "Predicted along the blades 6640 g·mm" in words
        path = page("proposal", blank.number)
        assert "6640 g·mm (9.22 oz·in) now" in text_of(signed_in.get(path))
        signed_in.post(path, {"sent": "1"})
        assert sum(x.turned for x in stack_of(blank)) == 1
        words = text_of(signed_in.get(page("blank", blank.number)))
        assert "See a better order" not in words

    def test_unweighed_laminations_are_named(self, signed_in, blank):
        words = text_of(signed_in.get(page("proposal", blank.number)))
        assert "Weigh" in words


class TestBeginning:
    def test_it_leads_to_the_clock(self, signed_in, blank):
        answer = signed_in.post(page("begin", blank.number), {"sent": "1"})
        assert answer.url == reverse("gluing:glue_up", args=[blank.number])

    def test_what_is_missing_is_said(self, signed_in, shop):
        blank = factories.BlankFactory()
        answer = signed_in.post(page("begin", blank.number), {"sent": "1"})
        assert answer.status_code == 422
        assert "0 of 6 laminations are laid" in text_of(answer)


class TestBlankPage:
    def stage(self, blank, **kwargs):
        return factories.StageFactory(revision=blank.route, scope="blank", **kwargs)

    def test_the_next_thing_follows_the_work(self, signed_in, blank):
        self.stage(blank, name="Glue-up", evidence=Evidence.JOINTS)
        assert step(signed_in, blank) == "Begin the glue-up"
        Blank.objects.update(state=Blank.State.GLUING)
        assert step(signed_in, blank) == "Go on gluing"
        load = factories.LoadedBlankFactory(blank=blank).load
        Blank.objects.update(state=Blank.State.PRESSED)
        assert step(signed_in, blank) == f"See press load {load}"
        Blank.objects.update(state=Blank.State.GLUED)
        assert step(signed_in, blank) == "Sign Glue-up"

    def test_a_coupon_is_made_and_tested_before_its_stage_is_signed(
        self, signed_in, shop
    ):
        mix = factories.MixFactory()
        blank = factories.glued_blank(3, mix=mix)
        self.stage(blank, name="Coupon", evidence=Evidence.COUPON)
        assert step(signed_in, blank) == f"Make a coupon of mix {mix}"
        coupon = factories.CouponFactory(mix=mix)
        assert step(signed_in, blank) == f"Test coupon {coupon}"
        broken(coupon, "passed")
        assert step(signed_in, blank) == "Sign Coupon"

    def test_when_nothing_is_left_a_propeller_is_started(self, signed_in, shop):
        blank = factories.glued_blank(3)
        assert step(signed_in, blank) == "Start a propeller"
        Blank.objects.update(state=Blank.State.SCRAPPED)
        assert step(signed_in, blank) is None

    def test_readings_that_are_missing_come_before_the_signature(self, signed_in, shop):
        blank = factories.glued_blank(3)
        stage = self.stage(blank, code="rest", name="Rest")
        factories.CharacteristicFactory(
            stage=stage, on="blank", name="Straightness", code="straight", unit="mm"
        )
        answer = signed_in.get(page("blank", blank.number))
        assert answer.context["step"].label == "Log straightness"
        assert "stage=rest" in answer.context["step"].url
        assert "Straightness" in text_of(answer)

    def test_a_flagged_joint_asks_for_a_decision_and_gets_it(self, signed_in, shop):
        blank = factories.glued_blank(3)
        factories.JointSpreadFactory(
            blank=blank, joint=2, side="upper", verdict="outside", flags="Open 13 min."
        )
        self.stage(blank)
        answer = signed_in.get(page("blank", blank.number))
        assert said(answer) == ("outside", "flagged")
        assert "Open 13 min." in text_of(answer)
        decide(blank=blank, joint=2)
        answer = signed_in.get(page("blank", blank.number))
        assert answer.context["verdict"].shape == "ok"

    def test_a_flagged_load_counts_and_another_loads_decision_does_not(
        self, signed_in, shop
    ):
        blank = factories.glued_blank(3)
        self.stage(blank)
        row = factories.LoadedBlankFactory(
            blank=blank, verdict="outside", flags="Waited 80 min."
        )
        decide(load=factories.PressLoadFactory())
        answer = signed_in.get(page("blank", blank.number))
        assert f"Press load {row.load}: Waited 80 min." in text_of(answer)
        decide(load=row.load)
        answer = signed_in.get(page("blank", blank.number))
        assert answer.context["verdict"].shape == "ok"

    def test_a_held_blank_says_so_first(self, signed_in, blank):
        board = stack_of(blank)[0].board
        factories.HoldFactory(board=board, reason="worm holes")
        answer = signed_in.get(page("blank", blank.number))
        assert answer.context["verdict"].word == "on hold"
        assert "worm holes" in text_of(answer)

    def test_a_pair_that_differs_in_mass_is_named(self, signed_in, shop):
        blank = factories.BlankFactory(revision__laminations=2)
        for place, mass in ((1, 3000), (2, 4000)):
            factories.LaminationFactory(blank=blank, position=place, mass_g=mass)
        words = text_of(signed_in.get(page("blank", blank.number)))
        assert "are a pair and differ by more than 3 %" in words


class TestPropellers:
    def test_a_propeller_is_started_under_its_serial(self, signed_in, shop):
        blank = factories.glued_blank(4)
        given = {"revision": blank.revision.pk, "serial": "TA 7"}
        answer = signed_in.post(page("start", blank.number), given, follow=True)
        assert answer.redirect_chain[-1][0] == page("propeller", "TA 7")
        again = text_of(signed_in.get(page("start", blank.number)))
        assert "From this blank already: TA 7" in again

    @pytest.mark.parametrize("serial", ["ta-1", "a/b"])
    def test_a_serial_that_can_not_be_given_is_said_at_its_field(
        self, signed_in, shop, serial
    ):
        factories.PropellerFactory(serial="TA-1", state="scrapped")
        blank = factories.glued_blank(4)
        given = {"revision": blank.revision.pk, "serial": serial}
        answer = signed_in.post(page("start", blank.number), given)
        assert answer.context["form"].errors["serial"]
        assert Propeller.objects.count() == 1

    def test_a_wet_blank_says_why_not(self, signed_in, blank):
        words = text_of(signed_in.get(page("start", blank.number)))
        assert "out of the press" in words

    def test_it_is_finished_as_another_design(self, signed_in, shop):
        propeller = factories.PropellerFactory(blank=factories.glued_blank(4))
        other = factories.RevisionFactory(laminations=4)
        for material in propeller.revision.species.all():
            factories.AllowedSpeciesFactory(revision=other, material=material)
        given = {
            "revision": other.pk,
            "reason": "Came out thin",
            "happened_at": local(timezone.now()),
        }
        path = page("designate", propeller.serial)
        words = text_of(signed_in.post(path, given, follow=True))
        assert "Came out thin" in words
        assert other.design.model in words
        wrong = factories.RevisionFactory(laminations=6)
        answer = signed_in.post(path, given | {"revision": wrong.pk})
        assert answer.context["form"].errors["revision"]
        assert Designation.objects.count() == 1

    def test_rework_is_noted_and_the_page_says_what_went_stale(self, signed_in, shop):
        propeller = factories.PropellerFactory()
        stage = factories.StageFactory(
            revision=propeller.blank.route, name="First balance", goes_stale=True
        )
        factories.ReadingFactory(
            propeller=propeller,
            characteristic=factories.CharacteristicFactory(stage=stage),
        )
        given = {
            "what": "removed",
            "place": "blade 2, back",
            "reason": "Heavy",
            "happened_at": local(NOON + dt.timedelta(hours=1)),
        }
        path = page("material", propeller.serial)
        answer = signed_in.post(path, given, follow=True)
        assert said(answer) == ("stale", "readings went stale")
        assert "material removed: blade 2, back" in text_of(answer)

    @pytest.mark.parametrize(
        ("field", "typed"),
        [("what", "sanded"), ("place", ""), ("happened_at", "2199-01-01T10:00")],
    )
    def test_a_slip_changes_nothing(self, signed_in, shop, field, typed):
        propeller = factories.PropellerFactory()
        given = {
            "what": "removed",
            "place": "tip",
            "reason": "Heavy",
            "happened_at": local(NOON),
        }
        path = page("material", propeller.serial)
        answer = signed_in.post(path, given | {field: typed})
        assert answer.context["form"].errors[field]
        assert not MaterialChange.objects.exists()

    @pytest.mark.parametrize(
        ("state", "shape", "label"),
        [
            ("in_work", "ok", "Release it"),
            ("returned", "ok", "Release it"),
            ("released", "ok", "Issue its conformity record"),
            ("delivered", "ok", None),
            ("retired", "void", None),
            ("scrapped", "void", None),
        ],
    )
    def test_the_page_says_whether_it_is_all_right_and_what_is_next(
        self, signed_in, shop, state, shape, label
    ):
        propeller = factories.PropellerFactory(state=state)
        answer = signed_in.get(page("propeller", propeller.serial))
        assert answer.context["verdict"].shape == shape
        assert step(signed_in, propeller) == label

    def test_with_its_record_it_is_handed_over(self, signed_in, shop):
        propeller = factories.PropellerFactory(state="released")
        factories.ConformityRecordFactory(propeller=propeller)
        assert step(signed_in, propeller) == "Hand it over"

    def test_a_held_mix_reaches_the_page(self, signed_in, shop):
        mix = factories.MixFactory()
        blank = factories.glued_blank(3, mix=mix)
        propeller = factories.PropellerFactory(blank=blank)
        factories.HoldFactory(mix=mix, reason="coupon failed")
        answer = signed_in.get(page("propeller", propeller.serial))
        assert answer.context["verdict"].word == "on hold"
        assert "coupon failed" in text_of(answer)
        assert answer.context["step"].label == "Open a deviation"

    @pytest.mark.parametrize(
        ("state", "label"), [("open", "Decide on D9"), ("closed", "Release the hold")]
    )
    def test_a_hold_leads_to_the_decision_that_ends_it(
        self, signed_in, shop, state, label
    ):
        propeller = factories.PropellerFactory()
        deviation = factories.DeviationFactory(number="D9", state=state)
        factories.HoldFactory(propeller=propeller, deviation=deviation)
        assert step(signed_in, propeller) == label

    def test_stages_of_its_blank_that_nobody_signed_are_named(self, signed_in, shop):
        propeller = factories.PropellerFactory(blank=factories.glued_blank(3))
        factories.StageFactory(
            revision=propeller.blank.route, scope="blank", name="Press"
        )
        words = text_of(signed_in.get(page("propeller", propeller.serial)))
        assert "1 stage of blank, boards and lots not signed" in words


class TestNotes:
    def test_a_rest_is_noted_and_shown(self, signed_in, shop):
        propeller = factories.PropellerFactory()
        stage = factories.StageFactory(
            revision=propeller.blank.route, code="rest", name="Rest"
        )
        path = page("note", "propeller", propeller.serial)
        form = signed_in.get(f"{path}?stage=rest").context["form"]
        assert form.initial["stage"] == stage
        given = {
            "stage": stage.pk,
            "kind": "began",
            "happened_at": local(NOON),
            "note": "hung up",
        }
        words = text_of(signed_in.post(path, given, follow=True))
        assert "Rest began 2 Mar 2026, 12:00: hung up" in words

    def test_an_end_without_a_beginning_is_refused(self, signed_in, blank):
        stage = factories.StageFactory(revision=blank.route, scope="blank")
        given = {"stage": stage.pk, "kind": "ended", "happened_at": local(NOON)}
        answer = signed_in.post(page("note", "blank", blank.number), given)
        assert "Note the beginning first" in text_of(answer)
        assert not StageEvent.objects.exists()

    def test_a_stage_of_another_route_is_not_offered(self, signed_in, blank):
        other = factories.StageFactory(scope="blank")
        given = {"stage": other.pk, "kind": "note", "happened_at": local(NOON)}
        answer = signed_in.post(page("note", "blank", blank.number), given)
        assert answer.context["form"].errors["stage"]

    @pytest.mark.parametrize(("kind", "number"), [("lot", "L1"), ("blank", "K9999")])
    def test_only_blanks_and_propellers_have_notes(self, signed_in, shop, kind, number):
        assert signed_in.get(page("note", kind, number)).status_code == 404


class TestLists:
    def test_blanks_are_found_by_number_serial_design_and_state(self, signed_in, shop):
        blank = factories.glued_blank(3)
        propeller = factories.PropellerFactory(blank=blank)
        factories.BlankFactory()
        for asked in (
            f"text={blank.number}",
            f"text={propeller.serial}",
            f"design={blank.revision.design_id}",
            "state=glued",
        ):
            answer = signed_in.get(f"{page('blanks')}?{asked}")
            rows = [row.record.number for row in answer.context["table"].rows]
            assert rows == [blank.number], asked

    def test_propellers_are_found_by_part_of_a_worn_stamp(self, signed_in, shop):
        worn = factories.PropellerFactory(serial="SM-2020-117")
        factories.PropellerFactory(serial="SM-2026-001")
        answer = signed_in.get(f"{page('propellers')}?text=0-11")
        rows = [row.record.serial for row in answer.context["table"].rows]
        assert rows == [worn.serial]

    def test_lists_export(self, signed_in, shop):
        factories.PropellerFactory(blank=factories.glued_blank(3))
        blanks = signed_in.get(f"{page('blanks')}?export=csv").getvalue().decode()
        assert ",glued,3,1," in blanks
        serials = signed_in.get(f"{page('propellers')}?export=csv")
        assert ",in work," in serials.getvalue().decode()

    def test_no_page_takes_more_queries_for_more_rows(self, signed_in, shop):
        blank = factories.glued_blank(4)
        propeller = factories.PropellerFactory(blank=blank)
        stages = [
            factories.StageFactory(revision=blank.route, scope=scope)
            for scope in ("blank", "propeller")
        ]
        paths = [
            page("blanks"),
            page("propellers"),
            page("blank", blank.number),
            page("propeller", propeller.serial),
            page("stack", blank.number),
        ]
        self.grow(blank, propeller, stages, 2)
        few = [queries_of(signed_in, path) for path in paths]
        self.grow(blank, propeller, stages, ROWS)
        assert [queries_of(signed_in, path) for path in paths] == few

    def grow(self, blank, propeller, stages, rows):
        lot = stack_of(blank)[0].board.lot
        on_propeller = factories.CharacteristicFactory(stage=stages[1])
        on_blank = factories.CharacteristicFactory(stage=stages[0], on="blank")
        for _ in range(rows):
            factories.PropellerFactory(blank=blank)
            factories.LaminationFactory(board__lot=lot)
            mix = factories.MixFactory()
            factories.JointSpreadFactory(blank=blank, joint=2, mix=mix)
            factories.CouponFactory(mix=mix)
            factories.LoadedBlankFactory(blank=blank)
            factories.StageEventFactory(stage=stages[1], propeller=propeller)
            factories.ReadingFactory(characteristic=on_propeller, propeller=propeller)
            factories.ReadingFactory(
                characteristic=on_blank, blank=blank, propeller=None
            )
            factories.AttachmentFactory(propeller=propeller)
