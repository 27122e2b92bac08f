"""One invented label a kind of thing, to see how a stock carries it. Pure."""

from labels.layout import LabelText, Leads

CROSS = (
    ("ampullaria", "taxon"),
    (" ", "plain"),
    ("Trowel", "clone"),
    (" × ", "plain"),
    ("veitchii", "taxon"),
    (" ", "plain"),
    ("Damask", "clone"),
)
PLANT = CROSS[:3]

EXAMPLES: dict[str, tuple[str, tuple[tuple[str, str], ...], tuple[str, ...], Leads]] = {
    "plant": ("Plant", PLANT, (), Leads.NAME),
    "section": (
        "Section",
        CROSS,
        ("pollinated 12 Nov 2026 · IF", "section 2 · tie: red · 14 flowers"),
        Leads.NAME,
    ),
    "pollenlot": ("Pollen", PLANT, ("collected 3 Nov 2026 · IF",), Leads.NAME_AND_DAY),
    "seedlot": ("Seed", CROSS, ("harvested 9 Mar 2027 · IF",), Leads.NAME_AND_DAY),
    "seedpot": ("Seed pot", CROSS, ("sown 11 Mar 2027 · IF", "2 pods"), Leads.NAME),
    "blank": ("", (), (), Leads.NUMBER),
}
"""Kind, name, lines, and what leads."""

NUMBER = 208746


def example(kind: str, address: str) -> LabelText:
    """The invented label of a kind.

    Raises:
        KeyError: no kind of which there is an example.
    """
    words, name, lines, leads = EXAMPLES[kind]
    return LabelText(NUMBER, address, words, name, lines, leads)
