"""Forms about deviations: open, add, cause, actions, holds."""

import datetime as dt
from dataclasses import replace
from typing import Any

from django import forms
from django.db.models import QuerySet

from records.models import Deviation, Person, Reading, Stage
from records.rules.deviations.opening import Touched
from records.web.deviations.things import ThingsField
from records.web.shared.fields import DayField, MomentField, PhotoField, today
from records.web.shared.forms import ShopForm

LOOK_AFTER = dt.timedelta(days=90)


def words(label: str, rows: int = 3, **kwargs: Any) -> forms.CharField:
    """Make a field for a few sentences."""
    area = forms.Textarea(attrs={"rows": rows})
    return forms.CharField(label=label, widget=area, max_length=2000, **kwargs)


class OpenForm(ShopForm):
    """A new deviation."""

    title = forms.CharField(label="What is wrong, in a few words", max_length=120)
    things = ThingsField()
    required = words("What was required")
    found = words("What was found", rows=5)
    stage = forms.ModelChoiceField(
        Stage.objects.none(), label="At stage", required=False, empty_label="not said"
    )
    happened_at = MomentField(label="When it was found")
    hold = forms.BooleanField(
        label="Put it on hold until it is decided", required=False, initial=True
    )
    photo = PhotoField(label="Photo", required=False)
    reading = forms.ModelChoiceField(
        Reading.objects.all(), required=False, widget=forms.HiddenInput
    )

    def __init__(self, *args: Any, stages: QuerySet[Stage], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field: Any = self.fields["stage"]
        field.queryset = stages

    def answers(self) -> dict[str, Any]:
        """Give the answers, with the reading at the thing that it is about."""
        fields = super().answers()
        reading = fields.pop("reading")
        fields["things"] = [_with_reading(one, reading) for one in fields["things"]]
        return fields


def _with_reading(one: Touched, reading: Reading | None) -> Touched:
    if reading is None or getattr(reading, f"{reading.subject_kind}_id") is None:
        return one
    same = reading.subject == one.thing
    return replace(one, reading=reading) if same else one


class AddForm(ShopForm):
    """More things that an open deviation touches."""

    things = ThingsField()
    hold = forms.BooleanField(
        label="Put them on hold until they are decided", required=False, initial=True
    )


class HoldForm(ShopForm):
    """A hold by hand, without a deviation."""

    thing = ThingsField()
    reason = forms.CharField(label="Why", max_length=200)
    happened_at = MomentField(label="When")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["thing"].label = "What to hold"
        self.fields[
            "thing"
        ].help_text = "One number. All that is made of it, or with it, is held too."

    def clean_thing(self) -> Touched:
        """Take one thing."""
        things: list[Touched] = self.cleaned_data["thing"]
        if len(things) > 1:
            raise forms.ValidationError(
                "Hold one thing here. For several at once open a deviation."
            )
        return things[0]

    def answers(self) -> dict[str, Any]:
        """Give thing and joint apart, as the service takes them."""
        fields = super().answers()
        one: Touched = fields.pop("thing")
        return fields | {"thing": one.thing, "joint": one.joint}


class ReleaseForm(ShopForm):
    """The release of a hold."""

    reason = forms.CharField(label="Why it may go on", max_length=200)
    happened_at = MomentField(label="When")


class CauseForm(ShopForm):
    """Where the cause lies, and what it was."""

    cause_kind = forms.ChoiceField(
        label="The cause lies in",
        choices=[(c.value, c.label) for c in Deviation.Cause if c.value],
        widget=forms.RadioSelect,
    )
    cause = words("What the cause was")


class ActionForm(ShopForm):
    """An action: what, by whom, by when, and when to look."""

    what = words("What is done, so that it does not happen again", rows=2)
    owner = forms.ModelChoiceField(
        Person.objects.filter(is_active=True).exclude(role=Person.Role.READER),
        label="By whom",
    )
    due_on = DayField(label="By when")
    look_on = DayField(
        label="When to look whether it worked",
        initial=lambda: today() + LOOK_AFTER,
    )


class DoneForm(ShopForm):
    """The day on which an action was done."""

    done_on = DayField(label="Done on", initial=today)


class EffectForm(ShopForm):
    """Whether an action worked."""

    effective = forms.TypedChoiceField(
        label="Did it work?",
        choices=[("yes", "yes"), ("no", "no")],
        coerce=lambda answer: answer == "yes",
        widget=forms.RadioSelect,
    )
    evidence = words("What shows it", rows=2)
    happened_at = MomentField(label="Looked at")


class ConfirmForm(ShopForm):
    """Nothing to fill in: the button is the answer."""
