"""A tag's code can't be guessed, nor told from another one."""

import math
import secrets
from collections import Counter

from records.queries.tags import ALPHABET, CODE_LENGTH
from records.services import tags
from tests import factories

# OWASP ASVS 4.0.3, 3.2.2 and 6.3.2 (from memory): 64 bits at the least for a token.
LEAST_BITS = 64
DRAWN = 400


def codes(act, count=DRAWN):
    boards = factories.BoardFactory.create_batch(count)
    return [tag.code for tag in tags.tags_for(act=act, things=boards)]


def test_a_code_has_more_bits_than_anybody_can_try():
    assert CODE_LENGTH * math.log2(len(set(ALPHABET))) >= LEAST_BITS


def test_codes_come_from_the_systems_own_chance(act, monkeypatch):
    asked = []
    draw = secrets.choice

    def watched(letters):
        asked.append(letters)
        return draw(letters)

    monkeypatch.setattr(secrets, "choice", watched)
    codes(act, 3)
    assert len(asked) == 3 * CODE_LENGTH
    assert set(asked) == {ALPHABET}


def test_codes_are_of_one_length_all_different_and_evenly_spread(act):
    drawn = codes(act)
    assert len(set(drawn)) == DRAWN
    assert {len(code) for code in drawn} == {CODE_LENGTH}
    count = Counter("".join(drawn))
    assert set(count) == set(ALPHABET)
    # Each of 32 letters is expected 200 times; six standard deviations are 84.
    expected = DRAWN * CODE_LENGTH / len(ALPHABET)
    spread = 6 * math.sqrt(expected * (1 - 1 / len(ALPHABET)))
    assert all(abs(n - expected) < spread for n in count.values())


def test_a_code_says_nothing_of_its_thing(act):
    board = factories.BoardFactory(number="B7777")
    code = tags.tag_for(act=act, thing=board).code
    assert "7777" not in code
    assert str(board.pk).zfill(4) not in code
