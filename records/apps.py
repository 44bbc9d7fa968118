"""How the app is wired: the guards go up after every migrate."""

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class RecordsConfig(AppConfig):
    """The shop's records."""

    name = "records"
    verbose_name = "Shop records"

    def ready(self) -> None:
        """Install the database guards whenever tables were made or remade."""
        from records.models.guards import install_guards

        post_migrate.connect(install_guards, sender=self, dispatch_uid="guards")
