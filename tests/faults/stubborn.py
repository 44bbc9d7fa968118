"""Somebody who sends each form until it is saved."""

import threading
import uuid

SAVED = 302


class Stubborn(threading.Thread):
    """Sends forms, and each of them again, under its own key, until it is saved."""

    def __init__(self, client, forms):
        super().__init__(daemon=True)
        self.client = client
        keys = [str(uuid.uuid4()) for _ in range(forms)]
        self.forms = [(f"Supplier {key}", key) for key in keys]
        self.answers = []
        self.pause = threading.Event()

    @property
    def refused(self):
        return [status for status in self.answers if status != SAVED]

    def run(self):
        for name, form_key in self.forms:
            while (status := self.client.add_supplier(name, form_key)) != SAVED:
                self.answers.append(status)
                self.pause.wait(0.1)
            self.answers.append(SAVED)


def names(writers):
    """Give the name on every form of some writers, in order."""
    return sorted(name for writer in writers for name, _ in writer.forms)
