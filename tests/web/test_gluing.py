"""The glue-up as somebody at a bench meets it."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from records.models import Blank, JointSpread, Mix
from tests import factories
from tests.queries.deviations.test_decided import decide
from tests.web.seen import queries_of, text_of

pytestmark = pytest.mark.django_db
ROWS = 20


def page(name, *args):
    return reverse(f"gluing:{name}", args=args)


def ago(minutes):
    return timezone.now() - dt.timedelta(minutes=minutes)


def local(moment):
    return timezone.localtime(moment).strftime("%Y-%m-%dT%H:%M")


@pytest.fixture
def blank(shop):
    return factories.stacked_blank(4, state=Blank.State.GLUING)


@pytest.fixture
def weighed(shop):
    sheet = factories.GlueSheetFactory()
    resin = factories.ResinLotFactory(material=sheet.adhesive)
    hardener = factories.HardenerLotFactory(material=sheet.hardener)
    return {
        "sheet": sheet.pk,
        "resin_lot": resin.pk,
        "resin_g": "500",
        "hardener_lot": hardener.pk,
        "hardener_g": "100",
        "mixed_at": local(ago(1)),
        "temperature_c": "20",
    }


class TestMixing:
    def test_leads_to_the_mix_and_says_its_life(self, signed_in, weighed):
        answer = signed_in.post(page("mix_glue"), weighed, follow=True)
        assert answer.redirect_chain[-1][0] == page("mix", "M0001")
        words = text_of(answer)
        assert "Mix M0001, working life 4 h. Write M0001 on the pot." in words
        assert "as the sheet asks" in words
        assert "Make a coupon" in words

    def test_for_a_stack_it_leads_back_to_its_clock(self, signed_in, weighed, blank):
        path = f"{page('mix_glue')}?blank={blank.number}"
        words = text_of(signed_in.get(path))
        assert "for 3 joints of 0.2" in words
        answer = signed_in.post(path, weighed)
        assert answer.url == page("glue_up", blank.number)

    def test_a_second_mix_is_proposed_like_the_first(self, signed_in, blank):
        mix = factories.MixFactory(mixed_at=ago(30), temperature_c="22.5")
        path = f"{page('mix_glue')}?blank={blank.number}"
        form = signed_in.get(path).context["form"]
        assert form.initial["resin_lot"] == mix.resin_lot
        assert "22.5" in str(form["temperature_c"])

    def test_what_is_off_is_said_and_taken(self, signed_in, weighed):
        weighed |= {"hardener_g": "130"}
        answer = signed_in.post(page("mix_glue"), weighed, follow=True)
        assert "the sheet asks for 18 to 22" in text_of(answer)
        assert answer.context["verdict"].word == "flagged"

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("resin_g", "-500"),
            ("resin_g", "half a kilo"),
            ("hardener_g", ""),
            ("temperature_c", "68"),
            ("mixed_at", "2199-01-01T10:00"),
            ("sheet", "99999"),
            ("humidity_pct", "103"),
        ],
    )
    def test_a_slip_changes_nothing_and_keeps_what_was_typed(
        self, signed_in, weighed, field, typed
    ):
        weighed |= {field: typed, "stirred_min": "4.5"}
        answer = signed_in.post(page("mix_glue"), weighed)
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert 'value="4.5"' in answer.content.decode()
        assert not Mix.objects.exists()

    def test_only_accepted_containers_are_offered(self, signed_in, weighed):
        refused = factories.ResinLotFactory(state="refused")
        html = signed_in.get(page("mix_glue")).content.decode()
        assert refused.number not in html
        answer = signed_in.post(page("mix_glue"), weighed | {"resin_lot": refused.pk})
        assert answer.status_code == 422

    def test_a_held_mix_says_so_first(self, signed_in, shop):
        mix = factories.MixFactory()
        factories.HoldFactory(mix=mix, reason="gelled early")
        answer = signed_in.get(page("mix", mix.number))
        assert answer.context["verdict"].word == "on hold"
        assert "gelled early" in text_of(answer)

    def test_an_accepted_flag_is_no_open_question(self, signed_in, shop):
        mix = factories.MixFactory(flags="26 parts to 100 of resin.")
        decide(mix=mix)
        answer = signed_in.get(page("mix", mix.number))
        assert answer.context["verdict"].word == "accepted by a decision"


class TestClock:
    def test_without_glue_the_next_thing_is_to_mix(self, signed_in, blank):
        answer = signed_in.get(page("glue_up", blank.number))
        assert answer.context["step"].label == "Mix glue"
        assert "no glue is on yet" in text_of(answer)

    def test_glue_on_and_closed_are_two_presses(self, signed_in, blank):
        factories.MixFactory(mixed_at=ago(3))
        here = page("glue_up", blank.number)
        step = signed_in.get(here).context["step"]
        assert step.label == "Glue on joint 1 now"
        opened = signed_in.get(step.url, follow=True)
        path = opened.redirect_chain[-1][0]
        words = text_of(opened)
        assert "Joint 1 is closed" in words
        assert "close it by" in words
        form = opened.context["form"]
        hidden = {field.html_name: field.value() for field in form.hidden_fields()}
        answer = signed_in.post(path, hidden, follow=True)
        assert "Joint 1 is closed with mix" in text_of(answer)
        joint = JointSpread.objects.get()
        assert joint.closed_at > joint.spread_at
        assert joint.verdict == "inside"
        assert answer.context["step"].label == "Glue on joint 2 now"

    def test_looking_never_writes(self, signed_in, blank):
        factories.MixFactory(mixed_at=ago(3))
        here = page("glue_up", blank.number)
        signed_in.get(f"{here}?on=now", follow=True)
        assert not JointSpread.objects.exists()

    @pytest.mark.parametrize(
        "typed", ["yesterday", "2199-01-01T10:00:00Z", "2026-03-02T10:00:00", "25:61"]
    )
    def test_a_time_in_the_address_that_can_not_be_is_passed_over(
        self, signed_in, blank, typed
    ):
        factories.MixFactory(mixed_at=ago(3))
        answer = signed_in.get(page("glue_up", blank.number), {"on": typed})
        assert answer.context["opened"] is None

    def test_a_limit_is_announced_before_it_passes(self, signed_in, blank):
        factories.MixFactory(mixed_at=ago(200))
        words = text_of(signed_in.get(page("glue_up", blank.number)))
        assert "soon over" in words
        assert "40 min left. Mix another." in words

    def test_past_a_limit_the_page_says_go_on(self, signed_in, blank):
        mix = factories.MixFactory(mixed_at=ago(250))
        answer = signed_in.get(page("glue_up", blank.number))
        assert "Go on: it is flagged, and decided later." in text_of(answer)
        assert answer.context["step"].label == "Glue on joint 1 now"
        given = {
            "joint": "1",
            "mix": mix.pk,
            "side": "both",
            "spread_at": local(ago(4)),
            "closed_at": local(ago(2)),
        }
        done = signed_in.post(page("close_joint", blank.number), given, follow=True)
        assert "its working life at 20 °C is 4 h" in text_of(done)
        assert JointSpread.objects.get().verdict == "outside"

    def test_every_deadline_is_text_and_runs_with_the_shops_script(
        self, signed_in, blank
    ):
        factories.MixFactory(mixed_at=ago(3))
        html = signed_in.get(page("glue_up", blank.number)).content.decode()
        assert html.count("data-deadline=") == 1

    def test_when_all_is_closed_the_press_is_next(self, signed_in, blank):
        mix = factories.MixFactory(mixed_at=ago(20))
        for joint in (1, 2, 3):
            factories.JointSpreadFactory(
                blank=blank, joint=joint, mix=mix, spread_at=ago(9), closed_at=ago(6)
            )
        answer = signed_in.get(page("glue_up", blank.number))
        assert answer.context["step"].label == "Close the press"
        assert f"blank={blank.number}" in answer.context["step"].url
        assert "pressure on by" in text_of(answer)

    def test_sent_twice_is_one_joint(self, signed_in, blank):
        factories.MixFactory(mixed_at=ago(3))
        here = page("glue_up", blank.number)
        opened = signed_in.get(f"{here}?on=now", follow=True)
        fields = opened.context["form"].hidden_fields()
        hidden = {field.html_name: field.value() for field in fields}
        for _ in range(2):
            signed_in.post(here, hidden)
        assert JointSpread.objects.count() == 1

    def test_a_refusal_keeps_the_button_and_says_why(self, signed_in, blank):
        mix = factories.MixFactory(mixed_at=ago(3))
        factories.JointSpreadFactory(
            blank=blank, joint=1, mix=mix, spread_at=ago(2), closed_at=ago(1)
        )
        hidden = {"this_joint": 1, "with_mix": mix.pk, "since": ago(2).isoformat()}
        answer = signed_in.post(page("glue_up", blank.number), hidden)
        assert answer.status_code == 422
        assert "is in the book" in text_of(answer)


class TestJoints:
    def given(self, used, **kwargs):
        facts = {
            "joint": "2",
            "mix": used.pk,
            "side": "lower",
            "spread_at": local(ago(8)),
            "closed_at": local(ago(4)),
            "spread_g": "72,5",
        }
        return facts | kwargs

    def test_a_joint_with_its_own_times(self, signed_in, blank):
        mix = factories.MixFactory(mixed_at=ago(10))
        signed_in.post(page("close_joint", blank.number), self.given(mix))
        joint = JointSpread.objects.get()
        assert (joint.joint, joint.side, str(joint.spread_g)) == (2, "lower", "72.5")

    def test_the_next_joint_is_proposed(self, signed_in, blank):
        mix = factories.MixFactory(mixed_at=ago(10))
        form = signed_in.get(page("close_joint", blank.number)).context["form"]
        assert form.initial == {"joint": 1, "mix": mix, "spread_at": mix.mixed_at}

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("joint", "9"),
            ("joint", "two"),
            ("mix", "99999"),
            ("closed_at", "2199-01-01T10:00"),
            ("spread_at", "2020-01-01T10:00"),
            ("spread_g", "-4"),
        ],
    )
    def test_a_slip_is_said_at_its_field(self, signed_in, blank, field, typed):
        mix = factories.MixFactory(mixed_at=ago(10))
        answer = signed_in.post(
            page("close_joint", blank.number), self.given(mix, **{field: typed})
        )
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not JointSpread.objects.exists()

    def test_a_correction_keeps_the_old_line_readable(self, signed_in, blank):
        mix = factories.MixFactory(mixed_at=ago(30))
        old = factories.JointSpreadFactory(
            blank=blank, joint=1, mix=mix, spread_at=ago(28), closed_at=ago(5)
        )
        given = self.given(
            mix,
            joint="1",
            spread_at=local(ago(28)),
            closed_at=local(ago(20)),
            reason="Clock misread",
        )
        answer = signed_in.post(page("correct_joint", old.pk), given, follow=True)
        words = text_of(answer)
        assert "1 corrected line" in words
        assert "Clock misread" in words

    def test_a_correction_needs_its_reason(self, signed_in, blank):
        old = factories.JointSpreadFactory(blank=blank)
        given = self.given(old.mix, joint="1")
        answer = signed_in.post(page("correct_joint", old.pk), given)
        assert answer.context["form"].errors["reason"]


class TestList:
    def test_mixes_are_found_by_number_lot_and_glue(self, signed_in, shop):
        first, second = factories.MixFactory.create_batch(2)
        for asked in (
            f"text={first.number}",
            f"text={first.resin_lot.number}",
            f"glue={first.sheet.adhesive_id}",
        ):
            answer = signed_in.get(f"{page('mixes')}?{asked}")
            rows = [row.record.number for row in answer.context["table"].rows]
            assert rows == [first.number], asked
        assert second.number in text_of(signed_in.get(page("mixes")))

    def test_the_list_exports(self, signed_in, shop):
        factories.MixFactory(flags="Too warm.")
        lines = signed_in.get(f"{page('mixes')}?export=csv").getvalue().decode()
        assert "Parts to 100" in lines
        assert ",yes" in lines

    def test_no_page_takes_more_queries_for_more_rows(self, signed_in, blank):
        mix = factories.MixFactory(mixed_at=ago(10))
        paths = [
            page("mixes"),
            page("mix", mix.number),
            page("glue_up", blank.number),
        ]
        factories.JointSpreadFactory(blank=blank, joint=1, mix=mix)
        factories.CouponFactory(mix=mix)
        few = [queries_of(signed_in, path) for path in paths]
        for _ in range(ROWS):
            other = factories.MixFactory(mixed_at=ago(9))
            factories.JointSpreadFactory(blank=blank, joint=2, mix=other)
            factories.JointSpreadFactory(mix=mix)
            factories.CouponFactory(mix=mix)
        assert [queries_of(signed_in, path) for path in paths] == few
