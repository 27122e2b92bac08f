"""A stocktake links what was seen, remembers what was missed, and says nothing of anything else."""

from nursery.records.flags import open_flags
from nursery.records.moves import moved
from nursery.records.plants import plant_gone
from nursery.records.stocktakes import not_found, stocktake_taken
from nursery.records.undo import undone
from tests.making import Nursery


def test_it_links_each_thing_seen_and_moves_nothing(nursery: Nursery) -> None:
    bench = nursery.bench()
    here, missed, unlisted, stranger = (nursery.plant(place=bench) for _ in range(4))
    nursery.record(moved, thing=stranger, place=nursery.bench())
    act = nursery.record(stocktake_taken, place=bench, seen=[here, stranger], missed=[missed])
    assert set(act.links.values_list("thing_id", flat=True)) == {here.pk, stranger.pk}
    assert list(act.stocktake.missed.values_list("pk", flat=True)) == [missed.pk]
    assert act.stocktake.seen == 2
    stranger.refresh_from_db()
    assert stranger.place != bench
    for one in (missed, unlisted):
        assert not one.thing.links.filter(act=act).exists()


def test_the_same_things_in_another_order_are_the_same_act(nursery: Nursery) -> None:
    bench, things, new = nursery.bench(), [nursery.plant(), nursery.pot()], nursery.act()
    act = stocktake_taken(act=new, place=bench, seen=things)
    assert stocktake_taken(act=new, place=bench, seen=things[::-1]) == act


def test_what_was_recorded_as_gone_and_is_seen_is_flagged(nursery: Nursery) -> None:
    plant = nursery.plant(nursery.clone("lowii", "hammer"))
    nursery.record(plant_gone, plant=plant, why="died")
    act = nursery.record(stocktake_taken, place=nursery.bench(), seen=[plant])
    assert act.flags.get().sentence == (
        "Recorded as gone before, but stands here: plant of lowii hammer. Or another one's tag?"
    )


def test_an_empty_bench_can_be_told(nursery: Nursery) -> None:
    assert nursery.record(stocktake_taken, place=nursery.bench(), seen=[]).stocktake.seen == 0


def test_not_found_waits_to_be_sorted_out_until_it_is_undone(nursery: Nursery) -> None:
    bench = nursery.bench("Long bench")
    plant = nursery.plant(place=bench)
    act = nursery.record(not_found, thing=plant, place=bench)
    flag = open_flags().get()
    assert (flag.code, flag.thing_id) == ("not_found", plant.pk)
    assert flag.sentence == "Not found at the stocktake of Long bench. Gone, moved, or without its tag?"
    plant.refresh_from_db()
    assert plant.is_open and plant.place == bench
    undone(act=nursery.act(), target=act)
    assert not open_flags().exists()
