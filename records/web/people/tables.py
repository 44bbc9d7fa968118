"""Lists of people."""

from typing import ClassVar

import django_tables2

from records.models import Person
from records.web.shared.tables import ShopTable


class PeopleTable(ShopTable):
    """Everybody, with what they may decide today."""

    name = django_tables2.Column(
        linkify=("people:person", {"login": django_tables2.A("login")})
    )
    role = django_tables2.Column()
    may = django_tables2.Column(empty_values=(), orderable=False, verbose_name="May")
    is_active = django_tables2.Column(verbose_name="Signs in")

    class Meta(ShopTable.Meta):
        model = Person
        fields: ClassVar[tuple[str, ...]] = ("name", "role", "may", "is_active")

    def render_may(self, record: Person) -> str:
        """Name the acts in force."""
        acts = [a.get_act_display() for a in record.authorities.all()]
        return "; ".join(dict.fromkeys(acts)) or "decides nothing"

    def render_is_active(self, *, value: bool) -> str:
        """Say it in a word."""
        return "yes" if value else "no, stopped"
