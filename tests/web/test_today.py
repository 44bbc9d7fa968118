"""The first page as somebody at a screen meets it."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from tests import factories
from tests.factories import NOON
from tests.web.seen import queries_of, said, text_of

pytestmark = pytest.mark.django_db
ROWS = 20


@pytest.fixture
def path(shop):
    return reverse("today:today")


def groups(answer):
    return {group.title: group.tickets for group in answer.context["groups"]}


def test_new_shop_has_nothing_waiting_and_says_how_to_begin(signed_in, path):
    answer = signed_in.get(path)
    assert said(answer) == ("ok", "nothing waits")
    assert "Nothing waits. New work begins with a lot" in text_of(answer)


def test_open_glue_comes_first_with_its_clock(signed_in, path):
    factories.LotFactory(state="waiting")
    blank = factories.stacked_blank(3, state="gluing", number="KX-9")
    mix = factories.MixFactory(mixed_at=timezone.now(), working_life_min=60)
    factories.JointSpreadFactory(blank=blank, mix=mix)
    answer = signed_in.get(path)
    assert answer.context["first"].act == "Glue blank KX-9"
    assert reverse("gluing:glue_up", args=["KX-9"]) == answer.context["first"].url
    (ticket,) = groups(answer)["Glue is open"]
    assert ticket.until == mix.mixed_at + dt.timedelta(minutes=60)
    assert "1 of 2 joints closed" in text_of(answer)
    assert 'data-deadline="' in answer.content.decode()


def test_dip_in_the_press_is_seen_at_once(signed_in, path):
    blank = factories.stacked_blank(2)
    factories.JointSpreadFactory(blank=blank)
    load = factories.LoadedBlankFactory(blank=blank).load
    for minute, pressure in enumerate((1.2e6, 0.4e6, 1.2e6)):
        load.samples.create(
            at=load.on_at + dt.timedelta(minutes=minute),
            entered="80",
            unit="bar",
            glue_line_pa=pressure,
            temperature_c=20,
            source="typed",
            written_at=NOON,
            written_by=load.written_by,
        )
    answer = signed_in.get(path)
    (ticket,) = groups(answer)["Under pressure"]
    assert (ticket.verdict, ticket.word) == ("outside", "pressure was low")


def test_deviations_show_hold_and_what_comes_next(signed_in, path):
    deviation = factories.DeviationFactory(title="Tip split")
    propeller = factories.PropellerFactory(serial="SN-031", state="delivered")
    factories.DeviationSubjectFactory(deviation=deviation, propeller=propeller)
    factories.HoldFactory(deviation=deviation, propeller=propeller)
    answer = signed_in.get(path)
    (ticket,) = groups(answer)["Not as required"]
    assert (ticket.verdict, ticket.word) == ("hold", "to be decided")
    assert ticket.about.startswith("propeller SN-031; ")
    assert said(answer) == ("hold", "1 on hold")


def test_hold_that_no_deviation_explains_asks_for_one(signed_in, path):
    load = factories.PressLoadFactory(number="PX-7", off_at=NOON + dt.timedelta(days=1))
    factories.HoldFactory(load=load, reason="pressure fell")
    answer = signed_in.get(path)
    (ticket,) = groups(answer)["On hold, not looked into"]
    assert ticket.url == f"{reverse('deviations:open')}?kind=load&number=PX-7"
    assert answer.context["first"].act == "Open a deviation about press load PX-7"


def test_overdue_action_and_gauge_are_summed_up(signed_in, path):
    factories.CorrectiveActionFactory(what="Mark the bench")
    factories.CalibrationFactory(next_due_on=dt.date(2026, 2, 1))
    answer = signed_in.get(path)
    text = text_of(answer)
    assert "Mark the bench" in text
    assert "overdue since 1 Apr 2026" in text
    assert "overdue since 1 Feb 2026" in text
    assert said(answer) == ("outside", "2 overdue or outside")


def test_work_shows_its_next_stage(signed_in, path):
    propeller = factories.PropellerFactory(serial="SN-031")
    factories.StageFactory(revision=propeller.blank.route, name="Track")
    assert "Propeller SN-031" in text_of(signed_in.get(path))
    assert "next: Track" in text_of(signed_in.get(path))


def test_many_of_one_kind_lead_to_the_whole_list(signed_in, path):
    for _ in range(ROWS):
        factories.BoardFactory(state="waiting")
    answer = signed_in.get(path)
    assert len(groups(answer)["Boards to inspect"]) == 8
    assert reverse("boards:boards") in answer.content.decode()


def test_queries_do_not_grow(signed_in, path):
    def more():
        factories.LotFactory(state="waiting")
        factories.BoardFactory(state="waiting")
        coupon = factories.CouponFactory()
        factories.HoldFactory(mix=coupon.mix)
        factories.PropellerFactory(state="released")
        factories.PropellerFactory()
        factories.ResinLotFactory(expires_on=dt.date(2026, 1, 1))
        factories.GaugeFactory()
        factories.CorrectiveActionFactory()
        deviation = factories.DeviationFactory()
        factories.DeviationSubjectFactory(deviation=deviation)
        factories.HoldFactory(deviation=deviation, board=factories.BoardFactory())
        blank = factories.stacked_blank(2, state="gluing")
        factories.JointSpreadFactory(blank=blank)
        pressed = factories.stacked_blank(2)
        factories.JointSpreadFactory(blank=pressed)
        factories.LoadedBlankFactory(blank=pressed)

    more()
    queries_of(signed_in, path)
    few = queries_of(signed_in, path)
    for _ in range(ROWS):
        more()
    assert queries_of(signed_in, path) == few
