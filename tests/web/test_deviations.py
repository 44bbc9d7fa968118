"""The deviation pages as somebody at a screen meets them."""

import datetime as dt
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from records.models import (
    Attachment,
    CorrectiveAction,
    Deviation,
    Disposition,
    EffectivenessCheck,
    Hold,
    HoldRelease,
    LedgerEntry,
    Propeller,
)
from records.queries.reach.holds import holds_on
from tests import factories
from tests.factories import NOON
from tests.rules.test_files import picture
from tests.web.seen import queries_of, text_of

pytestmark = pytest.mark.django_db
BACKEND = "django.contrib.auth.backends.ModelBackend"
ROWS = 20
AT = "2026-03-04T10:00"


def page(name, *args):
    return reverse(f"deviations:{name}", args=args)


def photo():
    return SimpleUploadedFile("sawn.jpg", picture("JPEG"), "image/jpeg")


@pytest.fixture
def propeller(shop):
    blank = factories.glued_blank(laminations=3)
    return factories.PropellerFactory(serial="SN-031", blank=blank)


@pytest.fixture
def deviation(propeller):
    """An open deviation about a propeller, with its hold."""
    deviation = factories.DeviationFactory(number="DX-41", title="Tip split")
    factories.DeviationSubjectFactory(deviation=deviation, propeller=propeller)
    factories.HoldFactory(deviation=deviation, propeller=propeller)
    return deviation


def decide(deviation, kind="rework", **fields):
    disposition = factories.DispositionFactory(deviation=deviation, kind=kind, **fields)
    for subject in deviation.subjects.all():
        factories.DisposedSubjectFactory(disposition=disposition, subject=subject)
    return disposition


class TestOpen:
    def given(self, **change):
        words = {
            "title": "Tip split",
            "things": "SN-031",
            "required": "whole",
            "found": "split over 30 mm",
            "happened_at": AT,
            "hold": "on",
        }
        return words | change

    def test_by_hand_about_several_things(self, signed_in, propeller):
        mix = propeller.blank.spreads.first().mix
        typed = f"SN-031, {mix.number.lower()}; blank {propeller.blank} joint 2"
        answer = signed_in.post(page("open"), self.given(things=typed), follow=True)
        made = Deviation.objects.get()
        assert answer.redirect_chain[-1][0] == page("deviation", "D0001")
        subjects = [(s.subject, s.joint) for s in made.subjects.order_by("pk")]
        assert subjects == [(propeller, None), (mix, None), (propeller.blank, 2)]
        assert made.holds.count() == 3

    def test_from_a_reading_it_is_filled_in_and_one_press_opens_it(
        self, signed_in, propeller
    ):
        reading = factories.ReadingFactory(
            propeller=propeller,
            characteristic__name="Track",
            characteristic__stage__revision=propeller.blank.route,
            verdict="outside",
            entered="2.1",
            unit="mm",
            judged=Decimal("2.1"),
            judged_unit="mm",
            high=Decimal("1.5"),
            limit_source="shop's practice, bench",
            gauge=factories.GaugeFactory(number="TP-3", name="Pointer"),
            standard_uncertainty=0.05,
            probability=0.0,
        )
        shown = signed_in.get(page("open"), {"reading": reading.pk})
        start = shown.context["form"].initial
        assert start["title"] == "Track outside"
        assert start["required"] == (
            "Track: at most 1.5\xa0mm (0.059\xa0in) (shop's practice, bench)."
        )
        assert start["found"] == (
            f"2.1\xa0mm (0.083\xa0in), read 2 Mar 2026, 12:00 by {reading.written_by}. "
            "Gauge TP-3 Pointer. Standard uncertainty 0.05\xa0mm. "
            "Probability of conformity 0\xa0%."
        )
        given = {
            **start,
            "stage": start["stage"].pk,
            "happened_at": "2026-03-02T12:00",
            "hold": "on",
        }
        path = f"{page('open')}?reading={reading.pk}"
        assert signed_in.post(path, given).status_code == 302
        made = Deviation.objects.get()
        assert made.subjects.get().reading == reading
        assert made.stage == reading.characteristic.stage
        assert holds_on("propeller", propeller.pk)

    def test_from_a_page_the_thing_is_named(self, signed_in, propeller):
        load = propeller.blank.loaded.get().load
        asked = {"kind": "load", "number": load.number}
        form = signed_in.get(page("open"), asked).context["form"]
        assert form.initial == {"things": f"load {load.number}"}

    def test_photo_is_kept_with_the_thing(self, signed_in, propeller):
        signed_in.post(page("open"), self.given(photo=photo()))
        assert Attachment.objects.get().propeller == propeller

    def test_without_a_hold(self, signed_in, propeller):
        given = self.given()
        del given["hold"]
        signed_in.post(page("open"), given)
        assert Deviation.objects.exists()
        assert not Hold.objects.exists()

    @pytest.mark.parametrize(
        ("typed", "sentence"),
        [
            ("2026-999", "2026-999 is not in the book. Check the number."),
            ("SN-031 SN-032", "Write numbers with commas between"),
            ("board SN-031", "board SN-031 is not in the book."),
            ("SN-031 joint 2", "A propeller has no joints."),
            ("SN-031, SN-031", "propeller SN-031 is named twice."),
            ("", "This is needed."),
        ],
    )
    def test_wrong_things_get_a_sentence_and_keep_all(
        self, signed_in, propeller, typed, sentence
    ):
        answer = signed_in.post(page("open"), self.given(things=typed))
        assert answer.status_code == 422
        assert sentence in text_of(answer)
        assert "split over 30 mm" in answer.content.decode()
        assert not Deviation.objects.exists()

    def test_same_number_of_two_kinds_asks_which(self, signed_in, propeller):
        factories.LotFactory(number="X7")
        factories.BoardFactory(number="X7")
        answer = signed_in.post(page("open"), self.given(things="x7"))
        assert "x7 may be lot X7 or board X7. Write which." in text_of(answer)
        signed_in.post(page("open"), self.given(things="board x7"))
        assert Deviation.objects.get().subjects.get().board.number == "X7"

    def test_twice_sent_is_one_deviation(self, signed_in, propeller):
        key = "6a0f4f4e-2f2c-4b2a-9f33-0d7d8f6f0a11"
        given = self.given(form_key=key)
        first = signed_in.post(page("open"), given)
        second = signed_in.post(page("open"), given)
        assert first.url == second.url == page("deviation", "D0001")
        assert Deviation.objects.count() == 1


class TestPage:
    def test_shows_what_is_required_found_touched_and_next(
        self, signed_in, deviation, propeller
    ):
        mix = propeller.blank.spreads.first().mix
        factories.DeviationSubjectFactory(deviation=deviation, mix=mix)
        answer = signed_in.get(page("deviation", "DX-41"))
        text = text_of(answer)
        for words in (
            "at most 1.5 mm",
            "2.1 mm",
            "Propeller SN-031",
            f"Made of, or with, mix {mix}: SN-031",
            "reaches 1 serial",
            "not decided",
        ):
            assert words in text
        assert answer.context["step"].label == "Decide"

    def test_next_step_follows_the_work(self, signed_in, deviation):
        def step():
            return signed_in.get(page("deviation", "DX-41")).context["step"]

        decide(deviation)
        assert step().label == "Release the hold"
        factories.HoldReleaseFactory(hold=deviation.holds.get())
        action = factories.CorrectiveActionFactory(deviation=deviation)
        assert step().label == "Note the action as done"
        CorrectiveAction.objects.filter(pk=action.pk).update(done_on=NOON.date())
        assert step().label == "Close it"
        factories.EffectivenessCheckFactory(action=action, effective=False)
        assert step().label == "Add another action"
        Deviation.objects.filter(pk=deviation.pk).update(state="closed", closed_at=NOON)
        assert step() is None

    def test_somebody_without_authority_sees_why(self, client, deviation):
        client.force_login(factories.PersonFactory(), backend=BACKEND)
        answer = client.get(page("deviation", "DX-41"))
        assert "no authority to dispose" in answer.context["step"].why_not

    def test_unknown_number_is_not_found(self, signed_in, shop):
        assert signed_in.get(page("deviation", "D9999")).status_code == 404

    def test_queries_do_not_grow(self, signed_in, deviation, propeller):
        path = page("deviation", "DX-41")
        decide(deviation)
        mix = propeller.blank.spreads.first().mix
        reading = factories.ReadingFactory(propeller=propeller)
        factories.DeviationSubjectFactory(deviation=deviation, mix=mix)
        factories.DeviationSubjectFactory(
            deviation=deviation, propeller=propeller, reading=reading
        )
        factories.CorrectiveActionFactory(deviation=deviation)
        queries_of(signed_in, path)
        few = queries_of(signed_in, path)
        for _ in range(ROWS):
            made = factories.PropellerFactory(blank=factories.glued_blank(3, mix=mix))
            reading = factories.ReadingFactory(propeller=made)
            factories.DeviationSubjectFactory(
                deviation=deviation, propeller=made, reading=reading
            )
            factories.HoldFactory(deviation=deviation, propeller=made)
            factories.CorrectiveActionFactory(deviation=deviation)
        assert queries_of(signed_in, path) == few


class TestList:
    def test_shows_how_far_each_is(self, signed_in, deviation):
        factories.DeviationSubjectFactory(
            deviation=factories.DeviationFactory(title="Late joint")
        )
        text = text_of(signed_in.get(page("deviations")))
        assert "on hold propeller SN-031" in text
        assert "Late joint to be decided" in text

    @pytest.mark.parametrize(
        ("asked", "result"),
        [
            ({"title": "split"}, ["DX-41"]),
            ({"held": "true"}, ["DX-41"]),
            ({"held": "false"}, ["DX-42"]),
            ({"state": "closed"}, ["DX-42"]),
            ({"kind": "rework"}, ["DX-42"]),
            ({"cause_kind": "room"}, ["DX-42"]),
            ({"cause_kind": "slip"}, []),
        ],
    )
    def test_can_be_filtered(self, signed_in, deviation, asked, result):
        other = factories.DeviationFactory(
            number="DX-42", title="Late", state="closed", cause_kind="room", cause="x"
        )
        decide(other)
        decide(other)
        answer = signed_in.get(page("deviations"), asked)
        assert [row.record.number for row in answer.context["table"].rows] == result

    def test_age_counts_until_it_was_closed(self, signed_in, shop):
        factories.DeviationFactory(
            state="closed", closed_at=NOON + dt.timedelta(days=12)
        )
        answer = signed_in.get(page("deviations"), {"export": "csv"})
        text = b"".join(answer.streaming_content).decode("utf-8-sig")
        head, line = text.splitlines()
        assert head == "Number,What,Stands,Touches,Decided,Stage,Found,Days open"
        assert line.endswith(",2 Mar 2026,12")

    def test_queries_do_not_grow(self, signed_in, deviation):
        path = page("deviations")
        queries_of(signed_in, path)
        few = queries_of(signed_in, path)
        for _ in range(ROWS):
            other = factories.DeviationFactory(stage=factories.StageFactory())
            factories.DeviationSubjectFactory(deviation=other)
            decide(other)
        assert queries_of(signed_in, path) == few


class TestDecide:
    def given(self, **change):
        return {"reason": "looked at by both", "happened_at": AT} | change

    def subjects(self, deviation):
        return [s.pk for s in deviation.subjects.all()]

    def test_choice_says_what_each_means(self, signed_in, deviation):
        text = text_of(signed_in.get(page("decide", "DX-41")))
        for words in ("Use as is", "Rework", "Repair", "Scrap", "Return to supplier"):
            assert words in text

    def test_use_as_is_starts_with_who_answers_for_the_design(
        self, signed_in, deviation
    ):
        path = page("decide_as", "DX-41", "use_as_is")
        form = signed_in.get(path).context["form"]
        assert form.initial["design_authority"] == "Test Airscrew Works, design office"
        assert list(form.fields)[:4] == [
            "subjects",
            "reason",
            "design_authority",
            "plain_words",
        ]
        given = self.given(
            subjects=self.subjects(deviation),
            design_authority="A. Draughtsman, 3 March",
            plain_words="The tip is 1 mm short.",
        )
        answer = signed_in.post(path, given)
        assert answer.url == page("deviation", "DX-41")
        made = Disposition.objects.get()
        assert made.plain_words == "The tip is 1 mm short."

    def test_missing_words_are_asked_for_at_their_fields(self, signed_in, deviation):
        path = page("decide_as", "DX-41", "repair")
        given = self.given(subjects=self.subjects(deviation), plain_words=" ")
        answer = signed_in.post(path, given)
        assert answer.status_code == 422
        assert set(answer.context["form"].errors) == {
            "design_authority",
            "plain_words",
        }
        assert "looked at by both" in answer.content.decode()

    def test_rework_offers_the_stages_of_its_route(
        self, signed_in, deviation, propeller
    ):
        stage = factories.StageFactory(revision=propeller.blank.route)
        factories.StageFactory()
        path = page("decide_as", "DX-41", "rework")
        form = signed_in.get(path).context["form"]
        assert list(form.fields["repeat"].queryset) == [stage]
        given = self.given(subjects=self.subjects(deviation), repeat=[stage.pk])
        assert signed_in.post(path, given).status_code == 302
        assert list(Disposition.objects.get().repeat.all()) == [stage]

    def test_scrap_takes_a_photo_and_retires_the_serial(
        self, signed_in, deviation, propeller
    ):
        path = page("decide_as", "DX-41", "scrap")
        given = self.given(subjects=self.subjects(deviation))
        answer = signed_in.post(path, given)
        assert "Scrap needs a photo" in text_of(answer)
        signed_in.post(path, given | {"photo": photo()})
        propeller.refresh_from_db()
        assert propeller.state == Propeller.State.SCRAPPED

    def test_about_nothing_is_refused(self, signed_in, deviation):
        path = page("decide_as", "DX-41", "return")
        answer = signed_in.post(path, self.given())
        assert "Choose what the decision is about." in text_of(answer)

    def test_without_authority_is_refused(self, client, deviation):
        client.force_login(factories.PersonFactory(), backend=BACKEND)
        path = page("decide_as", "DX-41", "return")
        assert "no authority to dispose" in text_of(client.get(path))
        given = self.given(subjects=self.subjects(deviation))
        answer = client.post(path, given)
        assert answer.status_code == 422
        assert not Disposition.objects.exists()

    def test_unknown_kind_is_not_found(self, signed_in, deviation):
        path = page("decide_as", "DX-41", "forget")
        assert signed_in.get(path).status_code == 404


class TestHolds:
    def test_list_names_each_with_its_deviation(self, signed_in, deviation):
        text = text_of(signed_in.get(page("holds")))
        assert "Propeller SN-031 under question" in text
        assert "Deviation DX-41" in text

    def test_put_on_from_a_page(self, signed_in, propeller):
        mix = propeller.blank.spreads.first().mix
        asked = f"{page('hold')}?kind=mix&number={mix.number}"
        form = signed_in.get(asked).context["form"]
        assert form.initial == {"thing": f"mix {mix}"}
        given = {"thing": f"mix {mix}", "reason": "smells odd", "happened_at": AT}
        signed_in.post(page("hold"), given)
        assert [h.reason for h in holds_on("propeller", propeller.pk)] == ["smells odd"]

    def test_one_thing_at_a_time(self, signed_in, propeller):
        mix = propeller.blank.spreads.first().mix
        given = {"thing": f"SN-031, {mix}", "reason": "odd", "happened_at": AT}
        answer = signed_in.post(page("hold"), given)
        assert "Hold one thing here." in text_of(answer)

    def test_release_before_the_decision_is_refused(self, signed_in, deviation):
        hold = deviation.holds.get()
        given = {"reason": "fine after all", "happened_at": AT}
        answer = signed_in.post(page("release", hold.pk), given)
        assert answer.status_code == 422
        assert "Nothing is decided about propeller SN-031" in text_of(answer)
        decide(deviation)
        answer = signed_in.post(page("release", hold.pk), given)
        assert answer.url == page("deviation", "DX-41")
        assert HoldRelease.objects.get().reason == "fine after all"


class TestWork:
    def test_cause_action_done_effect_and_close(self, signed_in, deviation, owner):
        cause = {"cause_kind": "handling", "cause": "It fell off the stand."}
        signed_in.post(page("cause", "DX-41"), cause)
        today = timezone.localdate()
        action = {
            "what": "Rubber on the stand.",
            "owner": owner.pk,
            "due_on": str(today),
            "look_on": str(today),
        }
        signed_in.post(page("act", "DX-41"), action)
        made = CorrectiveAction.objects.get()
        signed_in.post(page("done", made.pk), {"done_on": str(today)})
        effect = {"effective": "yes", "evidence": "None fell.", "happened_at": AT}
        signed_in.post(page("effect", made.pk), effect)
        assert EffectivenessCheck.objects.get().effective is True
        refused = signed_in.post(page("close", "DX-41"), {"form_key": ""})
        assert refused.status_code == 422
        assert "The hold on propeller SN-031 still stands" in text_of(refused)
        decide(deviation)
        factories.HoldReleaseFactory(hold=deviation.holds.get())
        answer = signed_in.post(page("close", "DX-41"), {"form_key": ""}, follow=True)
        assert "Deviation DX-41 is closed." in text_of(answer)
        deviation.refresh_from_db()
        assert (deviation.state, deviation.cause_kind) == ("closed", "handling")

    def test_more_things_are_added(self, signed_in, deviation):
        board = factories.BoardFactory()
        given = {"things": f"board {board}", "hold": "on"}
        signed_in.post(page("add", "DX-41"), given)
        assert deviation.subjects.filter(board=board).exists()

    def test_action_in_the_past_is_refused_at_its_field(
        self, signed_in, deviation, owner
    ):
        given = {
            "what": "x",
            "owner": owner.pk,
            "due_on": "2020-01-01",
            "look_on": "2020-02-01",
        }
        answer = signed_in.post(page("act", "DX-41"), given)
        assert "1 Jan 2020 has passed" in text_of(answer)
        assert not LedgerEntry.objects.exists()


def test_counts_show_the_most_frequent_first(signed_in, deviation):
    recent = timezone.now() - dt.timedelta(days=3)
    for _ in range(2):
        stage = factories.StageFactory(name="Final balance")
        factories.DeviationFactory(happened_at=recent, stage=stage)
    answer = signed_in.get(page("counts"))
    bars = dict(answer.context["counts"])["Stage"]
    assert bars[0].name == "Final balance"
    assert "Final balance 2" in text_of(answer)
    few = queries_of(signed_in, page("counts"))
    for _ in range(ROWS):
        factories.DeviationSubjectFactory(
            deviation=factories.DeviationFactory(happened_at=recent)
        )
    assert queries_of(signed_in, page("counts")) == few


def test_report_is_a_pdf(signed_in, deviation):
    answer = signed_in.get(page("report", "DX-41"))
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")
    assert 'filename="deviation-DX-41.pdf"' in answer["Content-Disposition"]
