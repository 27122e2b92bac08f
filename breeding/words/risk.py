"""A small share in the words people use for it."""

ROUND = (1000, 500, 200, 100, 50, 20, 10, 5, 3)
IN_WORDS = {
    3: "three",
    5: "five",
    10: "ten",
    20: "twenty",
    50: "fifty",
    100: "a hundred",
    200: "two hundred",
    500: "five hundred",
    1000: "a thousand",
}


def risk_words(risk: float, thing: str = "") -> str:
    """The share as "about one in so many", the nearest of a few round numbers by ratio; under one in 2000 by digits.

    Args:
        risk: a share inside (0, 1).
        thing: what it is a share of, in the singular; empty leaves it away.

    >>> risk_words(0.002), risk_words(0.05), risk_words(0.22), risk_words(0.0001)
    ('about one in five hundred', 'about one in twenty', 'about one in five', 'about one in 10,000')
    >>> risk_words(0.005, "pod")
    'about one pod in two hundred'
    """
    times, one = 1 / risk, f"about one {thing}".rstrip()
    if times > 2 * ROUND[0]:
        return f"{one} in {times:,.0f}"
    nearest = min(ROUND, key=lambda number: max(number / times, times / number))
    return f"{one} in {IN_WORDS[nearest]}"
