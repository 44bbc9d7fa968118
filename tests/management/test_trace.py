"""`manage.py trace`: its JSON is a contract, sorted and whole."""

import json

import pytest
from django.core.management import CommandError, call_command

from records.models import Lamination, Ownership
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db

SERIAL_KEYS = [
    "blank",
    "boards",
    "coupons",
    "deviations",
    "gauges",
    "glue_lots",
    "holds",
    "joints",
    "laminations",
    "later_materials",
    "mixes",
    "press_loads",
    "readings",
    "serial",
    "signoffs",
    "state",
    "timber_lots",
    "void_laminations",
]


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(
        serial="SN-031", blank=factories.glued_blank(laminations=3)
    )


def traced(capsys, *arguments):
    call_command("trace", *arguments)
    return capsys.readouterr().out


def traced_json(capsys, *arguments):
    return json.loads(traced(capsys, *arguments, "--json"))


def test_serial_gives_everything_under_sorted_keys(propeller, capsys):
    mix = propeller.blank.spreads.first().mix
    gauge = factories.GaugeFactory()
    station = propeller.revision.stations.first()
    reading = factories.ReadingFactory(
        propeller=propeller, gauge=gauge, blade=1, station=station, high="1.5"
    )
    signoff = factories.SignOffFactory(propeller=propeller)
    board = propeller.blank.laminations.first().board
    factories.LaminationFactory(
        number="VOID-1", board=board, state=Lamination.State.VOID, void_reason="check"
    )
    use = factories.MaterialUseFactory(propeller=propeller)
    factories.HoldFactory(mix=mix, reason="late")
    result = traced_json(capsys, "serial", "SN-031")
    assert list(result) == SERIAL_KEYS
    assert (result["serial"], result["state"]) == ("SN-031", "in_work")
    assert result["boards"] == sorted(
        piece.board.number for piece in propeller.blank.laminations.all()
    )
    assert [lot["number"] for lot in result["glue_lots"]] == [
        mix.resin_lot.number,
        mix.hardener_lot.number,
    ]
    assert [joint["mix"] for joint in result["joints"]] == [mix.number] * 2
    assert result["gauges"] == [{"name": gauge.name, "number": gauge.number}]
    (line,) = result["readings"]
    assert line["entered"] == reading.entered
    assert (line["high"], line["station_mm"]) == ("1.5000", "258.000")
    assert (line["on"], line["on_number"]) == ("propeller", "SN-031")
    assert result["signoffs"][0]["stage"] == signoff.stage.code
    assert result["void_laminations"] == [{"number": "VOID-1", "reason": "check"}]
    assert result["later_materials"][0]["lot"] == use.lot.number
    assert result["holds"][0]["on_number"] == mix.number
    load = propeller.blank.loaded.get().load
    assert result["press_loads"][0]["number"] == load.number


def test_serial_is_printed_the_same_twice(propeller, capsys):
    first = traced(capsys, "serial", "SN-031", "--json")
    assert first == traced(capsys, "serial", "SN-031", "--json")
    keys = [line.split('"')[1] for line in first.splitlines() if line[:3] == '  "']
    assert keys == sorted(keys)


def test_lot_gives_serials_with_state_owner_and_chain(propeller, capsys):
    person = propeller.written_by
    Ownership.objects.create(
        propeller=propeller,
        owner=factories.OwnerFactory(name="A. Owner"),
        happened_at=NOON,
        written_at=NOON,
        written_by=person,
    )
    factories.PropellerFactory(blank=factories.glued_blank(3))
    lot = propeller.blank.laminations.first().board.lot
    result = traced_json(capsys, "lot", lot.number)
    assert result["ranges"] == ["SN-031"]
    (line,) = result["serials"]
    assert (line["state"], line["owner"]) == ("in_work", "A. Owner")
    assert line["handed_over_at"] == "2026-03-02T12:00:00+00:00"
    assert len(line["through"]) == 3
    assert result["blanks"] == [{"number": propeller.blank.number, "state": "glued"}]


@pytest.mark.parametrize("kind", ["board", "mix", "load", "gauge", "blank", "coupon"])
def test_every_kind_leads_to_its_serials(propeller, capsys, kind):
    mix = propeller.blank.spreads.first().mix
    gauge = factories.GaugeFactory()
    factories.ReadingFactory(propeller=propeller, gauge=gauge)
    thing = {
        "board": propeller.blank.laminations.first().board,
        "mix": mix,
        "load": propeller.blank.loaded.get().load,
        "gauge": gauge,
        "blank": propeller.blank,
        "coupon": factories.CouponFactory(mix=mix),
    }[kind]
    result = traced_json(capsys, kind, thing.number)
    assert [line["serial"] for line in result["serials"]] == ["SN-031"]


def test_text_is_for_reading(propeller, capsys):
    text = traced(capsys, "serial", "SN-031")
    assert text.startswith("Propeller SN-031\n")
    assert f"blank: {propeller.blank.number}\n" in text
    assert "readings: none" in text


def test_unknown_number_says_so(shop):
    with pytest.raises(CommandError, match="There is no lot L9999 in the book"):
        call_command("trace", "lot", "L9999")
