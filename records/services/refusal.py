"""A refusal carries all that was found, so that nothing has to be tried twice."""

from collections.abc import Iterable

from django.core.exceptions import ValidationError

from records.rules.finding import Finding


class Refusal(Exception):
    """The shop won't do this, for these reasons, and has changed nothing."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__(" ".join(f.sentence for f in self.findings))


class AlreadyDone(Exception):
    """The form was taken before: its work is in the book under `sequence`."""

    def __init__(self, sequence: int) -> None:
        self.sequence = sequence
        super().__init__(f"This form was already saved, as entry {sequence}.")


def refuse(sentence: str, field: str = "") -> Refusal:
    """Make a refusal with a single finding."""
    return Refusal([Finding(sentence, field)])


def refuse_if_blocked(findings: Iterable[Finding]) -> list[Finding]:
    """Raise when any finding blocks; otherwise give back the warnings."""
    everything = list(findings)
    blockers = [f for f in everything if f.blocks]
    if blockers:
        raise Refusal(blockers)
    return everything


def from_validation(error: ValidationError) -> Refusal:
    """Turn what a model found wrong with its fields into a refusal."""
    return Refusal(
        Finding(message, "" if field == "__all__" else field)
        for field, messages in error.message_dict.items()
        for message in messages
    )
