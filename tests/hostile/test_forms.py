"""Every form, with any answers: it says yes, or what is wrong, and never breaks."""

from django.db import transaction
from django.test import override_settings
from hypothesis import given
from hypothesis.extra.django import TestCase

from records.web.people.forms import SetUpForm
from tests.hostile import book
from tests.hostile.answers import filled
from tests.hostile.driver import BACKEND, where
from tests.hostile.effort import tried
from tests.hostile.forms import again, every_form_class, forms_on_pages
from tests.hostile.world import LIGHT, world

# Bases of forms: no page shows one of these as it is.
BASES = {"ContactForm", "ReasonForm", "ShownForm"}
STATUSES = {200, 302, 400, 403, 404, 409, 413, 422, 429}


class TestForms(TestCase):
    """Forms as their pages make them, in a shop with everything in it."""

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        with override_settings(**LIGHT):
            cls.things = world()
            cls.owner = cls.things["act"].by
            client = cls.client_class()
            client.force_login(cls.owner, backend=BACKEND)
            cls.pages = forms_on_pages(client, cls.things)
        cls.pages.append(("/set-up/none/", SetUpForm()))

    def setUp(self):
        self.client.force_login(self.owner, backend=BACKEND)
        self.wrong = {}

    def test_every_form_of_the_program_is_tried(self):
        seen = {type(form) for _, form in self.pages}
        missed = [c for c in every_form_class() if c not in seen]
        assert {c.__name__ for c in missed} <= BASES, missed

    def test_any_answers_are_taken_or_told_what_is_wrong(self):
        for path, form in self.pages:
            self.draw(path, form, 8, 6, lambda d, f=form: self.look_at(again(f, *d)))
        assert self.wrong == {}, self.report()

    def test_answers_sent_to_the_page_change_the_book_whole_or_not_at_all(self):
        for path, form in self.pages:
            self.draw(path, form, 5, 1, lambda d, p=path: self.send(p, d))
        assert self.wrong == {}, self.report()

    def draw(self, path, form, count, anything, look):
        """Look at what becomes of drawn answers, undo it, and keep what went wrong."""

        @tried(count)
        @given(filled(form, anything))
        def drawn(answers):
            try:
                with transaction.atomic():
                    look(answers)
                    transaction.set_rollback(True)
            except Exception as error:
                self.keep(error, path, form, answers)

        drawn()

    def look_at(self, form):
        """See that it is valid or says why not, and can be shown again."""
        valid = form.is_valid()
        told = [sentence for texts in form.errors.values() for sentence in texts]
        assert valid == (not told)
        assert all(str(sentence).strip() for sentence in told)
        assert str(form)

    def send(self, path, drawn):
        """Post answers: a change has its entry in the ledger, and a way on."""
        data, files = drawn
        before, at = book.counts(), book.head()
        answer = self.client.post(path, {**dict(data.lists()), **files})
        after, now = book.counts(), book.head()
        assert answer.status_code in STATUSES
        if now == at:
            assert after == before, "rows were written without an entry"
        else:
            assert now[0] == at[0] + 1, "one form, one entry"
            assert answer.status_code == 302 or book.last_verb() in book.NOTED, (
                "the book changed, and nothing leads on"
            )

    def keep(self, error, path, form, drawn):
        by = f"{error}: {type(form).__name__} at {path}: {drawn}"
        self.wrong.setdefault(where(error), by[:900])

    def report(self):
        return "\n".join(f"{what}\n    {by}" for what, by in self.wrong.items())
