import datetime as dt

from records.models import GlueSheet, Material, PressLoad
from records.queries.pressing.history import history_from
from records.rules.pressing.held import (
    cured_when_opened,
    load_is_sound,
    pressure_held,
    pressure_not_above,
)
from tests.factories import NOON
from tests.queries.pressing.test_history import TABLE, samples


def history(*rows, off=None, table=TABLE):
    load = PressLoad(
        on_at=NOON,
        off_at=NOON + dt.timedelta(hours=off) if off else None,
        pressure_low_pa=1_000_000,
        pressure_high_pa=1_400_000,
    )
    sheet = GlueSheet(adhesive=Material(name="Glue A"))
    return history_from(load, samples(load, *rows), [(sheet, table)])


def says(findings):
    return " ".join(f.sentence for f in findings)


def test_a_load_held_and_cured_is_sound():
    assert load_is_sound(history((0, 1.1, 20), (16, 1.1, 20), off=16)) == []


def test_a_dip_is_said_with_its_span_and_lowest():
    rows = (0, 1.1, 20), (1, 0.4, 20), (2, 1.1, 20)
    [finding] = pressure_held(history(*rows))
    assert "from 12:00 to 14:00 (2\xa0h), lowest 0.40\xa0MPa" in finding.sentence


def test_a_dip_that_was_not_seen_to_end_may_be_longer():
    assert "1\xa0h or longer" in says(
        pressure_held(history((0, 1.1, 20), (1, 0.4, 20)))
    )


def test_on_its_way_up_it_has_not_reached_the_least_yet():
    assert "has not reached 1.00\xa0MPa" in says(pressure_held(history((0, 0.4, 20))))
    assert "never reached" in says(pressure_held(history((0, 0.4, 20), off=16)))


def test_without_samples_nobody_knows():
    assert says(pressure_held(history())) == "No pressure was sampled."


def test_more_than_the_glue_bears_is_said():
    assert pressure_not_above(history((0, 1.4, 20))) == []
    assert "up to 1.50\xa0MPa" in says(pressure_not_above(history((0, 1.5, 20))))


def test_opened_too_early_says_how_far_it_had_cured():
    findings = cured_when_opened(history((0, 1.1, 20), (4, 1.1, 20), off=4))
    assert says(findings) == "Opened with 25\xa0% of the press time of Glue A reached."


def test_time_outside_the_table_is_said_not_to_count():
    rows = (0, 1.1, 10), (12, 1.1, 10), (12, 1.1, 20), (16, 1.1, 20)
    findings = cured_when_opened(history(*rows, off=16))
    assert "12\xa0h outside its table do not count" in says(findings)


def test_a_cure_that_nobody_can_tell_is_no_cure():
    findings = cured_when_opened(history((0, 1.1, None), (16, 1.1, None), off=16))
    assert says(findings) == "Cure not known. No temperature was sampled."


def test_before_it_is_opened_nothing_is_too_early():
    assert cured_when_opened(history((0, 1.1, 20), (4, 1.1, 20))) == []
