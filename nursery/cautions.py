"""Short cautions, shown where the step happens and once more in the help.

They remind; they do not teach and claim no compliance. What a product's label, the local code or a doctor says comes
first, and no time of re-entry is ever worked out here. Strength beside each: G government, code or extension text,
P a paper, H one grower's page, M from memory, unchecked.
"""

from dataclasses import dataclass

FIRST = "What a product's label, your local codes and a doctor say comes before anything written here."


@dataclass(frozen=True)
class Step:
    """One step of the work, in the words of the help page, with what to mind."""

    words: str
    sentences: tuple[str, ...]


STEPS = {
    # G: ladders, extension pages; the eyes: M.
    "ladder": Step(
        "Looking at tall spikes",
        (
            "On a ladder: face it, keep both hands for it, and do not lean out. Put the phone away until you stand.",
            "Leaning in among canes, mind your eyes.",
        ),
    ),
    # G: alcohol wipes between plants; C: it kills pollen; G: flammable; G: bleach.
    "tools": Step(
        "Cleaning brushes, forceps and snips",
        (
            "Clean tools between plants with 70% alcohol and let them dry: wet alcohol kills pollen, and it burns, so "
            "no flame near it.",
            "Never mix bleach with acids, ammonia or alcohol; follow the product's label.",
        ),
    ),
    # M: all of it.
    "cuttings": Step(
        "Taking cuttings",
        (
            "Keep the guard on the blade and put used blades in the sharps tin.",
            "Disinfect between plants, and keep the pieces in the order in which you cut them.",
        ),
    ),
    # M: dry pods.
    "dry_pods": Step(
        "Harvesting and cleaning dry pods",
        ("Dry pods and chaff make fine dust: wear a dust mask and work away from a draught.",),
    ),
    # M: cobalt; H: cold packets.
    "desiccant": Step(
        "Storing pollen and seed dry",
        (
            "Use a desiccant without cobalt, and keep it out of mouths: follow its label.",
            "Let a cold packet warm up before you open it, or it draws water.",
        ),
    ),
    # P: sporotrichosis among nursery workers, J. Infect. Dis. 176(2):499-504, 1997; H: heat and perlite; M: the rest.
    "sowing": Step(
        "Preparing medium and sowing",
        (
            "Moss and its dust can carry sporotrichosis: wear gloves and sleeves, wet the moss first, and let a doctor "
            "see a sore that spreads.",
            "Heat medium only moist, never dry: it can smoulder. It scalds; let it cool before you touch it.",
            "Wet perlite down before pouring and wear a dust mask. Keep hot moss, alcohol and paper apart.",
        ),
    ),
    "moss": Step(
        "Handling moss and growth in pots",
        (
            "Moss and its dust can carry sporotrichosis: wear gloves and sleeves, wet the moss first, and let a doctor "
            "see a sore that spreads.",
        ),
    ),
    # G: sprays; this program shows what was typed and works out nothing.
    "sprays": Step(
        "Spraying",
        (
            "Follow the product's label and your local rules. The rate, and when anybody may go in again, stand on "
            "the label only; Tepal works out neither.",
        ),
    ),
    # M: legionella in warm stored water.
    "misting": Step(
        "Misting",
        ("Water stored warm and then misted can carry legionella: follow your local guidance.",),
    ),
    # C: the label comes first, as with sprays.
    "feeding": Step(
        "Feeding",
        ("What to give, how much, and how to keep it stand on the product's label. Tepal works out none of it.",),
    ),
    # G: bleach.
    "cleaning": Step(
        "Cleaning trays and benches",
        ("Never mix bleach with acids, ammonia or alcohol; follow the product's label.",),
    ),
    # M: all of it.
    "house": Step(
        "Heat and power",
        (
            "In a power cut, run a generator outdoors only, and no fuel heater in a closed house.",
            "In a hot house, drink, rest, and tell somebody where you are.",
        ),
    ),
    # G: the appendices; the annotations are unchecked, and a hybrid's rule is from memory.
    "permits": Step(
        "Buying, sending and selling",
        (
            "Most of the genus stands in a CITES appendix, and hybrids usually follow their strictest ancestor: ask "
            "your authority before anything crosses a border. Keep from whom, when and by which document it came.",
        ),
    ),
}


BRIEF = {
    "ladder": "On a ladder both hands for it.",
    "tools": "Alcohol burns: no flame. Never mix bleach with acids, ammonia or alcohol.",
    "cuttings": "Guard on the blade, disinfect between plants.",
    "dry_pods": "Dust mask.",
    "desiccant": "Keep desiccant out of mouths.",
    "sowing": "Gloves and sleeves for moss; heated medium scalds and can smoulder; dust mask for perlite.",
    "moss": "Gloves and sleeves for moss.",
    "sprays": "Follow the label and your local rules: rate and re-entry stand there only.",
    "misting": "Water stored warm can carry legionella.",
    "feeding": "Give what the label says.",
    "cleaning": "Never mix bleach with acids, ammonia or alcohol.",
    "house": "Generator outdoors only, no fuel heater in a closed house.",
    "permits": "Ask your authority before anything crosses a border.",
}
"""What of each step must stay visible where its sentences are folded away, the most dangerous first."""


def brief_for(cautions: list[str]) -> str:
    """The fewest words for these sentences; empty where they belong to no step.

    >>> brief_for(cautions_for("ladder", "cleaning"))
    'On a ladder both hands for it. Never mix bleach with acids, ammonia or alcohol.'
    >>> brief_for(["No public address is set."])
    ''
    """
    told = {code: set(step.sentences) for code, step in STEPS.items() if set(step.sentences) <= set(cautions)}
    within = {code for code, own in told.items() if any(own < other for other in told.values())}
    return " ".join(BRIEF[code] for code in told if code not in within)


def cautions_for(*steps: str) -> list[str]:
    """The sentences of these steps, each once, in order.

    Raises:
        KeyError: no such step.

    >>> len(cautions_for("ladder", "ladder"))
    2
    """
    return list(dict.fromkeys(sentence for step in steps for sentence in STEPS[step].sentences))
