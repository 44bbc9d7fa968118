"""Rows for tests: each factory makes what it needs, in a small invented shop."""

import datetime as dt
import hashlib
from decimal import Decimal

import factory
from factory import LazyAttribute, SelfAttribute, Sequence, SubFactory
from factory.django import DjangoModelFactory

from records import models as m

NOON = dt.datetime(2026, 3, 2, 12, 0, tzinfo=dt.UTC)
DAY = NOON.date()
PASSWORD = "a long bench password"


class ShopFactory(DjangoModelFactory):
    class Meta:
        model = m.Shop
        django_get_or_create = ("id",)

    id = 1
    name = "Test Airscrew Works"
    address = "1 Mill Lane"
    contact = "shop@example.org"
    place = "Millbrook"
    base_url = "http://localhost:8000"


class PersonFactory(DjangoModelFactory):
    class Meta:
        model = m.Person
        skip_postgeneration_save = True

    login = Sequence("person{}".format)
    name = Sequence("Person {}".format)
    role = m.Person.Role.MAKER

    @factory.post_generation
    def password(self, create, extracted, **kwargs):
        self.set_password(extracted or PASSWORD)
        self.save()


class RowFactory(DjangoModelFactory):
    class Meta:
        abstract = True

    written_at = NOON
    written_by = factory.LazyFunction(
        lambda: m.Person.objects.order_by("pk").first() or PersonFactory()
    )


class AuthorityFactory(RowFactory):
    class Meta:
        model = m.Authority

    person = SubFactory(PersonFactory)
    act = m.Authority.Act.SIGN
    from_on = dt.date(2020, 1, 1)


def owner(**kwargs):
    """Make an owner with every authority."""
    person = PersonFactory(role=m.Person.Role.OWNER, **kwargs)
    given = [
        AuthorityFactory.build(
            person=person, act=deed, written_by=person, written_at=NOON
        )
        for deed in m.Authority.Act.values
    ]
    m.Authority.objects.bulk_create(given)
    return person


class SupplierFactory(RowFactory):
    class Meta:
        model = m.Supplier

    name = Sequence("Supplier {}".format)


class TimberFactory(RowFactory):
    class Meta:
        model = m.Material

    kind = m.Material.Kind.TIMBER
    name = Sequence("Yellow birch {}".format)
    family = "Birch, yellow"
    hardwood = True


class AdhesiveFactory(TimberFactory):
    kind = m.Material.Kind.ADHESIVE
    name = Sequence("Resorcinol resin {}".format)
    family = "resorcinol"
    hardwood = None


class HardenerFactory(AdhesiveFactory):
    kind = m.Material.Kind.HARDENER
    name = Sequence("Powder hardener {}".format)


GLUE_TIMES = {
    "working_life": [(15, 360), (20, 240), (25, 150), (30, 90)],
    "open_most": [(15, 15), (20, 10), (25, 6), (30, 2)],
    "closed_least": [(15, 5), (30, 5)],
    "closed_most": [(15, 75), (20, 60), (25, 45), (30, 30)],
    "press_time": [(15, 1440), (20, 960), (25, 720), (30, 480)],
}


class GlueSheetFactory(RowFactory):
    class Meta:
        model = m.GlueSheet
        skip_postgeneration_save = True

    adhesive = SubFactory(AdhesiveFactory)
    hardener = SubFactory(HardenerFactory)
    revision = 1
    source = "Invented maker's sheet"
    parts_low = 18
    parts_high = 22
    spread_low_gm2 = 240
    spread_high_gm2 = 350
    pressure_low_pa = 1_000_000
    pressure_high_pa = 1_400_000
    shelf_life_days = 365

    @factory.post_generation
    def points(self, create, extracted, **kwargs):
        table = GLUE_TIMES if extracted is None else extracted
        for quantity, points in table.items():
            for celsius, minutes in points:
                GlueSheetPointFactory(
                    sheet=self,
                    quantity=quantity,
                    temperature_c=celsius,
                    minutes=minutes,
                )


class GlueSheetPointFactory(RowFactory):
    class Meta:
        model = m.GlueSheetPoint


class LotFactory(RowFactory):
    """A timber lot, accepted."""

    class Meta:
        model = m.Lot

    number = Sequence("L9{:04}".format)
    material = SubFactory(TimberFactory)
    supplier = SubFactory(SupplierFactory)
    supplier_lot = Sequence("S-{}".format)
    received_on = dt.date(2026, 1, 5)
    state = m.Lot.State.ACCEPTED


class ResinLotFactory(LotFactory):
    material = SubFactory(AdhesiveFactory)
    expires_on = dt.date(2030, 1, 1)


class HardenerLotFactory(ResinLotFactory):
    material = SubFactory(HardenerFactory)


class BoardFactory(RowFactory):
    class Meta:
        model = m.Board

    number = Sequence("B9{:04}".format)
    lot = SubFactory(LotFactory)
    length_mm = 2100
    width_mm = 190
    thickness_mm = 24
    state = m.Board.State.USABLE


class DesignFactory(RowFactory):
    class Meta:
        model = m.Design

    model = Sequence("TB-{}".format)


class RevisionFactory(RowFactory):
    class Meta:
        model = m.Revision
        skip_postgeneration_save = True

    design = SubFactory(DesignFactory)
    number = "A"
    drawing = "TA drawing 1"
    reason = "First issue"
    design_authority = "Test Airscrew Works, design office"
    basis = m.Revision.Basis.EXPERIMENTAL
    hand = m.Revision.Hand.RIGHT
    mounting = m.Revision.Mounting.TRACTOR
    diameter_mm = 1720
    pitch_mm = 1200
    reference_station_mm = 645
    laminations = 6
    lamination_mm = 19
    blank_length_mm = 1760
    blank_width_mm = 170
    hub_thickness_mm = 110
    hub_diameter_mm = 170
    bore_mm = 40
    bolt_circle_mm = 120.65
    bolt_holes = 6
    bolt_hole_mm = 13
    max_rpm = 2700
    max_power_kw = 75
    bolt = "1/2 in AN8"
    torque_low_nm = 24
    torque_high_nm = 27
    torque_sequence = "Opposite pairs, in three rounds."
    retorque = "After the first flight, after 25 h, then every 50 h."
    face_plate_mm = 165
    care = "Store flat and dry, not heated."
    damage_limits = "Out of service with any crack across the grain."

    @factory.post_generation
    def stations(self, create, extracted, **kwargs):
        for row in extracted or STATIONS:
            StationFactory(
                revision=self, **dict(zip(STATION_COLUMNS, row, strict=True))
            )


STATION_COLUMNS = (
    "radius_mm",
    "angle_deg",
    "chord_mm",
    "thickness_mm",
    "blank_width_mm",
)
STATIONS = [
    (258, "36.51", 150, 38, 165),
    (430, "23.95", 148, 24, 160),
    (645, "16.49", 130, 16, 145),
    (774, "13.86", 100, 11, 120),
]


class StationFactory(RowFactory):
    class Meta:
        model = m.Station

    angle_tolerance_deg = "0.5"
    chord_tolerance_mm = 3
    thickness_tolerance_mm = "0.5"


class RouteFactory(RowFactory):
    class Meta:
        model = m.Route

    name = Sequence("Route {}".format)


class RouteRevisionFactory(RowFactory):
    class Meta:
        model = m.RouteRevision

    route = SubFactory(RouteFactory)
    number = 1
    reason = "First issue"


class StageFactory(RowFactory):
    class Meta:
        model = m.Stage

    revision = SubFactory(RouteRevisionFactory)
    order = Sequence(lambda n: n + 1001)
    code = Sequence("stage-{}".format)
    name = Sequence("Stage {}".format)
    scope = m.Stage.Scope.PROPELLER


class CharacteristicFactory(RowFactory):
    class Meta:
        model = m.Characteristic

    stage = SubFactory(StageFactory)
    code = Sequence("characteristic-{}".format)
    name = Sequence("Characteristic {}".format)
    on = "propeller"
    unit = "mm"


class LimitFactory(RowFactory):
    class Meta:
        model = m.Limit

    characteristic = SubFactory(CharacteristicFactory)
    number = 1
    high = 2
    unit = SelfAttribute("characteristic.unit")
    source_kind = m.Limit.Source.SHOP
    source = "common practice, no source"
    in_force_from = dt.datetime(2020, 1, 1, tzinfo=dt.UTC)
    reason = "First issue"


class BlankFactory(RowFactory):
    class Meta:
        model = m.Blank

    number = Sequence("K9{:04}".format)
    revision = SubFactory(RevisionFactory)
    route = SubFactory(RouteRevisionFactory)


class AllowedSpeciesFactory(RowFactory):
    class Meta:
        model = m.AllowedSpecies
        django_get_or_create = ("revision", "material")

    revision = SubFactory(RevisionFactory)
    material = SubFactory(TimberFactory)


class LaminationFactory(RowFactory):
    class Meta:
        model = m.Lamination

    number = Sequence("B90001-{}".format)
    board = SubFactory(BoardFactory)
    mass_g = 3150


class PropellerFactory(RowFactory):
    class Meta:
        model = m.Propeller

    serial = Sequence("2026-9{:03}".format)
    blank = SubFactory(BlankFactory, state=m.Blank.State.SHAPED)
    revision = SelfAttribute("blank.revision")


class StageEventFactory(RowFactory):
    class Meta:
        model = m.StageEvent

    stage = SubFactory(StageFactory)
    kind = m.StageEvent.Kind.NOTE
    happened_at = NOON


class MixFactory(RowFactory):
    class Meta:
        model = m.Mix

    number = Sequence("M9{:04}".format)
    sheet = SubFactory(GlueSheetFactory)
    resin_lot = SubFactory(ResinLotFactory, material=SelfAttribute("..sheet.adhesive"))
    hardener_lot = SubFactory(
        HardenerLotFactory, material=SelfAttribute("..sheet.hardener")
    )
    resin_g = 500
    hardener_g = 100
    parts = 20
    mixed_at = NOON
    temperature_c = 20
    working_life_min = 240


class JointSpreadFactory(RowFactory):
    class Meta:
        model = m.JointSpread

    blank = SubFactory(BlankFactory)
    joint = 1
    mix = SubFactory(MixFactory)
    spread_at = NOON + dt.timedelta(minutes=2)
    closed_at = NOON + dt.timedelta(minutes=8)
    verdict = m.JointSpread.Verdict.INSIDE


class PressFactory(RowFactory):
    class Meta:
        model = m.Press

    name = Sequence("Press {}".format)
    kind = m.Press.Kind.RAMS
    rams = 4
    bore_mm = 75


class PressLoadFactory(RowFactory):
    class Meta:
        model = m.PressLoad

    number = Sequence("P9{:04}".format)
    press = SubFactory(PressFactory)
    on_at = NOON + dt.timedelta(minutes=30)
    glued_area_mm2 = 270_000
    pressure_low_pa = 1_000_000
    pressure_high_pa = 1_400_000


class LoadedBlankFactory(RowFactory):
    class Meta:
        model = m.LoadedBlank

    load = SubFactory(PressLoadFactory)
    blank = SubFactory(BlankFactory)


class PressSampleFactory(RowFactory):
    class Meta:
        model = m.PressSample

    load = SubFactory(PressLoadFactory)
    at = LazyAttribute(lambda o: o.load.on_at + dt.timedelta(minutes=5))
    entered = "180"
    unit = "bar"
    glue_line_pa = 1_178_000
    temperature_c = 20
    source = m.PressSample.Source.TYPED


class GaugeFactory(RowFactory):
    class Meta:
        model = m.Gauge

    number = Sequence("G9{:03}".format)
    name = "Steel rule"
    unit = "mm"
    range_low = 0
    range_high = 2000
    resolution = Decimal("0.01")
    interval_days = 365


class GaugeChangeFactory(RowFactory):
    class Meta:
        model = m.GaugeChange

    gauge = SubFactory(GaugeFactory)
    kind = m.GaugeChange.Kind.WITHDRAWN
    happened_at = NOON
    reason = "dropped"


class CalibrationFactory(RowFactory):
    class Meta:
        model = m.Calibration

    gauge = SubFactory(GaugeFactory)
    done_on = dt.date(2026, 1, 10)
    as_found_error = 0
    as_left_error = 0
    permissible_error = Decimal("0.05")
    unit = SelfAttribute("gauge.unit")
    expanded_uncertainty = Decimal("0.02")
    certificate = "C-1"
    standard = "Gauge blocks, traceable"
    next_due_on = dt.date(2030, 1, 10)


class CouponFactory(RowFactory):
    class Meta:
        model = m.Coupon

    number = Sequence("C9{:04}".format)
    mix = SubFactory(MixFactory)
    wood = "Yellow birch"
    made_at = NOON


class ReadingFactory(RowFactory):
    class Meta:
        model = m.Reading

    characteristic = SubFactory(CharacteristicFactory)
    propeller = SubFactory(PropellerFactory)
    happened_at = NOON
    entered = "1.0"
    unit = SelfAttribute("characteristic.unit")
    verdict = m.Reading.Verdict.INSIDE


class SignOffFactory(RowFactory):
    class Meta:
        model = m.SignOff

    stage = SubFactory(StageFactory)
    propeller = SubFactory(PropellerFactory)
    happened_at = NOON
    meaning = "inspected, as required"
    check_kind = m.Stage.CheckKind.SELF
    printed_name = "Person 0"
    method = m.SignOff.Method.PASSWORD
    digest = "0" * 64


class DeviationFactory(RowFactory):
    class Meta:
        model = m.Deviation

    number = Sequence("D9{:04}".format)
    title = "Track out of limit"
    required = "at most 1.5 mm"
    found = "2.1 mm"
    happened_at = NOON
    state = m.Deviation.State.OPEN
    closed_at = LazyAttribute(lambda o: NOON if o.state == "closed" else None)


class DeviationSubjectFactory(RowFactory):
    class Meta:
        model = m.DeviationSubject

    deviation = SubFactory(DeviationFactory)

    @classmethod
    def _adjust_kwargs(cls, **kwargs):
        if not any(kind in kwargs for kind in m.DeviationSubject.subject_kinds):
            kwargs["board"] = BoardFactory()
        return kwargs


class HoldFactory(RowFactory):
    class Meta:
        model = m.Hold

    happened_at = NOON
    reason = "under question"


class DispositionFactory(RowFactory):
    class Meta:
        model = m.Disposition

    deviation = SubFactory(DeviationFactory)
    kind = m.Disposition.Kind.REWORK
    happened_at = NOON
    reason = "It can be made as the drawing asks."


class DisposedSubjectFactory(RowFactory):
    class Meta:
        model = m.DisposedSubject

    disposition = SubFactory(DispositionFactory)
    subject = SubFactory(DeviationSubjectFactory)


class HoldReleaseFactory(RowFactory):
    class Meta:
        model = m.HoldRelease

    hold = SubFactory(HoldFactory, board=SubFactory(BoardFactory))
    happened_at = NOON
    reason = "looked at again"


class CorrectiveActionFactory(RowFactory):
    class Meta:
        model = m.CorrectiveAction

    deviation = SubFactory(DeviationFactory)
    what = "Mark the pointer's place on the bench."
    owner = SubFactory(PersonFactory)
    due_on = dt.date(2026, 4, 1)
    look_on = dt.date(2026, 7, 1)


class EffectivenessCheckFactory(RowFactory):
    class Meta:
        model = m.EffectivenessCheck

    action = SubFactory(CorrectiveActionFactory)
    happened_at = NOON
    effective = True
    evidence = "Twelve propellers tracked since; none out."


class MaterialUseFactory(RowFactory):
    class Meta:
        model = m.MaterialUse

    lot = SubFactory(LotFactory)
    propeller = SubFactory(PropellerFactory)
    happened_at = NOON
    place = "leading edges"


class OwnerFactory(RowFactory):
    class Meta:
        model = m.Owner

    name = Sequence("Owner {}".format)


class CorrectionFactory(RowFactory):
    class Meta:
        model = m.Correction

    number = 1
    field = "expires_on"
    before = "2027-01-01"
    after = "2027-02-01"
    reason = "misread on the tin"


class TagFactory(RowFactory):
    class Meta:
        model = m.Tag

    code = Sequence(lambda n: f"TESTCODE{n:014}")


class StoredFileFactory(RowFactory):
    class Meta:
        model = m.StoredFile

    name = Sequence("file-{}.pdf".format)
    sha256 = LazyAttribute(lambda o: hashlib.sha256(o.name.encode()).hexdigest())
    media_type = "application/pdf"
    size = 1


class AttachmentFactory(RowFactory):
    class Meta:
        model = m.Attachment

    file = SubFactory(StoredFileFactory, media_type="image/jpeg")
    caption = "Photo"
    happened_at = NOON

    @classmethod
    def _adjust_kwargs(cls, **kwargs):
        if not any(kind in kwargs for kind in m.Attachment.subject_kinds):
            kwargs["board"] = BoardFactory()
        return kwargs


class ConformityRecordFactory(RowFactory):
    class Meta:
        model = m.ConformityRecord

    number = Sequence("CR9{:05}".format)
    propeller = SubFactory(PropellerFactory)
    issue = 1
    issued_at = NOON
    signer = "Person 0"
    facts = "{}"
    facts_digest = "0" * 64
    ledger_head = "0" * 64
    pdf = SubFactory(StoredFileFactory)


def stacked_blank(laminations=6, **kwargs):
    """Make a blank with its laminations laid, from boards of one lot."""
    blank = BlankFactory(revision__laminations=laminations, **kwargs)
    lot = LotFactory()
    AllowedSpeciesFactory(revision=blank.revision, material=lot.material)
    for position in range(1, laminations + 1):
        LaminationFactory(board__lot=lot, blank=blank, position=position)
    return blank


def glued_blank(laminations=6, mix=None, **kwargs):
    """Make a blank with every joint closed with one mix, and pressed."""
    blank = stacked_blank(laminations, state=m.Blank.State.GLUED, **kwargs)
    mix = mix or MixFactory()
    for joint in range(1, laminations):
        JointSpreadFactory(blank=blank, joint=joint, mix=mix)
    LoadedBlankFactory(blank=blank, load__off_at=NOON + dt.timedelta(hours=18))
    return blank
