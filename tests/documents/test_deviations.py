"""The deviation report: what ISO 9001:2015, 8.7.2 and AS9131 ask for is in it.

They ask what was wrong, what was required, what was done, concessions, and who decided
(rules-and-standards, section 5).
"""

import datetime as dt
import hashlib
import io
from decimal import Decimal

import pypdf
import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from records.documents.deviations import deviation_pdf, report_page
from records.models import PressSample, Shop
from records.queries.deviations.file import file_of
from records.queries.files import place_of
from tests import factories
from tests.factories import NOON
from tests.rules.test_files import picture

pytestmark = pytest.mark.django_db


@pytest.fixture
def deviation(shop):
    """A late joint with everything that a report can hold."""
    blank = factories.glued_blank(laminations=3)
    propeller = factories.PropellerFactory(serial="SN-031", blank=blank)
    reading = factories.ReadingFactory(
        propeller=propeller,
        characteristic__name="Track",
        entered="2.1",
        unit="mm",
        judged=Decimal("2.1"),
        judged_unit="mm",
        high=Decimal("1.5"),
        verdict="outside",
        gauge=factories.GaugeFactory(number="TP-3"),
    )
    deviation = factories.DeviationFactory(
        number="DX-7",
        title="Tips run apart",
        cause_kind="handling",
        cause="It leaned against a heater.",
    )
    subject = factories.DeviationSubjectFactory(
        deviation=deviation, propeller=propeller, reading=reading
    )
    factories.DeviationSubjectFactory(deviation=deviation, blank=blank, joint=2)
    hold = factories.HoldFactory(deviation=deviation, propeller=propeller)
    factories.HoldReleaseFactory(hold=hold, reason="measured again")
    disposition = factories.DispositionFactory(
        deviation=deviation,
        kind="use_as_is",
        reason="It is inside the limit for service.",
        design_authority="A. Draughtsman, letter of 3 March",
        plain_words="The tips run 2.1 mm apart.",
        one_person=True,
    )
    factories.DisposedSubjectFactory(disposition=disposition, subject=subject)
    action = factories.CorrectiveActionFactory(
        deviation=deviation, what="Keep blanks off the wall.", done_on=NOON.date()
    )
    factories.EffectivenessCheckFactory(action=action)
    return deviation


def words_of(pdf):
    text = " ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    return " ".join(text.split())


def test_report_holds_what_the_standards_ask_for(deviation):
    text = words_of(deviation_pdf(deviation, drawn_at=NOON))
    for words in (
        "Deviation report",
        "DX-7",
        "Tips run apart",
        "at most 1.5 mm",
        "2.1 mm",
        "outside",
        "TP-3",
        "SN-031",
        "joint 2 of blank",
        "measured again",
        "use as is",
        "A. Draughtsman, letter of 3 March",
        "The tips run 2.1 mm apart.",
        "found and decided by one person",
        "handling, storage or transport",
        "It leaned against a heater.",
        "Keep blanks off the wall.",
        "Twelve propellers tracked since",
        "Opened by",
    ):
        assert words in text, words


def test_report_is_archival_and_says_what_it_is(deviation):
    reader = pypdf.PdfReader(io.BytesIO(deviation_pdf(deviation, drawn_at=NOON)))
    assert reader.metadata.title == "Deviation report DX-7"
    assert b"pdfaid" in reader.trailer["/Root"]["/Metadata"].get_data()


def test_same_facts_and_moment_give_the_same_bytes(deviation):
    first = deviation_pdf(deviation, drawn_at=NOON)
    assert first == deviation_pdf(deviation, drawn_at=NOON)


def sections(deviation):
    context = report_page(file_of(deviation), Shop.objects.get(), NOON)
    return context, {s.title: s for s in [*context["before"], *context["after"]]}


def test_bare_deviation_says_what_is_not_there_yet(shop):
    deviation = factories.DeviationSubjectFactory().deviation
    _, result = sections(deviation)
    words = [cell.words for row in result["What it touched"].rows for cell in row]
    assert words == [["none"], ["none"], ["none"]]
    ((cell,),) = result["What was decided"].rows
    assert cell.words == ["not decided yet"]


def test_press_load_is_drawn_with_its_course(shop):
    load = factories.glued_blank(3).loaded.get().load
    for minute in range(3):
        PressSample.objects.create(
            load=load,
            at=load.on_at + dt.timedelta(minutes=minute),
            entered="80",
            unit="bar",
            glue_line_pa=1.2e6,
            source="typed",
            written_at=NOON,
            written_by=load.written_by,
        )
    deviation = factories.DeviationSubjectFactory(load=load).deviation
    context, _ = sections(deviation)
    ((title, svg),) = context["charts"]
    assert title == f"Press load {load}"
    assert "<polyline" in svg


def test_photo_is_printed_and_a_damaged_one_is_said(shop):
    data = picture("JPEG")
    digest = hashlib.sha256(data).hexdigest()
    default_storage.save(place_of(digest), ContentFile(data))
    board = factories.BoardFactory()
    file = factories.StoredFileFactory(
        sha256=digest, name="split.jpg", media_type="image/jpeg"
    )
    factories.AttachmentFactory(board=board, file=file)
    factories.AttachmentFactory(board=board)
    deviation = factories.DeviationSubjectFactory(board=board).deviation
    _, result = sections(deviation)
    (kept,), (lost,) = result["Photos"].rows
    assert kept.picture.startswith("data:image/jpeg;base64,")
    assert "is missing from the store" in lost.words[-1]
