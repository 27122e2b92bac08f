from nursery.models import LivingThing


class Refused(Exception):
    """What cannot be: the record was not taken. ``sentence`` tells a person why and what to do.

    ``code`` is for machines; ``field`` names the form field it is about, if one is. A refusal is final: sending the
    same again is refused again. ``about`` is the thing to look at where that is another than the act's own.
    """

    def __init__(
        self,
        code: str,
        sentence: str,
        *,
        field: str | None = None,
        reasons: list[str] | None = None,
        about: LivingThing | None = None,
    ):
        super().__init__(sentence)
        self.code = code
        self.sentence = sentence
        self.field = field
        self.reasons = reasons or []
        self.about = about


class AlreadySent(Exception):
    """This act's UUID is on record with other values; ``act`` is the one on record. Nothing was written."""

    def __init__(self, act):
        super().__init__("This was already recorded, with other values.")
        self.act = act
