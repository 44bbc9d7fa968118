"""Every service, with any arguments of its types: done whole, or refused."""

import importlib
import inspect
import pkgutil

from django.db import transaction
from django.test import override_settings
from hypothesis import given
from hypothesis.extra.django import TestCase

import records.services
from records.services.refusal import AlreadyDone, Refusal
from tests.hostile import book
from tests.hostile.arguments import Hand
from tests.hostile.driver import where
from tests.hostile.effort import tried
from tests.hostile.world import LIGHT, world


def services():
    """List every public service: a function that takes an act."""
    for info in pkgutil.walk_packages(records.services.__path__, "records.services."):
        module = importlib.import_module(info.name)
        for name, result in inspect.getmembers(module, inspect.isfunction):
            own = result.__module__ == module.__name__ and not name.startswith("_")
            if own and "act" in inspect.signature(result).parameters:
                yield result


def refusal_of(service, arguments):
    """Call a service, and give its refusal; None where it did what was asked."""
    try:
        service(**arguments)
    except (Refusal, AlreadyDone) as refusal:
        return refusal
    return None


class TestServices(TestCase):
    """In a shop with everything in it, and in a zone far from Greenwich."""

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.light = override_settings(**LIGHT)
        cls.light.enable()
        cls.addClassCleanup(cls.light.disable)
        cls.hand = Hand(world()["act"])

    def setUp(self):
        self.wrong, self.done, self.refused = {}, set(), set()

    @override_settings(TIME_ZONE="Pacific/Auckland")
    def test_services_do_all_or_nothing_and_say_why_not(self):
        for service in services():
            self.try_out(service)
        assert self.wrong == {}, self.report()
        assert len(self.done) > 20, "too few drew anything that could be done"
        assert len(self.refused) > 60, "too few refused anything"

    def try_out(self, service):
        @tried(8)
        @given(self.hand.for_service(service))
        def called(arguments):
            try:
                with transaction.atomic():
                    self.call(service, arguments)
                    transaction.set_rollback(True)
            except Exception as error:
                self.keep(service, arguments, error)

        called()

    def call(self, service, arguments):
        """See that a refusal changed nothing, and that what was done has an entry."""
        before, at = book.counts(), book.head()
        refusal = refusal_of(service, arguments)
        same = (book.counts(), book.head()) == (before, at)
        if refusal is None:
            self.done.add(service.__name__)
            assert same or book.head() != at, "rows were written without an entry"
        else:
            self.refused.add(service.__name__)
            assert str(refusal).strip(), "refused without a word"
            assert same or book.last_verb() in book.NOTED, "refused, but changed"

    def keep(self, service, arguments, error):
        told = {name: repr(value)[:80] for name, value in arguments.items()}
        by = f"{error}: {service.__name__}({told})"
        self.wrong.setdefault(where(error), by[:900])

    def report(self):
        return "\n".join(f"{what}\n    by {by}" for what, by in self.wrong.items())
