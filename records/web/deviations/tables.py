"""The register of deviations, with how long each has been open."""

from typing import Any

import django_filters as filters
import django_tables2 as tables
from django.db.models import Exists, OuterRef, QuerySet
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString

from records.models import Deviation, Disposition, Hold
from records.rules.deviations.opening import subject_called
from records.spelling.moments import day
from records.spelling.verdicts import Verdict
from records.web.shared.tables import ShopTable


def age_days(deviation: Deviation) -> int:
    """Count the days that a deviation has been, or was, open."""
    end = deviation.closed_at or timezone.now()
    return (timezone.localdate(end) - timezone.localdate(deviation.happened_at)).days


def verdict_of(deviation: Any) -> Verdict:
    """Give shape and word for how far a deviation is."""
    if deviation.state == Deviation.State.CLOSED:
        return Verdict("ok", "closed")
    if deviation.holds_standing:
        return Verdict("hold", "decided, on hold" if deviation.decided else "on hold")
    return Verdict("waiting", "decided" if deviation.decided else "to be decided")


class DeviationTable(ShopTable):
    """Every deviation, the newest first."""

    number = tables.Column()
    title = tables.Column(verbose_name="What")
    standing = tables.Column(verbose_name="Stands", accessor="pk", orderable=False)
    touches = tables.Column(accessor="pk", orderable=False)
    decided_as = tables.Column(verbose_name="Decided", accessor="pk", orderable=False)
    stage = tables.Column(default="")
    happened_at = tables.Column(verbose_name="Found")
    age = tables.Column(verbose_name="Days open", accessor="pk", orderable=False)

    class Meta(ShopTable.Meta):
        empty_text = "No deviation here."

    def render_number(self, value: str) -> SafeString:
        """Link to the deviation."""
        page = reverse("deviations:deviation", args=[value])
        return format_html('<a class="number" href="{}">{}</a>', page, value)

    def value_number(self, value: str) -> str:
        """Export the bare number."""
        return value

    def render_standing(self, record: Deviation) -> SafeString:
        """Draw how far it is, as everywhere."""
        verdict = verdict_of(record)
        facts = {"verdict": verdict.shape, "word": verdict.word}
        return render_to_string("parts/verdict.html", facts)

    def value_standing(self, record: Deviation) -> str:
        """Export how far it is, in a word."""
        return verdict_of(record).word

    def render_touches(self, record: Deviation) -> str:
        """Name what it is about."""
        names = dict.fromkeys(subject_called(s) for s in record.subjects.all())
        return ", ".join(names)

    def render_decided_as(self, record: Deviation) -> str:
        """Name the decisions."""
        kinds = dict.fromkeys(d.get_kind_display() for d in record.dispositions.all())
        return ", ".join(kinds)

    def render_happened_at(self, record: Deviation) -> str:
        """Spell the day it was found."""
        return day(timezone.localdate(record.happened_at))

    def render_age(self, record: Deviation) -> int:
        """Count the days."""
        return age_days(record)


class DeviationFilter(filters.FilterSet):
    """Finds deviations by word, state, hold, decision and cause."""

    title = filters.CharFilter(label="Word in the title", lookup_expr="icontains")
    state = filters.ChoiceFilter(label="State", choices=Deviation.State)
    held = filters.BooleanFilter(label="Holds something", method="keep_held")
    kind = filters.ChoiceFilter(
        label="Decided as",
        choices=Disposition.Kind.choices,
        field_name="dispositions__kind",
        distinct=True,
    )
    cause_kind = filters.ChoiceFilter(
        label="Cause lies in",
        choices=[(c.value, c.label) for c in Deviation.Cause if c.value],
    )

    class Meta:
        model = Deviation
        fields = ("title", "state", "held", "kind", "cause_kind")

    def keep_held(
        self,
        queryset: QuerySet[Deviation],
        name: str,
        value: bool,  # noqa: FBT001
    ) -> QuerySet[Deviation]:
        """Keep those with a standing hold, or those with none."""
        standing = Hold.objects.standing().filter(deviation=OuterRef("pk"))
        return queryset.filter(Exists(standing) if value else ~Exists(standing))
