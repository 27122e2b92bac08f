"""Which cautions belong to a step of the season, said once: for the page of an act and for a tap that spares it.

``CARE`` is by kind of act. The pages of acts (``breeding.pages``), the round (``breeding.rounds.kinds``) and the
question on the page of a thing (``breeding.answers``) all read it, so that a tap is warned of like the form it spares.
"""

from nursery.cautions import cautions_for

CARE: dict[str, tuple[str, ...]] = {
    "spike_found": ("ladder",),
    "spike_look": ("ladder",),
    "pollen_collected": ("ladder", "tools", "desiccant"),
    "pollinated": ("ladder", "tools"),
    "take_look": ("ladder",),
    "pod_look": ("ladder",),
    "bagged": ("ladder",),
    "harvested": ("ladder", "dry_pods"),
    "pollen_received": ("permits", "desiccant"),
    "pollen_stored": ("desiccant",),
    "pollen_split": ("desiccant",),
    "pollen_sent": ("permits",),
    "seed_received": ("permits", "desiccant"),
    "seed_cleaned": ("dry_pods",),
    "seed_stored": ("desiccant",),
    "seed_split": ("desiccant",),
    "seed_sent": ("permits",),
    "sown": ("sowing", "tools"),
    "sowing_planned": ("sowing", "tools"),
    "pot_sown": ("sowing", "tools"),
    "pot_split": ("sowing", "tools"),
    "pot_cleared": ("moss",),
    "pot_gone": ("moss", "permits"),
    "pot_trouble": ("moss",),
    "routine_made": ("misting", "feeding"),
}
"""Steps of ``nursery.cautions``. A routine that is done calls for what its words say (``breeding.words.routines``)."""


def care_of(*acts: str) -> tuple[str, ...]:
    """The sentences to mind before any of these acts, each once; none for an act that hurts nobody.

    >>> care_of("bagged", "pod_look") == care_of("bagged") != ()
    True
    >>> care_of("pot_look")
    ()
    """
    return tuple(cautions_for(*(step for act in acts for step in CARE.get(act, ()))))
