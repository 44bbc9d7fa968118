"""Situations in front of a screen (trade notes 2, 6, 13, 16)."""

import re
import uuid
from dataclasses import replace
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from records.management.demo.drawings import PUSHER
from records.management.demo.workshop import KEEPER, PASSWORD
from records.models import JointSpread, Reading
from records.services import designs
from records.services.tags import tag_for
from tests.journeys.told import DAY, MINUTE, SMALL
from tests.web.seen import text_of

BACKEND = "django.contrib.auth.backends.ModelBackend"


@pytest.fixture(scope="module")
def begins():
    """Open the book some weeks ago: a screen's clock is the real one."""
    return timezone.now() - 80 * DAY


@pytest.fixture(scope="module")
def blank(opened):
    return opened.glued()


def phone(told, who):
    """Sign somebody in on a phone."""
    client = Client()
    client.force_login(told.person(who), backend=BACKEND)
    return client


def sent(page, **answers):
    """Fill in a form as it was shown: its hidden fields come back with it."""
    html = page.content.decode()
    hidden = re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', html)
    return {**dict(hidden), **answers}


def log_page(propeller, stage, characteristic):
    path = reverse("readings:log", args=["propeller", propeller.serial])
    return f"{path}?stage={stage}&characteristic={characteristic}"


def spelled(moment):
    return f"{moment:%Y-%m-%dT%H:%M}"


def gluing_since(told, minutes):
    """Begin a glue-up so many minutes ago: its first joint is closed."""
    blank = told.stacked()
    told.clock.at_least(timezone.now() - minutes * MINUTE)
    mix = told.blanks.mix()
    told.close(blank, 1, mix)
    return mix, reverse("gluing:glue_up", args=[blank.number])


def test_situation_02_the_screen_warns_before_the_working_life_is_over(told):
    """116 minutes at 22.5 °C by the demo's sheet."""
    mix, page = gluing_since(told, 105)
    warned = text_of(phone(told, "bram").get(page))
    assert f"Mix {mix} is in use until" in warned
    assert "left. Mix another." in warned


def test_situation_02_one_press_closes_a_late_joint_and_flags_it(told):
    mix, page = gluing_since(told, 125)
    maker = phone(told, "bram")
    assert "its time was over at" in text_of(maker.get(page))
    glue_on = maker.get(f"{page}?on={timezone.now():%Y-%m-%dT%H:%M:%SZ}")
    answer = maker.post(page, sent(glue_on))
    assert answer.url == page
    late = JointSpread.objects.get(joint=2, mix=mix)
    assert late.verdict == "outside"
    assert "its working life at 22.5\xa0°C is 1\xa0h 56\xa0min." in late.flags
    assert "Glue on joint 3 now" in text_of(maker.get(page))


def test_situation_06_a_tag_scanned_six_years_later_at_another_address(blank, told):
    propeller = told.released(blank)
    told.certified(propeller)
    tag = tag_for(act=told.act(), thing=propeller)
    stranger = Client()
    public = text_of(stranger.get(f"/t/{tag.code}/{propeller.serial}"))
    assert f"{SMALL} {propeller.serial}" in public
    for private in ("Bram Oakes", "Maud Ferris", "Reedbank", "RB-ash"):
        assert private not in public

    # The shop moved, or began a new book: the plain serial in the tag still tells.
    moved = stranger.get(f"/T/AAAABBBBCCCCDDDD/{propeller.serial}")
    assert text_of(moved) == public

    # The torque card was revised since: what was supplied, and what is current.
    wood = told.workshop.woods["ash"]
    torque = {"torque_low_nm": Decimal(16), "torque_high_nm": Decimal(18)}
    drawing = replace(PUSHER, figures=PUSHER.figures | torque | {"number": "B"})
    designs.issue_revision(
        act=told.act(KEEPER),
        design=propeller.revision.design,
        stations=drawing.stations(),
        species=[wood],
        **drawing.figures,
    )
    revised = text_of(stranger.get(f"/t/{tag.code}/{propeller.serial}"))
    assert "Torque card, as supplied Bolts 8 mm, strength class 8.8, threads dry" in (
        revised
    )
    assert "Torque card, current (revision B)" in revised

    # A worn stamp shows only its end; those of the shop may search by it.
    worn = phone(told, "maud").get("/scan/", {"q": propeller.serial[-3:]})
    assert worn.url == reverse("trace:serial", args=[propeller.serial])


def test_situation_13_readings_kept_on_paper_are_typed_in_later(blank, told):
    propeller, maker = told.propellers.start(blank), phone(told, "bram")
    taken = timezone.now() - 3 * DAY
    page = log_page(propeller, "rough-shape", "pattern")
    answer = maker.post(
        page, sent(maker.get(page), entered="yes", happened_at=spelled(taken))
    )
    reading = Reading.objects.get(propeller=propeller)
    assert answer.url == reverse("readings:reading", args=[reading.pk])
    assert reading.happened_at == taken.replace(second=0, microsecond=0)
    assert reading.written_at - reading.happened_at > 2 * DAY
    assert re.search(
        r"Read at .*, written .*: a late entry", text_of(maker.get(answer.url))
    )

    # A day that is still to come is a slip of the pen.
    wrong = maker.post(
        page,
        sent(
            maker.get(page),
            entered="yes",
            happened_at=spelled(timezone.now() + DAY),
        ),
    )
    assert wrong.status_code == 422
    assert "is still to come" in text_of(wrong)


def test_situation_16_two_phones_write_about_the_same_blank(told):
    """Nothing is lost, nothing counts twice, and nobody signs what has changed."""
    propeller = told.carved(told.glued(), "rough-shape")
    bram, maud = phone(told, "bram"), phone(told, "maud")
    page = log_page(propeller, "hub", "bolt-hole")
    shown, also = bram.get(page), maud.get(page)
    gauge = told.workshop.gauges["G03"].pk
    now = spelled(timezone.now() - MINUTE)

    # Sent twice, as a phone does when the network comes back: written once.
    answers = sent(shown, entered="8.12", unit="mm", gauge=gauge, happened_at=now)
    first, again = bram.post(page, answers), bram.post(page, answers)
    assert (first.status_code, again.url) == (302, first.url)
    hub = Reading.objects.filter(propeller=propeller, characteristic__code="bolt-hole")
    assert hub.count() == 1

    # Another phone had the same page open: both readings stay, and both are shown.
    other = sent(also, entered="8.19", unit="mm", gauge=gauge, happened_at=now)
    assert maud.post(page, other).status_code == 302
    told.clock.at_least(timezone.now())
    told.bench.read_stage(propeller, "hub")
    sign = reverse("signoffs:sign", args=["propeller", propeller.serial, "hub"])
    open_page = bram.get(sign)
    assert "8.12 mm" in text_of(open_page)
    assert "8.19 mm" in text_of(open_page)

    # Maud corrects hers while Bram is about to sign: he is shown it again first.
    wrong = hub.get(entered="8.19")
    fix = reverse("readings:correct", args=[wrong.pk])
    corrected = sent(
        maud.get(fix),
        entered="8.11",
        unit="mm",
        gauge=gauge,
        happened_at=now,
        reason="Read the vernier wrongly",
    )
    assert maud.post(fix, corrected).status_code == 302
    signature = sent(
        open_page,
        meaning="I did this work, and it is as required.",
        check_kind="self",
        password=PASSWORD,
    )
    refused = bram.post(sign, signature)
    assert refused.status_code == 422
    assert "has changed since the page was opened. Look again." in text_of(refused)
    assert told.bench.state(propeller, "hub").signed is None


def test_what_is_sent_without_a_key_of_its_own_is_another_form(told):
    """The key is what makes a form count once; each page has a fresh one."""
    maker = phone(told, "bram")
    keys = {sent(maker.get("/lots/receive/"))["form_key"] for _ in range(2)}
    assert len(keys) == 2
    assert all(uuid.UUID(key) for key in keys)
