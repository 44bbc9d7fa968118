"""A file of readings is imported whole, or every bad line is named and none kept."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import LedgerEntry, Reading
from records.services.readings.imports import import_readings
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db
HEAD = "kind,number,stage,characteristic,entered,unit,happened_at,gauge,blade,station"


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(serial="2026-001")


@pytest.fixture
def characteristic(propeller):
    stage = factories.StageFactory(revision=propeller.blank.route, code="shape")
    angle = factories.CharacteristicFactory(
        stage=stage,
        code="angle",
        name="Angle",
        unit="deg",
        per="station",
        nominal="angle",
    )
    tip = factories.CharacteristicFactory(stage=stage, code="tip", per="blade")
    track = factories.CharacteristicFactory(
        stage=stage, code="track", computed="range_of_blades", compares="tip"
    )
    factories.LimitFactory(characteristic=track, high="1.5")
    return angle, tip, track


@pytest.fixture
def run(act, characteristic):
    def call(*lines, head=HEAD):
        return import_readings(act=act, text="\n".join([head, *lines]))

    return call


def problems(refused):
    return [f.sentence for f in refused.value.findings]


GOOD = "propeller,2026-001,shape,angle,36.51,deg,2026-03-02 12:00,,1,258"


def test_good_lines_are_judged_and_kept_in_one_entry(run):
    rows = run(GOOD, GOOD.replace("36.51", "37.02").replace(",1,258", ",2,258"))
    assert [r.verdict for r in rows] == ["inside", "outside"]  # 36.51 deg +- 0.5
    assert LedgerEntry.objects.get().subject == "2 lines"


def test_differences_are_computed_as_when_logged_by_hand(run, characteristic):
    run(
        "propeller,2026-001,shape,tip,0.0,mm,2026-03-02 12:00,,1,",
        "propeller,2026-001,shape,tip,1.2,mm,2026-03-02 12:01,,2,",
    )
    assert Reading.objects.get(characteristic=characteristic[2]).entered == "1.2"


def test_semicolons_and_decimal_commas_are_read(run):
    [row] = run(
        "propeller;2026-001;shape;angle;36,51;deg;2026-03-02T12:00;;1;258",
        head=HEAD.replace(",", ";"),
    )
    assert row.entered == "36,51"


def test_every_bad_line_is_named_by_its_number_and_none_is_kept(run):
    with pytest.raises(Refusal) as refused:
        run(
            GOOD,
            GOOD.replace("36.51", "steep"),
            GOOD.replace("deg", "psi"),
            GOOD.replace("2026-001", "2026-999"),
            GOOD.replace("angle", "colour"),
            GOOD.replace("2026-03-02 12:00", "yesterday"),
            GOOD.replace(",1,258", ",7,258"),
            GOOD.replace(",1,258", ",x,258"),
            GOOD.replace(",1,258", ",1,259"),
            GOOD.replace(",,1,", ",G99,1,"),
            GOOD.replace("2026-03-02", "2126-03-02"),
            "propeller,2026-001",
        )
    findings = problems(refused)
    numbers = [s.partition(":")[0] for s in findings]
    assert numbers == [f"Line {n}" for n in range(3, 14)]
    assert "is not a number" in findings[0]
    assert "psi is a unit of pressure" in findings[1]
    assert "there is no propeller 2026-999" in findings[2]
    assert "no reading colour at stage shape" in findings[3]
    assert "no date and time" in findings[4]
    assert "there is no 7" in findings[5]
    assert "'x' is no number of a blade" in findings[6]
    assert "no station at 259" in findings[7]
    assert "there is no gauge G99" in findings[8]
    assert "still to come" in findings[9]
    assert not Reading.objects.exists()
    assert not LedgerEntry.objects.exists()


@pytest.mark.parametrize(
    ("head", "line", "sentence"),
    [
        ("kind,number", "a,b", "Column stage is missing."),
        (HEAD + ",colour", GOOD, "Column 'colour' is not known."),
        (HEAD, "", "The file has no line besides its first."),
        ("", "", "Column kind is missing."),
    ],
)
def test_a_file_without_its_columns_is_refused(run, head, line, sentence):
    with pytest.raises(Refusal) as refused:
        run(line, head=head)
    assert sentence in problems(refused)


def test_queries_do_not_grow_with_the_lines(run):
    def count(lines):
        with CaptureQueriesContext(connection) as context:
            run(*[GOOD] * lines)
        return len(context)

    run(GOOD)
    assert count(2) == count(20)
