"""A plan as it was typed: its lines, what it takes, and what should be looked at again."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import Any

from breeding.forms.sowing_plan import LineForm, PlanForm
from breeding.records.sowing import MOST_POTS_A_SESSION, Line
from breeding.science import sowing
from breeding.sowing.lots import Choice, choices
from breeding.words.ages import plural


@dataclass(frozen=True)
class Row:
    """A lot on the page, with its form, what is suggested and what to mind."""

    choice: Choice
    form: LineForm
    suggested: str
    mind: str


class Plan:
    """Nothing is recorded here: a plan that is not right comes back as it was typed.

    With ``anew``, what was worked out before follows what else is typed; a plan that is made stays as it was shown.
    """

    def __init__(self, data: Mapping[str, Any] | None, today: date, *, anew: bool = True):
        self.form = PlanForm(data, initial={"planned_for": today})
        well = self.form.is_valid() if data is not None else True
        density = float(self.form.density_chosen)
        how = {"density": density, "anew": anew}
        forms = [LineForm(data, choice=choice, **how) for choice in choices(today, also=_taken(data or {}))]
        self.is_valid = all([well, *(form.is_valid() for form in forms if form.is_taken)])
        self.taken = [form for form in forms if form.is_taken]
        self.rows = [_row(form, density) for form in forms]

    @property
    def wrong_lines(self) -> list[LineForm]:
        """Those that must be looked at again."""
        return [form for form in self.taken if form.errors]

    @property
    def lines(self) -> list[Line]:
        """As the record function takes them; of a plan that is valid."""
        return [_line(form) for form in self.taken]

    @property
    def totals(self) -> sowing.Totals:
        told = [form.cleaned_data for form in self.taken if form.is_valid()]
        return sowing.totals(sowing.Planned(one["pots"] or 0, one["size"]) for one in told)

    @property
    def shown(self) -> str:
        """Tells whether what is made is what the totals were shown of."""
        lines = [(line.lot.pk, line.pots, line.pot_size, line.seeds, line.pods) for line in self.lines]
        said = lines, float(self.form.density_chosen)
        return sha256(repr(said).encode()).hexdigest()[:16]

    @property
    def totals_words(self) -> list[str]:
        """Pots, labels, density, moss, bench; each as a sentence."""
        found = self.totals
        told = [
            f"{plural(found.pots, 'pot')}, and {plural(found.labels, 'label')}: one for each.",
            *self._density_words(),
            f"About {_roughly(found.litres)} litres of medium, as it lies in the pots; pressed down it takes more.",
            f"About {_roughly(found.bench)} m² of bench, rim to rim.",
        ]
        if found.unmeasured:
            told.append(f"Without {plural(found.unmeasured, 'pot')} of another size, which nobody has measured here.")
        return [*told, *self._too_little_room(found.pots)]

    def _density_words(self) -> list[str]:
        """Of what goes by pods nobody counts the seeds."""
        if not any(form.is_valid() and form.cleaned_data["seeds"] for form in self.taken):
            return []
        return [f"Seeds are reckoned at {sowing.density_words(self.form.density_chosen)}."]

    def _too_little_room(self, pots: int) -> list[str]:
        """Said, never forbidden: pots can stand closer, or what stands there may go."""
        place = self.form.cleaned_data.get("place")
        left = self.form.fields["place"].room_left(place) if place else None
        if left is None or pots <= left:
            return []
        room = f"has room for {left} more" if left else "is full"
        return [f"{place.name} {room}: {plural(pots - left, 'pot')} would stand elsewhere."]

    @property
    def too_many(self) -> str:
        over = self.totals.pots > MOST_POTS_A_SESSION
        return f"Plan {MOST_POTS_A_SESSION} pots at most, and a second session for the rest." if over else ""


def _roughly(number: float) -> str:
    """Two figures: nobody fills pots more evenly than that.

    >>> [_roughly(number) for number in (0.179, 4.06, 12.34, 130.2)]
    ['0.18', '4.1', '12', '130']
    """
    return f"{number:.0f}" if number >= 10 else f"{number:.2g}"


def _taken(data: Mapping[str, Any]) -> set[int]:
    """The ids of the lots that are ticked."""
    told = (name.removeprefix("lot-").removesuffix("-take") for name in data if name.endswith("-take"))
    return {int(one) for one in told if one.isascii() and one.isdigit() and len(one) < 19}


def _line(form: LineForm) -> Line:
    told = form.cleaned_data
    size = sowing.BY_CODE.get(told["size"])
    words = size.words if size else ""
    return Line(form.choice.lot, told["pots"], words, seeds=told["seeds"], pods=told["pods"])


def _row(form: LineForm, density: float) -> Row:
    choice = form.choice
    share = choice.share(sowing.USUAL_SIZE, density)
    before = (
        f"{plural(choice.sown, 'pot')} of it {'is' if choice.sown == 1 else 'are'} sown already. "
        if choice.sown
        else ""
    )
    return Row(choice, form, before + _suggested(choice, share), _mind(form))


def _suggested(choice: Choice, share: sowing.Share) -> str:
    if share.each is None:
        return "Nobody has estimated its seeds: estimate them first, or say how many pots."
    if not share.pots:
        return "Nothing is left by the estimate: estimate again if there is."
    what = "pod" if choice.in_pods else "seed"
    left = f", {plural(share.left, what)} left over" if share.left else ""
    each = plural(share.each, what)
    into = "a pot" if share.pots == 1 else f"{share.pots} pots, each"
    return f"Suggested: {into} of {sowing.USUAL_SIZE.words} with {each}{left}."


def _mind(form: LineForm) -> str:
    """More planned than there is; said, never forbidden: an estimate is only that."""
    if not form.is_taken or not form.is_valid() or form.choice.free is None:
        return ""
    planned = (form.cleaned_data["pots"] or 0) * (form.cleaned_data["seeds"] or 0)
    if planned <= form.choice.free:
        return ""
    return f"{plural(planned, 'seed')} planned, but about {form.choice.free:,} are free by the estimate."
