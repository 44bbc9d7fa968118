"""When a calibration calls for a deviation."""

from decimal import Decimal

import pytest

from records.rules.gauges.deviations import gauge_deviation_may_open
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("error", "findings"), [("0.05", 1), ("-0.05", 1), ("0.051", 0), ("-0.051", 0)]
)
def test_only_a_gauge_found_outside(error, findings):
    calibration = factories.CalibrationFactory(as_found_error=Decimal(error))
    assert len(gauge_deviation_may_open(calibration)) == findings


def test_closed_deviation_does_not_stand_in_the_way():
    calibration = factories.CalibrationFactory(as_found_error=Decimal(1))
    closed = factories.DeviationFactory(state="closed")
    factories.DeviationSubjectFactory(deviation=closed, gauge=calibration.gauge)
    assert gauge_deviation_may_open(calibration) == []
    factories.DeviationSubjectFactory(gauge=calibration.gauge)
    assert len(gauge_deviation_may_open(calibration)) == 1
