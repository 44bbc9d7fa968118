"""Lists of presses, loads and samples."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import Press, PressLoad, PressSample
from records.spelling.numbers import plain
from records.spelling.quantities import in_unit, pressure, temperature
from records.spelling.units import unit_name
from records.web.shared.columns import MomentColumn
from records.web.shared.tables import ShopTable


class LoadFilter(django_filters.FilterSet):
    """Find loads by number, press or blank."""

    text = django_filters.CharFilter(label="Number of load or blank", method="by_text")
    press = django_filters.ModelChoiceFilter(
        label="Press", queryset=Press.objects.order_by("name", "pk")
    )

    class Meta:
        model = PressLoad
        fields: ClassVar[tuple[str, ...]] = ("text", "press")

    def by_text(
        self, loads: QuerySet[PressLoad], _name: str, text: str
    ) -> QuerySet[PressLoad]:
        """Look for a text in the numbers of a load and of the blanks in it."""
        condition = Q(number__icontains=text) | Q(loaded__blank__number__icontains=text)
        keys = PressLoad.objects.filter(condition).order_by().values("pk")
        return loads.filter(pk__in=keys)


class LoadTable(ShopTable):
    """Loads, the last closed first."""

    number = django_tables2.Column(
        verbose_name="Load", linkify=("pressing:load", {"number": A("number")})
    )
    press = django_tables2.Column(order_by=("press__name",))
    on_at = MomentColumn(verbose_name="Pressure on")
    off_at = MomentColumn(verbose_name="Pressure off", default="still on")
    blanks = django_tables2.Column()
    samples_taken = django_tables2.Column(verbose_name="Samples")
    flags = django_tables2.Column(
        verbose_name="Flagged", orderable=False, empty_values=()
    )

    class Meta(ShopTable.Meta):
        model = PressLoad
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "press",
            "on_at",
            "off_at",
            "blanks",
            "samples_taken",
            "flags",
        )

    def render_flags(self, record: PressLoad) -> str:
        """Say it in a word; the page has the sentences."""
        return "yes" if record.flags or record.opened_flags else "no"


def figures_of(press: Press) -> str:
    """Say what turns a press's figure into pressure at the glue line."""
    if press.kind == Press.Kind.BAG:
        return f"bag {plain(press.bag_area_ratio)} times the glued area"
    size = f"{press.rams} of {in_unit(press.bore_mm, 'mm')}"
    if press.kind == Press.Kind.SCREWS:
        return f"{size}, nut factor {plain(press.nut_factor)}"
    return size


class PressTable(ShopTable):
    """Presses, those in use first."""

    name = django_tables2.Column()
    figures = django_tables2.Column(
        empty_values=(), orderable=False, verbose_name="Figures"
    )
    closed = django_tables2.Column(verbose_name="Loads")
    in_use = django_tables2.Column(
        verbose_name="In use", linkify=("pressing:press_in_use", {"pk": A("pk")})
    )

    class Meta(ShopTable.Meta):
        model = Press
        fields: ClassVar[tuple[str, ...]] = (
            "name",
            "kind",
            "figures",
            "closed",
            "in_use",
        )

    def render_figures(self, record: Press) -> str:
        """Say what turns the gauge's figure into pressure."""
        return figures_of(record)

    def render_in_use(self, *, value: bool) -> str:
        """Say it in a word."""
        return "yes" if value else "no more"


class SampleTable(ShopTable):
    """Samples of one load, in the order they were taken."""

    at = MomentColumn(verbose_name="Read at")
    entered = django_tables2.Column(verbose_name="Shown")
    glue_line_pa = django_tables2.Column(verbose_name="At the glue line")
    temperature_c = django_tables2.Column(verbose_name="At the stack")
    source = django_tables2.Column()
    gauge = django_tables2.Column(order_by=("gauge__number",), default="not named")
    correct = django_tables2.Column(
        empty_values=(),
        orderable=False,
        exclude_from_export=True,
        verbose_name="",
        linkify=("pressing:correct_sample", {"pk": A("pk")}),
    )

    class Meta(ShopTable.Meta):
        model = PressSample
        fields: ClassVar[tuple[str, ...]] = (
            "at",
            "entered",
            "glue_line_pa",
            "temperature_c",
            "source",
            "gauge",
            "correct",
        )

    def render_entered(self, record: PressSample, value: str) -> str:
        """Give the figure with its unit, as it was entered."""
        return f"{value} {unit_name(record.unit)}"

    def render_glue_line_pa(self, value: float) -> str:
        """Give the pressure in both unit systems."""
        return pressure(value)

    def value_glue_line_pa(self, value: float) -> float:
        """Export the pressure in pascals."""
        return value

    def render_temperature_c(self, value: Any) -> str:
        """Give the temperature in both unit systems."""
        return temperature(value.normalize())

    def value_temperature_c(self, value: Any) -> Any:
        """Export the temperature in °C."""
        return value

    def render_correct(self) -> str:
        """Name the link."""
        return "Correct"
