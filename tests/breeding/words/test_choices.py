import pytest

from breeding.models import SowingSession
from breeding.words.choices import choice_words


@pytest.mark.parametrize(
    ("chosen", "typed", "said"),
    [
        ("steam", "", "steamed"),
        ("steam", "twice", "steamed (twice)"),
        ("other", "left in the sun", "left in the sun"),
        ("unknown", "by the friend who gave it", "by the friend who gave it"),
        ("unknown", "", ""),
    ],
)
def test_what_was_typed_stands_beside_what_was_chosen(chosen: str, typed: str, said: str):
    assert choice_words(SowingSession(sterilised=chosen, sterilised_words=typed), "sterilised") == said
