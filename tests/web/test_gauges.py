"""The gauges area as somebody at a screen meets it."""

import datetime as dt

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from records.models import Attachment, Calibration, Deviation, Gauge, LedgerEntry
from tests import factories
from tests.web.seen import queries_of, said, text_of

pytestmark = pytest.mark.django_db
BACKEND = "django.contrib.auth.backends.ModelBackend"
ROWS = 20
ONE = dt.timedelta(days=1)
REGISTERED = {
    "number": "G07",
    "name": "Pin moisture meter",
    "unit": "%",
    "range_low": "5",
    "range_high": "40",
    "resolution": "0,1",
    "interval_days": "180",
}
CALIBRATED = {
    "unit": "mm",
    "as_found_error": "-0.02",
    "as_left_error": "0",
    "permissible_error": "0.05",
    "expanded_uncertainty": "0.01",
    "coverage_factor": "2",
    "certificate": "K-2031",
    "standard": "Gauge blocks, traceable",
}


def page(name, *args):
    return reverse(f"gauges:{name}", args=args)


def today():
    return timezone.localdate()


@pytest.fixture
def gauge(shop):
    """A rule that reads mm."""
    return factories.GaugeFactory(number="G01", interval_days=360)


def calibrate(signed_in, **kwargs):
    given = {**CALIBRATED, "done_on": today().isoformat(), **kwargs}
    return signed_in.post(page("calibrate", "G01"), given)


def calibrated(gauge, done_ago=10, due_in=100, **kwargs):
    made = factories.CalibrationFactory(
        gauge=gauge,
        done_on=today() - done_ago * ONE,
        next_due_on=today() + due_in * ONE,
        **kwargs,
    )
    made.refresh_from_db()
    return made


class TestRegister:
    def test_leads_to_the_gauge_and_asks_for_its_calibration(self, signed_in, shop):
        answer = signed_in.post(page("add"), REGISTERED, follow=True)
        assert answer.redirect_chain[-1][0] == page("gauge", "G07")
        words = text_of(answer)
        assert "Write down its calibration next." in words
        assert "not fit to read with" in words
        assert "Gauge G07 has never been calibrated." in words
        assert "5 % to 40 %" in words

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("number", ""),
            ("unit", ""),
            ("unit", "furlong"),
            ("range_low", "low"),
            ("range_high", "4"),
            ("resolution", "0"),
            ("resolution", "-1"),
            ("interval_days", "0"),
            ("interval_days", "yearly"),
        ],
    )
    def test_a_slip_changes_nothing_and_keeps_all(self, signed_in, shop, field, typed):
        answer = signed_in.post(page("add"), {**REGISTERED, field: typed})
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert "Pin moisture meter" in answer.content.decode()
        assert not Gauge.objects.exists()

    def test_number_already_there_is_said(self, signed_in, gauge):
        answer = signed_in.post(page("add"), {**REGISTERED, "number": "G01"})
        assert "No number is used twice" in text_of(answer)


class TestCalibrate:
    def test_in_date_until_the_day_counted_from_the_interval(self, signed_in, gauge):
        calibrate(signed_in)
        calibration = Calibration.objects.get()
        assert calibration.next_due_on == today() + 360 * ONE
        answer = signed_in.get(page("gauge", "G01"))
        assert said(answer) == ("ok", "in date")

    def test_certificate_is_kept(self, signed_in, gauge):
        paper = SimpleUploadedFile("k.pdf", b"%PDF-1.7\n%%EOF\n")
        calibrate(signed_in, photo=paper)
        kept = Attachment.objects.get()
        assert kept.gauge == gauge
        answer = signed_in.get(reverse("files:file", args=[kept.pk]))
        assert answer["Content-Type"] == "application/pdf"
        assert answer["Content-Disposition"].startswith("attachment")

    def test_calibration_in_the_future_is_refused(self, signed_in, gauge):
        answer = calibrate(signed_in, done_on=(today() + ONE).isoformat())
        assert answer.status_code == 422
        assert "still to come" in answer.context["form"].errors["done_on"][0]

    def test_error_as_found_without_a_unit_is_refused(self, signed_in, gauge):
        answer = calibrate(signed_in, unit="")
        assert answer.status_code == 422
        assert answer.context["form"].errors["unit"] == [
            "State the unit of the error as found, such as mm."
        ]
        assert 'value="-0.02"' in answer.content.decode()
        assert not Calibration.objects.exists()

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("unit", "psi"),
            ("as_found_error", ""),
            ("as_found_error", "small"),
            ("as_left_error", "99999"),
            ("permissible_error", "-0.05"),
            ("expanded_uncertainty", "-1"),
            ("coverage_factor", "0"),
            ("next_due_on", "2001-01-01"),
            ("certificate", ""),
            ("photo", SimpleUploadedFile("k.doc", b"text")),
        ],
    )
    def test_a_slip_changes_nothing(self, signed_in, gauge, field, typed):
        answer = calibrate(signed_in, **{field: typed})
        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not LedgerEntry.objects.exists()

    def test_gauge_found_out_puts_its_readings_in_question(self, signed_in, gauge):
        calibrated(gauge, done_ago=100)
        factories.ReadingFactory(gauge=gauge, happened_at=timezone.now() - 50 * ONE)
        factories.ReadingFactory(gauge=gauge, happened_at=timezone.now() - 150 * ONE)
        answer = calibrate(signed_in, as_found_error="0.12")
        words = text_of(signed_in.get(answer.url))
        assert "It was found out of its limits." in words
        assert "found out by 0.12 mm; 0.05 mm is allowed" in words
        assert "are in question: 1." in words
        assert answer.url == page("gauge", "G01")
        assert signed_in.get(answer.url).context["step"].label == "See what it touched"
        assert "in date" in words

    def test_interval_is_suggested_by_how_it_was_found(self, signed_in, gauge):
        calibrate(signed_in)
        words = text_of(signed_in.get(page("gauge", "G01")))
        assert "450 days between calibrations are suggested, longer than 360" in words
        form = signed_in.get(page("interval", "G01")).context["form"]
        assert form["interval_days"].value() == 450
        signed_in.post(
            page("interval", "G01"), {"interval_days": "450", "reason": "found well"}
        )
        gauge.refresh_from_db()
        assert gauge.interval_days == 450
        words = text_of(signed_in.get(page("gauge", "G01")))
        assert "from 360 to 450 days: found well" in words


class TestImpact:
    """A gauge found out of tolerance: trade-notes, situation 5."""

    @pytest.fixture
    def found_out(self, gauge):
        calibrated(gauge, done_ago=100)
        for value in ("1.50", "1.04", "0.50"):
            factories.ReadingFactory(
                gauge=gauge,
                entered=value,
                judged=value,
                judged_unit="mm",
                low=0,
                high=2,
                verdict="inside",
                happened_at=timezone.now() - 50 * ONE,
                characteristic=factories.CharacteristicFactory(name=f"Gap {value}"),
            )
        return calibrated(
            gauge,
            done_ago=0,
            as_found_error="-0.95",
            permissible_error="0.05",
            expanded_uncertainty="0.02",
        )

    def test_shows_readings_in_doubt_with_their_propellers(self, signed_in, found_out):
        answer = signed_in.get(page("impact", found_out.pk))
        assert said(answer) == ("outside", "found out")
        counts = {label: count for label, _, count in answer.context["counts"]}
        # 1.50 and 1.04 mm of a gauge 0.95 mm low are 2.45 and 1.99 mm; the limit is
        # 2 mm and the uncertainty 0.02 mm. 0.50 mm is 1.45 mm: well inside.
        assert counts == {
            "Would fail": 1,
            "Marginal": 1,
            "Unaffected": 1,
            "Can't be told by arithmetic": 0,
        }
        words = text_of(answer)
        assert "Gap 1.50: 1.50 mm" in words
        assert "truly 2.45 mm" in words
        assert "Gap 0.50" not in words
        assert len(answer.context["serials"]) == 2

    def test_opens_one_deviation_and_only_one(self, signed_in, found_out):
        now = timezone.localtime().strftime("%Y-%m-%dT%H:%M")
        path = page("impact", found_out.pk)
        first = signed_in.post(path, {"happened_at": now})
        deviation = Deviation.objects.get()
        assert first.url == reverse("deviations:deviation", args=[deviation.number])
        words = text_of(signed_in.get(page("gauge", "G01")))
        assert f"Deviation {deviation.number} is about it." in words
        again = signed_in.post(path, {"happened_at": now})
        assert again.status_code == 422
        assert f"Deviation {deviation.number} about gauge G01 is open" in text_of(again)

    def test_gauge_found_inside_opens_none_and_says_why(self, signed_in, gauge):
        made = calibrated(gauge)
        answer = signed_in.get(page("impact", made.pk))
        assert "Nothing that it read is in doubt." in text_of(answer)


class TestService:
    def given(self, **kwargs):
        now = timezone.localtime().strftime("%Y-%m-%dT%H:%M")
        return {"reason": "dropped", "happened_at": now, **kwargs}

    def test_a_maker_may_withdraw_and_not_return(self, client, gauge):
        calibrated(gauge)
        client.force_login(factories.PersonFactory(), backend=BACKEND)
        client.post(page("withdraw", "G01"), self.given())
        answer = client.get(page("gauge", "G01"))
        assert said(answer) == ("void", "withdrawn")
        words = text_of(answer)
        assert "withdrawn: dropped" in words
        assert "Gauge G01 is withdrawn from service." in words
        answer = client.post(page("return", "G01"), self.given())
        assert answer.status_code == 422
        gauge.refresh_from_db()
        assert gauge.state == Gauge.State.WITHDRAWN

    def test_returns_with_a_calibration_that_holds(self, signed_in, gauge):
        signed_in.post(page("withdraw", "G01"), self.given())
        answer = signed_in.post(page("return", "G01"), self.given())
        assert "Calibrate it before it goes back into service." in text_of(answer)
        calibrate(signed_in)
        signed_in.post(page("return", "G01"), self.given(reason="checked"))
        gauge.refresh_from_db()
        assert gauge.state == Gauge.State.IN_SERVICE

    def test_withdrawal_without_a_reason_is_refused(self, signed_in, gauge):
        answer = signed_in.post(page("withdraw", "G01"), self.given(reason=" "))
        assert answer.status_code == 422
        assert answer.context["form"].errors["reason"]


class TestPage:
    def test_overdue_gauge_is_not_fit(self, signed_in, gauge):
        calibrated(gauge, done_ago=400, due_in=-1)
        answer = signed_in.get(page("gauge", "G01"))
        assert said(answer) == ("outside", "not fit to read with")
        assert "was due for calibration on" in text_of(answer)

    def test_gauge_due_within_a_month_says_so(self, signed_in, gauge):
        calibrated(gauge, due_in=12)
        answer = signed_in.get(page("gauge", "G01"))
        assert said(answer) == ("waiting", "due soon")

    def test_uncertainty_is_shown_with_two_digits(self, signed_in, gauge):
        """JCGM 100, 7.2.6: at most two significant digits are quoted."""
        calibrated(gauge)
        # U 0.02 at k 2 with a step of 0.01 mm: root of 0.01^2 + (0.01^2)/12.
        words = text_of(signed_in.get(page("gauge", "G01")))
        assert "Standard uncertainty it adds 0.01 mm" in words

    def test_held_gauge_says_so(self, signed_in, gauge):
        calibrated(gauge)
        factories.HoldFactory(gauge=gauge, reason="shows drift")
        answer = signed_in.get(page("gauge", "G01"))
        assert said(answer) == ("hold", "on hold")
        assert "shows drift" in text_of(answer)


class TestList:
    def test_status_is_in_words_and_can_be_asked_for(self, signed_in, shop):
        for number, due_in in (("G1", -1), ("G2", 5), ("G3", 99)):
            calibrated(
                factories.GaugeFactory(number=number), done_ago=400, due_in=due_in
            )
        factories.GaugeFactory(number="G4")
        factories.GaugeFactory(number="G5", state="withdrawn")
        for status, number in (
            ("overdue", "G1"),
            ("due soon", "G2"),
            ("in date", "G3"),
            ("never calibrated", "G4"),
            ("withdrawn", "G5"),
        ):
            answer = signed_in.get(page("gauges"), {"status": status})
            result = [row.record.number for row in answer.context["table"].rows]
            assert result == [number], status
            assert status in text_of(answer)

    def test_gauges_are_found_by_words(self, signed_in, gauge):
        factories.GaugeFactory(number="G77", name="Torque wrench")
        answer = signed_in.get(page("gauges"), {"text": "torque"})
        result = [row.record.number for row in answer.context["table"].rows]
        assert result == ["G77"]

    def test_csv_has_days_as_a_calendar_writes_them(self, signed_in, gauge):
        made = calibrated(gauge)
        factories.GaugeFactory(number="G99")
        answer = signed_in.get(f"{page('gauges')}?export=csv")
        lines = answer.getvalue().decode("utf-8-sig").splitlines()
        assert lines[0] == "Gauge,What it is,Reads,Status,Due on"
        result = {line.split(",")[0]: line for line in lines[1:]}
        assert made.next_due_on.isoformat() in result["G01"]
        assert result["G99"].endswith(",never calibrated,")


class TestQueries:
    """No page makes more queries for more rows."""

    def test_list(self, signed_in, gauge):
        calibrated(gauge)
        few = queries_of(signed_in, page("gauges"))
        for _ in range(ROWS):
            calibrated(factories.GaugeFactory())
        assert queries_of(signed_in, page("gauges")) == few

    def test_gauge(self, signed_in, gauge):
        def fill():
            calibrated(gauge, as_found_error="0.2")
            factories.ReadingFactory(gauge=gauge)
            factories.AttachmentFactory(gauge=gauge)
            factories.GaugeChangeFactory(gauge=gauge)

        fill()
        few = queries_of(signed_in, page("gauge", "G01"))
        for _ in range(ROWS):
            fill()
        assert queries_of(signed_in, page("gauge", "G01")) == few

    def test_impact(self, signed_in, gauge):
        made = calibrated(gauge, done_ago=0, as_found_error="0.95")

        def fill():
            factories.ReadingFactory(
                gauge=gauge,
                entered="1.0",
                judged="1.0",
                judged_unit="mm",
                low=0,
                high=1,
                happened_at=timezone.now() - ONE,
                propeller=factories.PropellerFactory(),
            )

        fill()
        few = queries_of(signed_in, page("impact", made.pk))
        for _ in range(ROWS):
            fill()
        assert queries_of(signed_in, page("impact", made.pk)) == few
