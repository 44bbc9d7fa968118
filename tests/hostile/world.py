"""A shop with one of everything in it, real enough that every page opens."""

import io
from urllib.parse import urlencode

from django.test import override_settings
from django.urls import reverse
from PIL import Image

from records.models import (
    LedgerEntry,
    Notice,
    NoticeSerial,
    Reading,
    SignOff,
)
from records.services.files import attach_file
from records.web.shared.uploads import Upload
from tests import factories, finished
from tests.web.addresses import things

SERIAL = "F-FIRST"
# What a test's own settings are not yet in force for, when a class or module begins.
LIGHT = {
    "PASSWORD_HASHERS": ["django.contrib.auth.hashers.MD5PasswordHasher"],
    "STORAGES": {
        "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
        "staticfiles": {
            "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        },
    },
}


def world():
    """Make a shop, and say which parameter of an address means what in it."""
    with override_settings(**LIGHT):
        factories.ShopFactory()
        made = finished.make(serial=SERIAL)
        begun = factories.PropellerFactory(
            serial="F-SECOND", blank__route=made.propeller.blank.route
        )
        asked = factories.DeviationSubjectFactory(propeller=begun)
        factories.DeviationSubjectFactory(deviation=asked.deviation)
        return (
            things()
            | {"deviations.number": asked.deviation.number}
            | _after_delivery(made.propeller)
            | _of(made, begun)
        )


def _of(made, begun):
    """Say what the finished and the begun propeller add to the things."""
    reading = Reading.objects.filter(propeller=made.propeller).order_by("pk").last()
    signed = SignOff.objects.order_by("pk").last()
    stage = begun.blank.route.stages.order_by("order").last()
    return {
        "act": made.act,
        "finished": made.propeller,
        "begun": begun,
        "sequence": LedgerEntry.objects.order_by("sequence").last().sequence,
        "name": "none",
        "kind": "propeller",
        "number": begun.serial,
        "builds.number": factories.stacked_blank(
            route=begun.blank.route, state="planned"
        ).number,
        "builds:note.kind": "propeller",
        "builds:note.number": begun.serial,
        "conformity.serial": made.propeller.serial,
        "conformity.number": factories.ConformityRecordFactory(propeller=begun).number,
        "readings:reading.pk": reading.pk,
        "readings:withdraw.pk": reading.pk,
        "readings:correct.pk": reading.pk,
        "readings:grid.serial": begun.serial,
        "readings:grid.code": "finish-shape",
        "signoffs:sign.kind": "propeller",
        "signoffs:sign.number": begun.serial,
        "signoffs:sign.code": stage.code,
        "signoffs:signoff.pk": signed.pk,
        "trends.stage": reading.characteristic.stage.code,
        "trends.code": reading.characteristic.code,
    } | _traced(made.propeller)


def _traced(propeller):
    blank = propeller.blank
    piece = blank.laminations.order_by("position").first()
    mix = blank.spreads.order_by("joint").first().mix
    return {
        "trace:serial.number": propeller.serial,
        "trace:blank.number": blank.number,
        "trace:lamination.number": piece.number,
        "trace:board.number": piece.board.number,
        "trace:lot.number": piece.board.lot.number,
        "trace:mix.number": mix.number,
        "trace:coupon.number": mix.coupons.first().number,
        "trace:load.number": blank.loaded.get().load.number,
        "trace:gauge.number": factories.GaugeFactory().number,
    }


def more_paths(things):
    """List pages that show another form for what is asked in the query.

    A reading of each kind that the route asks for, on each kind of thing that it is
    read on, and what is computed from them.
    """
    begun = things["begun"]
    for stage in begun.blank.route.stages.prefetch_related("characteristics"):
        for characteristic in stage.characteristics.all():
            number = things.get(f"trace:{characteristic.on}.number", begun.serial)
            number = begun.serial if characteristic.on == "propeller" else number
            query = {
                "stage": stage.code,
                "characteristic": characteristic.code,
                "blade": "",
            }
            page = reverse("readings:log", args=[characteristic.on, number])
            yield f"{page}?{urlencode(query)}"


def _after_delivery(propeller):
    owner = factories.OwnerFactory()
    pen = {"written_by": propeller.written_by, "written_at": factories.NOON}
    notice = Notice.objects.create(
        number="N-1", title="Look", text="Look.", happened_at=factories.NOON, **pen
    )
    NoticeSerial.objects.create(notice=notice, propeller=propeller, **pen)
    return {"service.pk": owner.pk, "service.number": notice.number}


def keep_a_photo(act, thing):
    """Attach a photo that lies in the store, and give its attachment's key."""
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "tan").save(picture, "JPEG")
    return attach_file(
        act=act,
        subject=thing,
        photo=Upload("photo.jpg", picture.getvalue()),
        caption="The hub",
        happened_at=factories.NOON,
    ).pk
