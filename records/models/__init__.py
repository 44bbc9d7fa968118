"""What things there are, and what can never be false."""

from records.models.boards import Board, BoardCheck, BoardDefect, Lamination
from records.models.builds import (
    Blank,
    Designation,
    MaterialChange,
    Propeller,
    StageEvent,
)
from records.models.conformity import ConformityRecord, Withdrawal
from records.models.corrections import Correction
from records.models.coupons import Coupon, CouponTest
from records.models.designs import AllowedSpecies, Design, Revision, Station
from records.models.deviations import (
    CorrectiveAction,
    Deviation,
    DeviationSubject,
    DisposedSubject,
    Disposition,
    EffectivenessCheck,
    StageToRepeat,
)
from records.models.files import Attachment, StoredFile
from records.models.gauges import Calibration, Gauge, GaugeChange
from records.models.glue_sheets import GlueSheet, GlueSheetPoint
from records.models.gluing import JointSpread, Mix
from records.models.holds import Hold, HoldRelease
from records.models.ledger import LedgerEntry
from records.models.limits import Limit
from records.models.lots import (
    Lot,
    LotCheck,
    Material,
    Supplier,
)
from records.models.people import Authority, Person
from records.models.pressing import LoadedBlank, Press, PressLoad, PressSample
from records.models.readings import Reading
from records.models.routes import (
    Characteristic,
    Route,
    RouteRevision,
    Stage,
)
from records.models.service import (
    Notice,
    NoticeSerial,
    NoticeStep,
    Owner,
    Ownership,
    ServiceEvent,
)
from records.models.shop import BackupRun, NumberSeries, SetUpLink, Shop
from records.models.signoffs import RefusedSignature, SignOff
from records.models.tags import Tag
from records.models.uses import MaterialUse

__all__ = [
    "AllowedSpecies",
    "Attachment",
    "Authority",
    "BackupRun",
    "Blank",
    "Board",
    "BoardCheck",
    "BoardDefect",
    "Calibration",
    "Characteristic",
    "ConformityRecord",
    "Correction",
    "CorrectiveAction",
    "Coupon",
    "CouponTest",
    "Design",
    "Designation",
    "Deviation",
    "DeviationSubject",
    "DisposedSubject",
    "Disposition",
    "EffectivenessCheck",
    "Gauge",
    "GaugeChange",
    "GlueSheet",
    "GlueSheetPoint",
    "Hold",
    "HoldRelease",
    "JointSpread",
    "Lamination",
    "LedgerEntry",
    "Limit",
    "LoadedBlank",
    "Lot",
    "LotCheck",
    "Material",
    "MaterialChange",
    "MaterialUse",
    "Mix",
    "Notice",
    "NoticeSerial",
    "NoticeStep",
    "NumberSeries",
    "Owner",
    "Ownership",
    "Person",
    "Press",
    "PressLoad",
    "PressSample",
    "Propeller",
    "Reading",
    "RefusedSignature",
    "Revision",
    "Route",
    "RouteRevision",
    "ServiceEvent",
    "SetUpLink",
    "Shop",
    "SignOff",
    "Stage",
    "StageEvent",
    "StageToRepeat",
    "Station",
    "StoredFile",
    "Supplier",
    "Tag",
    "Withdrawal",
]
