"""Planning a sowing at the desk, sowing it at the bench, clearing what was not sown."""

import uuid
from datetime import timedelta
from decimal import Decimal
from typing import Any
from urllib.parse import quote

import pytest
from django.test import Client
from django.utils.html import escape

from breeding.models import SeedLot, SeedPot, SowingSession
from breeding.records import posted, seed, sowing
from nursery.cautions import cautions_for
from nursery.days import Day
from nursery.models import Act, Person
from nursery.records.places import place_made, room_told
from nursery.records.undo import undone
from tests.making import Nursery, ago, birth_of, tag_of, today

pytestmark = pytest.mark.django_db
PLAN = "/sowings/new/"


def _plan(lot: SeedLot, *, do: str = "totals", pots: str = "", seeds: str = "", **more: Any) -> dict[str, Any]:
    line = {"take": "on", "pots": pots, "seeds": seeds, "pods": "", "size": "7cm"}
    values = {f"lot-{lot.pk}-{name}": value for name, value in line.items()}
    evening = {"planned_for": today().isoformat(), "sterilised": "steam", "medium": "milled moss", "density": "1"}
    return {"act_id": uuid.uuid4(), "do": do} | values | evening | more


def _worked_out(client: Client, values: dict[str, Any]) -> dict[str, Any]:
    """What the button that makes it sends, once the totals were shown: what was left empty is filled in."""
    plan = client.post(PLAN, values).context["plan"]
    filled = {form.add_prefix(name): form[name].value() or "" for form in plan.taken for name in form.fields}
    return values | filled | {"do": "make", "shown": plan.shown}


def test_a_plan_is_worked_out_and_then_made(nursery: Nursery, as_grower: Client) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    values = _plan(lot)
    page = as_grower.post(PLAN, values)
    assert page.status_code == 200
    assert not SowingSession.objects.exists(), "totals make nothing"
    assert page.context["totals"][0] == "3 pots, and 3 labels: one for each."
    assert 'value="33"' in page.text, "100 seeds at one to a square centimetre are three pots of 33"
    values = _worked_out(as_grower, values)
    answer = as_grower.post(PLAN, values)
    session = SowingSession.objects.get()
    assert (answer.status_code, answer.headers["Location"]) == (302, f"/sowings/{session.pk}/")
    assert (session.pots_planned, session.medium, session.sterilised) == (3, "milled moss", "steam")
    again = as_grower.post(PLAN, values)
    assert again.headers["Location"] == answer.headers["Location"]
    assert SowingSession.objects.count() == 1


def test_a_plan_for_a_day_that_was_over_is_asked_about_once(nursery: Nursery, as_grower: Client) -> None:
    values = _worked_out(as_grower, _plan(nursery.seed(estimate=100, days_ago=9), planned_for="2020-01-01"))
    asked = as_grower.post(PLAN, values)
    assert (asked.status_code, SowingSession.objects.count()) == (422, 0)
    assert "It is planned for 1 Jan 2020, a day that was over. A slip?" in asked.text
    assert f'name="shown" value="{values["shown"]}"' in asked.text
    values.pop("do")
    answer = as_grower.post(PLAN, values | {"anyway": "yes", "objections_seen": "planned_for_past"})
    session = SowingSession.objects.get()
    assert (answer.status_code, session.planned_for.year) == (302, 2020)
    assert [flag.code for flag in birth_of(session).flags.all()] == ["planned_for_past"]
    assert as_grower.post(PLAN, values | {"do": "make"}).status_code == 302, "sent again it is the same"


def test_a_line_says_how_many_pots_were_sown_of_it(nursery: Nursery, as_grower: Client) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    assert "sown already" not in as_grower.get(PLAN).text
    nursery.pots(3, lot, days_ago=2)
    assert "3 pots of it are sown already." in as_grower.get(PLAN).text


SUGGESTED = "about 1 seed to a square centimetre: one grower's page"


def _amounts(page: Any) -> list[str]:
    [form] = page.context["plan"].taken
    return [str(form[name].value() or "") for name in ("pots", "seeds")]


@pytest.mark.parametrize(
    ("chosen", "stored", "words"),
    [
        ("0.5", "0.50", f"0.5 seeds to a square centimetre, chosen here (suggested: {SUGGESTED})"),
        ("", "1.00", f"1 seed to a square centimetre, as suggested: {SUGGESTED}"),
    ],
)
def test_the_density_chosen_is_kept_and_told_beside_the_suggested_one(
    nursery: Nursery, as_grower: Client, chosen: str, stored: str, words: str
) -> None:
    values = _plan(nursery.seed(estimate=100, days_ago=9), density=chosen)
    page = as_grower.post(PLAN, values)
    assert f"Seeds are reckoned at {words}." in page.context["totals"]
    session_page = as_grower.post(PLAN, _worked_out(as_grower, values), follow=True)
    session = SowingSession.objects.get()
    assert str(session.density) == stored
    assert escape(words) in session_page.text
    assert f"{float(session.density):g} to a cm²" in session_page.text, "and in its story"
    nursery.record(sowing.sowing_changed, session=session, medium="bark")
    assert SowingSession.objects.get().density == session.density, "another medium is no other density"


def test_the_share_that_is_filled_is_the_one_told_on_a_day_that_is_known(nursery: Nursery, as_grower: Client) -> None:
    lot = nursery.seed(days_ago=9)
    for day, percent in ((Day.unknown(), 20), (ago(3), 80)):
        facts = {"seeds": 100, "estimate_from": "counted", "filled_percent": percent}
        nursery.record(seed.seed_cleaned, lot=lot, day=day, **facts)
    assert "80% of them filled" in as_grower.get(PLAN).content.decode()


def test_a_session_of_which_nobody_chose_a_density_tells_none(nursery: Nursery, as_grower: Client) -> None:
    session = nursery.sowing()
    assert session.density is None
    assert "to a square centimetre" not in as_grower.get(f"/sowings/{session.pk}/").text
    lot = nursery.seed(estimate=100, days_ago=9)
    in_pods = as_grower.post(PLAN, _plan(lot, pots="2") | {f"lot-{lot.pk}-pods": "1"})
    assert not any("reckoned" in one for one in in_pods.context["totals"]), "of pods nobody counts the seeds"


def test_what_was_worked_out_follows_another_density_or_size_and_what_was_typed_stays(
    nursery: Nursery, as_grower: Client
) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    values = _plan(lot)
    assert _amounts(as_grower.post(PLAN, values)) == ["3", "33"]
    worked_out = _worked_out(as_grower, values)
    assert "worked_out" in as_grower.post(PLAN, values).text, "the page sends along what it worked out"
    half = as_grower.post(PLAN, worked_out | {"density": "0.5"})
    assert not SowingSession.objects.exists() and "The plan changed since its totals were shown." in half.text
    assert _amounts(half) == ["6", "16"]
    assert _amounts(as_grower.post(PLAN, worked_out | {f"lot-{lot.pk}-size": "5cm"})) != ["3", "33"]
    typed = worked_out | {"density": "0.5", f"lot-{lot.pk}-seeds": "30"}
    assert _amounts(as_grower.post(PLAN, typed)) == ["3", "30"]


def test_a_plan_is_corrected_while_its_pots_stay_also_once_seed_is_in_them(nursery: Nursery, as_owner: Client) -> None:
    lot, other, bench, wrong = nursery.seed(days_ago=9), nursery.seed(days_ago=9), nursery.bench(), nursery.bench()
    lines = [sowing.Line(lot, 2, "7 cm", seeds=30), sowing.Line(other, 1, pods=2), sowing.Line(lot, 1, seeds=9)]
    session = nursery.sowing(*lines, place=wrong, medium="bark", density=Decimal("0.5"))
    first, *rest = SeedPot.objects.filter(session=session).order_by("pk")
    numbers = [tag_of(pot).number for pot in (first, *rest)]
    nursery.record(sowing.pot_sown, pot=first, seeds=30, all_of_it=True)
    planned = birth_of(session)
    assert f'href="/acts/{planned.pk}/correct/"' in as_owner.get(f"/sowings/{session.pk}/?change=yes").text
    page = as_owner.get(f"/acts/{planned.pk}/correct/")
    assert "Its pots stay as they are" in page.text and 'value="bark"' in page.text
    day = today() + timedelta(days=3)
    sent = {"planned_for": day.isoformat(), "place": bench.pk, "medium": "moss", "act_id": uuid.uuid4()}
    other_way = as_owner.post(f"/acts/{planned.pk}/correct/", sent | {"sterilised": "other"})
    assert (other_way.status_code, "Say in words how the medium was sterilised." in other_way.text) == (422, True)
    answer = as_owner.post(f"/acts/{planned.pk}/correct/", sent)
    assert (answer.status_code, answer.url) == (302, f"/sowings/{session.pk}/")
    session.refresh_from_db()
    told = (session.planned_for, session.place, session.medium, session.density)
    assert told == (day, bench, "moss", Decimal("0.5"))
    assert (session.pots_planned, session.pots_sown) == (4, 1)
    pots = list(SeedPot.objects.filter(session=session).order_by("pk"))
    assert [tag_of(pot).number for pot in pots] == numbers
    assert {pot.place for pot in pots} == {bench}
    assert (pots[0].seeds, pots[0].unsown) == (30, False)
    amounts = [(pot.lot, pot.pot_size, pot.planned_seeds, pot.planned_pods) for pot in pots]
    assert amounts == [*[(lot, "7 cm", 30, None)] * 2, (other, "", None, 2), (lot, "", 9, None)]

    nursery.record(sowing.pot_cleared, pot=rest[0], why="no_time")
    undone(act=nursery.act(), target=Act.objects.get(replaces=planned))
    session.refresh_from_db()
    assert (session.place, session.medium, session.pots_cleared) == (wrong, "bark", 1), (
        "the version before stands again"
    )


def test_the_place_of_a_corrected_plan_stays_where_it_is_gone_by_now(nursery: Nursery, as_owner: Client) -> None:
    bench = nursery.bench()
    session = nursery.sowing(place=bench)
    planned = birth_of(session)
    type(bench).objects.filter(pk=bench.pk).update(closed_on=today())
    page = as_owner.get(f"/acts/{planned.pk}/correct/").text
    assert f'<option value="{bench.pk}" selected>' in page


def test_the_page_of_a_session_leads_to_tags_and_bench(nursery: Nursery, as_grower: Client, as_viewer: Client) -> None:
    session = nursery.sowing()
    page = as_grower.get(f"/sowings/{session.pk}/").text
    for address in (f"/labels/?sowing={session.pk}", f"/sowings/{session.pk}/bench/", f"/sowings/{session.pk}/close/"):
        assert f'href="{address}"' in page
        assert f'href="{address}"' not in as_viewer.get(f"/sowings/{session.pk}/").text
    assert 'href="/sowings/new/"' in as_grower.get("/seed/").text


def test_cautions_stand_on_top_of_a_session_while_a_pot_waits_and_at_the_bench(nursery: Nursery, as_grower: Client):
    session = nursery.sowing(sowing.Line(nursery.seed(estimate=90, days_ago=9), 1, seeds=30))
    cautions = [*cautions_for("sowing"), *cautions_for("tools")]
    for url in (f"/sowings/{session.pk}/", f"/sowings/{session.pk}/bench/", PLAN):
        page = as_grower.get(url)
        assert [one for one in cautions if escape(one) not in page.text] == [], url
    nursery.record(sowing.pot_sown, pot=SeedPot.objects.get(session=session), seeds=30)
    assert as_grower.get(f"/sowings/{session.pk}/").context["cautions"] == []


def test_nothing_typed_is_lost_on_bad_input(nursery: Nursery, as_grower: Client) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    values = _plan(lot, pots="0", seeds="-4", planned_for="soon", sterilised="other", medium="coir & moss")
    page = as_grower.post(PLAN, values)
    assert page.status_code == 422
    for sentence in (
        "Say into how many pots, or take the tick away.",
        "Write the day as year-month-day, for example 2026-03-09.",
        "Say in words how the medium was sterilised.",
    ):
        assert sentence in page.text
    assert 'value="coir &amp; moss"' in page.text
    assert 'value="-4"' in page.text


def test_a_changed_plan_shows_its_totals_before_it_is_made(nursery: Nursery, as_grower: Client) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    shown = as_grower.post(PLAN, _plan(lot, pots="2")).context["plan"].shown
    page = as_grower.post(PLAN, _plan(lot, pots="90", seeds="30", do="make", shown=shown))
    assert "The plan changed since its totals were shown. Look at them once more." in page.text
    assert "2,700 seeds planned, but about 100 are free by the estimate." in page.text
    assert not SowingSession.objects.exists()


def test_a_plan_of_no_seed_or_of_seed_that_is_gone_says_so(nursery: Nursery, as_grower: Client) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    nothing = {name: value for name, value in _plan(lot, do="make").items() if not name.endswith("-take")}
    assert "Say for at least one seed lot into how many pots it goes." in as_grower.post(PLAN, nothing).text
    values = _plan(lot, pots="2", seeds="30")
    shown = as_grower.post(PLAN, values).context["plan"].shown
    nursery.record(seed.seed_finished, lot=lot)
    page = as_grower.post(PLAN, values | {"do": "make", "shown": shown})
    assert (page.status_code, SowingSession.objects.count()) == (422, 0)
    assert "nothing is left by now. Take it out of the plan." in page.text
    assert f'name="lot-{lot.pk}-pots" value="2"' in page.text


def test_leave_it_leads_back_to_the_bench(nursery: Nursery, as_grower: Client) -> None:
    session = nursery.sowing(sowing.Line(nursery.seed(days_ago=3), 1, pods=1))
    pot, bench = SeedPot.objects.get(session=session), f"/sowings/{session.pk}/bench/"
    form = f"/pots/{pot.pk}/sown/?next={quote(bench, safe='')}"
    assert f'href="{form}"' in as_grower.get(bench).text
    assert f'href="{bench}">Leave it' in as_grower.get(form).text


def test_the_next_pot_of_the_same_cross_is_offered(nursery: Nursery, as_grower: Client) -> None:
    one, other = nursery.seed(estimate=90, days_ago=9), nursery.seed(days_ago=3)
    session = nursery.sowing(sowing.Line(one, 2, seeds=30), sowing.Line(other, 1, pods=1))
    first, second, third = SeedPot.objects.filter(session=session).order_by("pk")
    bench = f"/sowings/{session.pk}/bench/"
    scanned = as_grower.get(f"/t/{tag_of(first).number}/").text
    assert "Sown now: 30 seeds" in scanned
    sown = as_grower.post(f"/pots/{first.pk}/sown/", {"act_id": uuid.uuid4(), "quick": "planned"})
    assert sown.headers["Location"] == f"{bench}?after={first.pk}"
    page = as_grower.get(sown.headers["Location"])
    assert page.context["bench"].now.pots[0].number == tag_of(second).number
    assert "about 60 seeds left by the estimate" in page.text
    as_grower.post(f"/pots/{second.pk}/sown/", {"act_id": uuid.uuid4(), "seeds": "12", "all_of_it": "on"})
    page = as_grower.get(f"{bench}?after={second.pk}")
    assert page.context["bench"].now.pots[0].number == tag_of(third).number
    assert "That was the last pot of" in page.text
    assert "nothing is left of it" in page.text
    as_grower.post(f"/pots/{third.pk}/sown/", {"act_id": uuid.uuid4(), "quick": "planned"})
    assert "No pot waits any more." in as_grower.get(bench).text
    assert list(SeedPot.objects.filter(session=session).order_by("pk").values_list("seeds", flat=True)) == [
        30,
        12,
        None,
    ]


def test_whoever_scans_another_cross_before_the_one_in_hand_is_done_is_told(
    nursery: Nursery, as_grower: Client, as_owner: Client
) -> None:
    one, other = nursery.seed(estimate=90, days_ago=9), nursery.seed(days_ago=3)
    part = nursery.made(posted.seed_split, lot=one, days_ago=1)
    session = nursery.sowing(*(sowing.Line(lot, pots, seeds=30) for lot, pots in ((one, 2), (other, 1), (part, 1))))
    first, second, third, alike = SeedPot.objects.filter(session=session).order_by("pk")
    warning = "Another cross: you are sowing "

    def told(client: Client, pot: SeedPot) -> list[str]:
        return [words for words in client.get(f"/t/{tag_of(pot).number}/").context["notices"] if warning in words]

    assert told(as_grower, third) == [], "nothing is in hand yet"
    as_grower.post(f"/pots/{first.pk}/sown/", {"act_id": uuid.uuid4(), "quick": "planned"})
    [words] = told(as_grower, third)
    assert ", 1 pot to go. Sow those first, or take clean paper and clean hands." in words
    assert (told(as_grower, second), told(as_grower, alike)) == ([], []), "the same cross"
    assert told(as_owner, third) == [], "another's hands"
    as_grower.post(f"/pots/{second.pk}/sown/", {"act_id": uuid.uuid4(), "quick": "planned"})
    assert told(as_grower, third) == [], "the cross in hand is done"


def test_the_cautions_stand_by_a_scanned_pot_until_it_is_sown(nursery: Nursery, as_grower: Client) -> None:
    pot, cautions = nursery.prepared_pot(), cautions_for("sowing", "tools")
    assert as_grower.get(f"/t/{tag_of(pot).number}/").context["cautions"] == cautions
    nursery.record(sowing.pot_sown, pot=pot, seeds=30)
    assert not set(cautions) & set(as_grower.get(f"/t/{tag_of(pot).number}/").context["cautions"])


def test_a_pot_that_somebody_else_sowed_is_asked_about(nursery: Nursery, as_grower: Client) -> None:
    pot = nursery.prepared_pot(nursery.seed(estimate=90, days_ago=9))
    nursery.record(sowing.pot_sown, pot=pot, seeds=30)
    answer = as_grower.post(f"/pots/{pot.pk}/sown/", {"act_id": uuid.uuid4(), "quick": "planned"})
    assert answer.status_code == 422
    assert "This pot was sown before, as Ida Fern has told. Once again, or another pot&#x27;s tag?" in answer.text
    assert Act.objects.filter(kind="pot_sown").count() == 1
    assert "Sown now" not in as_grower.get(f"/pots/{pot.pk}/").text
    again = {"act_id": uuid.uuid4(), "quick": "planned", "anyway": "yes", "objections_seen": "pot_sown_before"}
    page = as_grower.post(f"/pots/{pot.pk}/sown/", again, follow=True)
    assert "It is kept, and waits under" in page.text


def test_whoever_leaves_a_pot_that_somebody_else_sowed_is_at_the_bench_again(
    nursery: Nursery, as_grower: Client
) -> None:
    pot = nursery.prepared_pot(nursery.seed(estimate=90, days_ago=9))
    bench = f"/sowings/{pot.session_id}/bench/"
    address = as_grower.get(bench).context["bench"].now.pots[0].sown.url
    nursery.record(sowing.pot_sown, pot=pot, seeds=30)
    asked = as_grower.post(address, {"act_id": uuid.uuid4(), "quick": "planned"})
    assert (asked.status_code, asked.context["cancel_url"]) == (422, bench)


def test_what_is_listed_is_cleared_by_one_tap_and_brought_back_by_one_undo(nursery: Nursery, as_grower: Client) -> None:
    session = nursery.sowing(sowing.Line(nursery.seed(days_ago=9), 3, seeds=30))
    url, pots = f"/sowings/{session.pk}/close/", list(SeedPot.objects.filter(session=session).order_by("pk"))
    assert "Clear 3 pots" in as_grower.get(url).text
    nursery.record(sowing.pot_sown, pot=pots[0], seeds=30)
    values = {"act_id": uuid.uuid4(), "things": [pot.pk for pot in pots]}
    assert "Say why." in as_grower.post(url, values).text
    for _ in range(2):
        answer = as_grower.post(url, values | {"why": "no_time"})
        assert answer.headers["Location"] == f"/sowings/{session.pk}/"
    page = as_grower.get(answer.headers["Location"])
    assert "1 pot was sown meanwhile, and counted as sown." in page.text
    session.refresh_from_db()
    assert (session.pots_sown, session.pots_cleared, session.is_open) == (1, 2, False)
    as_grower.post(page.context["undo"]["url"], {"act_id": uuid.uuid4()})
    session.refresh_from_db()
    assert (session.pots_cleared, session.is_open) == (0, True)
    cleared = nursery.prepared_pot(nursery.seed(days_ago=9))
    nursery.record(sowing.pot_cleared, pot=cleared, why="spoilt")
    assert "never sown, cleared" in as_grower.get(f"/t/{tag_of(cleared).number}/").text


def test_only_those_who_record_open_these_pages(
    nursery: Nursery, as_viewer: Client, stranger: Client, as_owner: Client
) -> None:
    session = nursery.sowing()
    for url in (PLAN, f"/sowings/{session.pk}/bench/", f"/sowings/{session.pk}/close/"):
        assert as_owner.get(url).status_code == 200
        assert as_viewer.get(url).status_code == 403
        assert stranger.get(url).headers["Location"].startswith("/sign-in/")
    for url in (PLAN, f"/sowings/{session.pk}/close/"):
        assert as_viewer.post(url, {"why": "no_time", "do": "make"}).status_code == 403
    assert Act.objects.filter(kind__in=("sowing_planned", "pot_cleared")).count() == 1


@pytest.mark.parametrize("nasty", ["", "9" * 5000, "<script>alert('x')</script>", "лови́я 猪籠草", "🌱", "a\x00b", "-4"])
def test_nasty_input_makes_nothing_and_breaks_nothing(nursery: Nursery, as_owner: Client, nasty: str) -> None:
    lot, session = nursery.seed(estimate=100, days_ago=9), nursery.sowing()
    values = {name: nasty for name in _plan(lot) if name not in {"act_id", "do", "medium"} and "-take" not in name}
    values |= {
        f"lot-{lot.pk}-take": "on",
        f"lot-{nasty[:90]}-take": "on",
        "do": "make",
        "medium": nasty[:100],
        "place": nasty,
    }
    for url, sent in ((PLAN, values), (f"/sowings/{session.pk}/close/", {"why": nasty, "things": nasty})):
        page = as_owner.post(url, sent)
        assert page.status_code == 422
        assert "<script>alert" not in page.text
    assert as_owner.get(f"/sowings/{session.pk}/bench/", {"lot": nasty, "after": nasty}).status_code == 200
    assert SowingSession.objects.count() == 1


def test_the_pages_ask_as_often_for_many_as_for_few(
    nursery: Nursery, as_grower: Client, django_assert_max_num_queries: Any, owner: Person
) -> None:
    as_grower.get("/more/")
    counts: dict[str, list[int]] = {}
    for many in (1, 4):
        lines = [sowing.Line(nursery.seed(estimate=90, days_ago=9), many, seeds=9) for _ in range(many)]
        session = nursery.sowing(*lines)
        for url in (PLAN, f"/sowings/{session.pk}/bench/", f"/sowings/{session.pk}/close/"):
            with django_assert_max_num_queries(14) as asked:
                assert as_grower.get(url).status_code == 200
            counts.setdefault(url.rstrip("/").rpartition("/")[2], []).append(len(asked))
    assert all(few == more for few, more in counts.values()), counts


def test_a_place_says_how_many_more_pots_it_takes(nursery: Nursery, as_grower: Client) -> None:
    lot, bench = nursery.seed(estimate=100, days_ago=9), nursery.bench("North")
    nursery.record(room_told, place=bench, pots=4)
    nursery.pot(place=bench)
    nursery.sowing(place=bench)
    assert "North: 1 seed pot; room for 2 more of 4" in as_grower.get(PLAN).text
    told = as_grower.post(PLAN, _plan(lot, place=bench.pk)).context["totals"]
    assert told[-1] == "North has room for 2 more: 1 pot would stand elsewhere."
    assert "elsewhere" not in str(as_grower.post(PLAN, _plan(lot, pots="2", place=bench.pk)).context["totals"])
    nursery.pot(place=nursery.made(place_made, name="Tray 1", size="tray", inside=bench))
    assert "North: 2 seed pots; room for 1 more of 4" in as_grower.get(PLAN).text, "its trays stand on it"
    nursery.record(room_told, place=bench, pots=1)
    assert "North: 2 seed pots; full, as it takes 1" in as_grower.get(PLAN).text
    told = as_grower.post(PLAN, _plan(lot, pots="2", place=bench.pk)).context["totals"]
    assert told[-1] == "North is full: 2 pots would stand elsewhere."
