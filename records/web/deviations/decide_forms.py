"""One form for each kind of decision: it asks for what that kind needs."""

from typing import TYPE_CHECKING, Any

from django import forms

from records.models import Deviation, DeviationSubject, Disposition, Stage
from records.queries.deviations.plans import plans_for
from records.queries.deviations.register import undecided
from records.rules.deviations.opening import subject_called
from records.web.deviations.forms import words
from records.web.shared.fields import MomentField, PhotoField
from records.web.shared.forms import ShopForm

Kind = Disposition.Kind
NEEDS: dict[str, tuple[str, ...]] = {
    Kind.USE_AS_IS: ("design_authority", "plain_words"),
    Kind.REWORK: ("repeat",),
    Kind.REPAIR: ("design_authority", "plain_words"),
    Kind.SCRAP: ("photo",),
    Kind.RETURN: (),
}
MEANS: dict[str, str] = {
    Kind.USE_AS_IS: (
        "It stays as it is. Whoever answers for the design has agreed, and the "
        "conformity record says so in plain words."
    ),
    Kind.REWORK: (
        "It will be as the drawing asks. The stages you name are repeated; their "
        "readings from before no longer count."
    ),
    Kind.REPAIR: (
        "It will work, but not be as the drawing asks. Whoever answers for the design "
        "has agreed, and the conformity record says so in plain words."
    ),
    Kind.SCRAP: (
        "It is made unusable, with a photo as proof. Its number is never used again."
    ),
    Kind.RETURN: "It goes back to the supplier and is closed to use.",
}


if TYPE_CHECKING:
    SubjectChoice = forms.ModelMultipleChoiceField[DeviationSubject]
else:
    SubjectChoice = forms.ModelMultipleChoiceField


class SubjectsField(SubjectChoice):
    """What the decision is about: all that is not decided, unless some are left out."""

    widget = forms.CheckboxSelectMultiple

    def label_from_instance(self, obj: Any) -> str:
        """Call each thing by kind and number."""
        return subject_called(obj)


class DecideForm(ShopForm):
    """A decision of one kind."""

    subjects = SubjectsField(
        DeviationSubject.objects.none(),
        label="About",
        error_messages={"required": "Choose what the decision is about."},
    )
    reason = words("Why: what the decision rests on")
    repeat = forms.ModelMultipleChoiceField(
        Stage.objects.none(),
        label="Stages to repeat",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Name the stages that the rework repeats."},
    )
    design_authority = forms.CharField(
        label="Who answers for the design and agreed, and where",
        max_length=120,
        help_text="Name and reference: a letter, a drawing note, a date.",
    )
    plain_words = words(
        "For the customer, in plain words",
        help_text="It stands on the conformity record.",
    )
    photo = PhotoField(
        label="Photo of it made unusable",
        error_messages={
            "required": "Scrap needs a photo of the part made unusable.",
        },
    )
    happened_at = MomentField(label="When it was decided")

    def __init__(
        self, *args: Any, kind: str, deviation: Deviation, **kwargs: Any
    ) -> None:
        left = undecided(deviation)
        plans = plans_for([subject.subject for subject in left])
        agreed = next(iter(plans.authorities), "")
        kwargs["initial"] = {"subjects": left, "design_authority": agreed}
        super().__init__(*args, **kwargs)
        for name in {need for needs in NEEDS.values() for need in needs}:
            if name not in NEEDS[kind]:
                del self.fields[name]
        subjects: Any = self.fields["subjects"]
        subjects.queryset = DeviationSubject.objects.filter(
            pk__in=[s.pk for s in left]
        ).select_related(*DeviationSubject.subject_kinds)
        if "repeat" in self.fields:
            repeat: Any = self.fields["repeat"]
            repeat.queryset = plans.stages()
