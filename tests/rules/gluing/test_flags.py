import datetime as dt

import pytest

from records.models import Blank, JointSpread, LoadedBlank, Mix, PressLoad
from records.rules.gluing.flags import Decided, all_is_decided, decided_by
from tests import factories
from tests.factories import NOON

BLANK = Blank(pk=7, number="K0007")
MIX = Mix(pk=1, number="M0001")
OFF = NOON + dt.timedelta(hours=9)


def joint(number=2, verdict="outside", flags="Open for 13 min."):
    return JointSpread(joint=number, mix=MIX, blank=BLANK, verdict=verdict, flags=flags)


def loaded(verdict="inside", flags="", closed="", opened=""):
    load = PressLoad(
        pk=3, number="P0003", off_at=OFF, flags=closed, opened_flags=opened
    )
    return LoadedBlank(load=load, blank=BLANK, verdict=verdict, flags=flags)


def said(mixes=(), spreads=(), rows=(), decided=None):
    findings = all_is_decided(mixes, spreads, rows, decided or Decided())
    return [f.sentence for f in findings]


def test_a_glue_up_without_flags_has_nothing_to_decide():
    fine = joint(verdict="inside", flags="")
    assert said([MIX], [fine], [loaded()]) == []


def test_each_sentence_of_a_flagged_mix_waits_for_a_decision():
    mix = Mix(pk=1, number="M0001", flags="Too warm.\nLot L3 was usable until May.")
    assert said([mix]) == [
        "Mix M0001: Too warm.",
        "Mix M0001: Lot L3 was usable until May.",
    ]
    assert said([mix], decided=Decided(mixes={1})) == []


@pytest.mark.parametrize("verdict", ["outside", "unknown"])
def test_a_joint_that_is_late_or_not_known_waits_for_a_decision(verdict):
    spread = joint(verdict=verdict)
    assert said(spreads=[spread]) == ["Joint 2 with mix M0001: Open for 13 min."]
    for decided in (Decided(joints={(7, 2)}), Decided(blanks={7})):
        assert said(spreads=[spread], decided=decided) == []
    assert said(spreads=[spread], decided=Decided(joints={(7, 3), (8, 2)}))


def test_waiting_for_pressure_waits_for_a_decision():
    row = loaded("outside", "Joint 1 waited 80 min.")
    assert said(rows=[row]) == ["Press load P0003: Joint 1 waited 80 min."]
    assert said(rows=[row], decided=Decided(loads={3})) == []
    assert said(rows=[row], decided=Decided(blanks={7})) == []
    assert said(rows=[loaded("unknown", "Pressed before.")]) == []


def test_a_load_flagged_when_it_was_opened_waits_for_a_decision():
    row = loaded(opened="Opened with 25 % of the press time reached.")
    assert said(rows=[row]) == [
        "Press load P0003: Opened with 25 % of the press time reached."
    ]
    assert said(rows=[row], decided=Decided(loads={3})) == []
    assert said(rows=[row], decided=Decided(blanks={7}))
    assert said(rows=[loaded(closed="No pressure suits every glue.")])


@pytest.mark.django_db
def test_what_was_decided_is_sorted_by_what_it_is_about():
    mix, blank = factories.MixFactory(), factories.BlankFactory()
    subjects = [
        factories.DeviationSubjectFactory(mix=mix),
        factories.DeviationSubjectFactory(blank=blank),
        factories.DeviationSubjectFactory(blank=blank, joint=2),
    ]
    decided = decided_by(subjects)
    assert decided.mixes == {mix.pk}
    assert decided.blanks == {blank.pk}
    assert decided.joints == {(blank.pk, 2)}
    assert decided.loads == set()
