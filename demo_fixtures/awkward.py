"""What does not go by the book. Each function is one case, with what should be seen of it."""

from datetime import time

from breeding.records.pods import harvested, pods_looked_at, take_read
from breeding.records.pollen import pollen_collected, pollen_finished, pollen_received
from breeding.records.posted import outcome_told, seed_sent
from breeding.records.pots import pot_looked_at, pot_split, seedlings_lost, trouble_seen
from breeding.records.redetermined import clone_redetermined
from breeding.records.sections import section_dabbed, section_pollinated
from breeding.records.seed import seed_cleaned, seed_received
from breeding.records.spikes import spike_found, spike_looked
from demo_fixtures.diary import ActOf, Blank, Diary, FlagOf, InDays, The
from demo_fixtures.sections import Pods, write_section
from demo_fixtures.seed import Sowing, write_sowing
from demo_fixtures.told import NOT_KNOWN, about_week, in_month, in_season, on
from nursery.records.flags import flag_settled, flags_settled
from nursery.records.plants import plant_gone
from nursery.records.remarks import remarked
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from nursery.records.watching import postponed, resumed, stopped, walked_past


def contradictory_sex(diary: Diary) -> None:
    """One clone, male two years ago and female now: more likely a swapped label than a change. Still to sort out."""
    male, female = The("a sanguinea"), The("d sanguinea")
    plant = The("sanguinea A 1")
    diary.write(688, spike_found, makes=["a sanguinea"], plant=plant, seen="growing")
    diary.write(660, spike_looked, spike=male, seen="buds", sex="male", sex_from="buds")
    diary.write(646, spike_looked, spike=male, seen="showing", sex="male", sex_from="flowers")
    diary.write(619, spike_looked, spike=male, seen="over")
    diary.write(43, spike_found, makes=["d sanguinea"], plant=plant, seen="growing")
    diary.write(20, spike_looked, spike=female, seen="buds", sex="female", sex_from="buds")
    diary.write(4, spike_looked, spike=female, seen="open", sex="female", sex_from="flowers", key="female now")
    diary.write(
        4, remarked, by="Marta", thing=plant, words="I would bet that two tags were swapped at the last repotting."
    )


def buds_misread(diary: Diary) -> None:
    """Buds read as female turned out male when they opened. Settled: the flowers decide."""
    spike = The("c apron")
    diary.write(118, spike_found, makes=["c apron"], plant=The("apron 1"), seen="growing")
    diary.write(97, spike_looked, spike=spike, seen="buds", sex="female", sex_from="buds")
    diary.write(83, spike_looked, spike=spike, seen="open", sex="male", sex_from="flowers", key="male after all")
    diary.write(82, flag_settled, by="Marta", flag=FlagOf("male after all", "buds_misread"), note="They were fat buds.")
    diary.write(52, spike_looked, spike=spike, seen="over")


def lost_tag(diary: Diary) -> None:
    """Two crosses on one spike, and one of the two tags gone: the ties tell which. A blank tag took its place."""
    section = The("b corduroy/2")
    diary.write(
        241,
        tag_bound,
        by="Ines",
        thing=section,
        number=Blank(0),
        note="Tag gone. Red wool is the first section, so the white wire must be this one.",
    )


def mixed_pollen(diary: Diary) -> None:
    """Two males shaken into one paper: the father is one of these."""
    spikes = [The("a pliers"), The("a rasp")]
    diary.write(643, pollen_collected, makes=["a mixed pollen"], spikes=spikes, storage="dry_bench", key="two in one")
    diary.write(642, flag_settled, by="Marta", flag=FlagOf("two in one", "pollen_mixed"), note="On purpose.")
    diary.write(630, pollen_finished, lot=The("a mixed pollen"))
    write_section(diary, Pods("a chisel/4", "a mixed pollen", 640, 9, "black wire", "half", 108, ()))
    diary.write(525, seed_cleaned, lot=The("a chisel/4 seed"), seeds=300, estimate_from="guessed")
    write_sowing(diary, Sowing("a chisel/4", "a chisel/4", 524, "tray 1", 75, (58, 66)))


def father_unknown(diary: Diary) -> None:
    """Pods found on a spike that nobody had written down: some moth knows the father. Days as vague as they are."""
    diary.write(
        512,
        spike_found,
        told=in_season(600),
        makes=["found spike"],
        plant=The("teapot 2"),
        seen="showing",
        sex="female",
        sex_from="flowers",
        position="behind the pipe",
    )
    diary.write(512, spike_looked, spike=The("found spike"), seen="over")
    diary.write(
        512,
        section_pollinated,
        told=in_season(590),
        makes=["found pods"],
        spike=The("found spike"),
        size="10",
        tag=Blank(1),
        note="Found pods. Nobody did this, so the father is unknown.",
    )
    diary.write(
        509, harvested, makes=["found pods seed"], section=The("found pods"), what="section", pods=4, pods_open=1
    )
    write_sowing(diary, Sowing("found pods", "found pods", 498, "tray 1", None, (62,), pods=4))


def split_and_fallen(diary: Diary) -> None:
    """Pods that opened before anybody came: the seed is on the floor."""
    section = The("b oilcloth/3")
    facts = {"spike": The("b oilcloth"), "lot": The("b whisk pollen"), "flowers": 14, "tie": "white wire"}
    diary.write(284, section_pollinated, makes=["b oilcloth/3"], **facts)
    diary.write(242, take_read, section=section, swelling="most")
    for ago in (206, 180, 158):
        diary.write(ago, pods_looked_at, section=section, seen="green")
    diary.write(
        139,
        pods_looked_at,
        by="Teo",
        section=section,
        seen="split",
        pods_left=0,
        note="All on the floor. First hot week, and I did not go to the cool house.",
    )


def seed_by_post(diary: Diary) -> None:
    """Seed in a matchbox, known by its words only; and seed of a mother that we know from a letter."""
    diary.write(
        381,
        seed_received,
        by="Marta",
        told=NOT_KNOWN,
        makes=["matchbox seed"],
        words="“warm one, purple, from the hill”",
        seeds=60,
        tag=Blank(2),
    )
    write_sowing(diary, Sowing("matchbox", "matchbox", 378, "tray 1", 30, (171, 0)))
    facts = {"seed_parent": The("letter friend"), "words": "mother is the round pot in her kitchen", "storage": "room"}
    diary.write(116, seed_received, by="Marta", told=in_month(170), makes=["letter seed"], **facts)
    write_sowing(diary, Sowing("letter", "letter", 92, "cool seed", None, (0,), last_look=18))
    # The matchbox has its answer; the second pot is not worth a look any more.
    diary.write(57, stopped, thing=The("matchbox pot 2"))


def redetermined(diary: Diary) -> None:
    """Bought as a thorelii, and no thorelii by its flowers: all that bears its name had its tag printed again."""
    diary.write(
        96,
        clone_redetermined,
        by="Marta",
        told=in_month(120),
        key="no thorelii",
        clone=The("awl"),
        words="a hybrid of thorelii",
        why="its male flowers stand in twos, and the seller wrote that his labels had fallen off",
    )
    note = "Printed them on a wet Sunday."
    facts = {"brought_by": ActOf("no thorelii"), "code": "parent_redetermined"}
    diary.write(94, flags_settled, by="Marta", note=note, **facts)


def pollen_by_post(diary: Diary) -> None:
    """Pollen of unknown age: nothing is guessed from it. It did not take."""
    diary.write(
        125,
        pollen_received,
        by="Marta",
        told=NOT_KNOWN,
        makes=["letter pollen"],
        clone=The("letter friend"),
        note="The paper smells of mould. Try it all the same.",
    )
    write_section(diary, Pods("c spatula/3", "letter pollen", 122, 11, "yellow wool", "none", dabs=()))
    diary.write(117, pollen_finished, lot=The("letter pollen"))
    words = "a lowii, from somebody at the fair"
    diary.write(6, pollen_received, told=about_week(10), makes=["fair pollen"], words=words, storage="refrigerator")


def corrected_estimate(diary: Diary) -> None:
    """More sown than the lot was thought to hold: the guess was low, and a weighing said so afterwards."""
    lot = The("b corduroy/1 seed")
    diary.write(187, seed_cleaned, by="Marta", lot=lot, seeds=310, estimate_from="weighed", note="The guess was low.")
    sowing = "sown b corduroy/1 pot 1, b corduroy/1 pot 2 1"
    diary.write(187, flag_settled, by="Marta", flag=FlagOf(sowing, "sown_more_than_estimated"))
    diary.write(150, seed_sent, lot=lot, to_whom="the friend who writes", extent="all", key="to the friend")
    diary.write(
        37,
        outcome_told,
        by="Marta",
        told=in_month(50),
        sent=ActOf("to the friend"),
        words="A carpet in one pot, and gnats in the other.",
        told_by="a letter",
    )


def undone_act(diary: Diary) -> None:
    """A look at the wrong pot, undone a minute later."""
    key = "the wrong pot"
    diary.write(33, pot_looked_at, by="Teo", pot=The("b muslin/1 pot 2"), seen="nothing", key=key)
    diary.write(33, undone, by="Teo", target=ActOf(key), note="Wrong pot.")


def corrected_act(diary: Diary) -> None:
    """The tie and the flowers of a section, put right the day after."""
    facts = {
        "spike": The("d gingham"),
        "lot": The("d mortar pollen"),
        "tie": "yellow wool",
        "size": "25",
        "flowers": 14,
    }
    diary.write(
        11,
        section_pollinated,
        by="Marta",
        told=on(12),
        makes=["d gingham/2"],
        replaces=ActOf("section_pollinated d gingham/2 1"),
        note="Yellow, not blue; counted again.",
        **facts,
    )


def vague_days(diary: Diary) -> None:
    """A flowering told afterwards: "some day that month", "about that week"."""
    plant, spike = The("bobbin 1"), The("a bobbin")
    diary.write(601, spike_found, told=in_month(655), makes=["a bobbin"], plant=plant, seen="growing")
    diary.write(601, spike_looked, told=about_week(612), spike=spike, seen="open", sex="male", sex_from="flowers")
    diary.write(588, spike_looked, told=about_week(592), spike=spike, seen="over")


def late_entry(diary: Diary) -> None:
    """A dabbing written down two weeks after it was done."""
    diary.write(
        151,
        section_dabbed,
        by="Teo",
        told=on(162),
        at=time(10, 15),
        section=The("c anvil/1"),
        lot=The("c linen more"),
        note="Found on a paper in my apron.",
    )


def two_pollens(diary: Diary) -> None:
    """Two lots on one section, by mistake: the father is one of two from then on, and so it is for the seed."""
    facts = {"section": The("b gingham/2"), "lot": The("b awl pollen")}
    diary.write(298, section_dabbed, by="Ines", note="Took the wrong packet. Sorry!", key="wrong packet", **facts)
    flag = FlagOf("wrong packet", "another_father")
    diary.write(297, flag_settled, by="Marta", flag=flag, note="It was so. Its seed is of one of the two.")


def seedlings_lost_and_drifted(diary: Diary) -> None:
    """Counted, lost, overgrown, and one that came from the pot next door."""
    counted = {"pot": The("a teapot/1 pot 1"), "seen": "plenty"}
    diary.write(440, pot_looked_at, counted=64, **counted)
    diary.write(425, trouble_seen, pot=The("a teapot/1 pot 1"), what="gnats")
    diary.write(418, seedlings_lost, pot=The("a teapot/1 pot 1"), lost=23, why="gnats")
    diary.write(402, pot_looked_at, counted=41, **counted)
    diary.write(210, seedlings_lost, pot=The("a skillet/1 pot 2"), lost=30, note="Fewer than there were. No idea.")
    diary.write(118, seedlings_lost, pot=The("b gingham/1 pot 3"), lost=8, why="damping")
    diary.write(
        300, trouble_seen, by="Ines", pot=The("a teapot/2 pot 1"), what="drift", note="One has fangs. No veitchii has."
    )
    diary.write(262, trouble_seen, pot=The("a canvas/1 pot 2"), what="moss")
    diary.write(101, trouble_seen, pot=The("a anvil/2 pot 1"), what="algae")
    diary.write(26, trouble_seen, pot=The("b muslin/2 pot 1"), what="mould", note="Lid off for two days.")


def pricked_out(diary: Diary) -> None:
    """A carpet of seedlings: some went into three new pots, as many into each, and the others stay."""
    pot = "a anvil/2 pot 2"
    facts = {"pots": 3, "seedlings": 12, "extent": "part", "place": The("cool seed"), "pot_size": "8 cm"}
    makes = [f"{pot} split {number}" for number in (1, 2, 3)]
    diary.write(24, pot_split, by="Ines", pot=The(pot), makes=makes, note="With a spoon, moss and all.", **facts)


def stopped_and_resumed(diary: Diary) -> None:
    """Watching was stopped for the wrong pot, and taken up again."""
    pot = The("a teapot/3 pot 2")
    diary.write(205, stopped, by="Ines", thing=pot)
    diary.write(198, resumed, by="Ines", thing=pot, note="I meant its neighbour.")


def put_off(diary: Diary) -> None:
    """Asked again in six days: the bench was full of wet paint."""
    diary.write(2, postponed, by="Ines", thing=The("d tweed"), until=InDays(6), note="Wet paint on the bench.")


def walking_past(diary: Diary) -> None:
    """Nothing new on these benches: one tap, a look for everything listed, and for nothing else."""
    diary.write(12, walked_past, by="Teo", place=The("cool seed"), things=_pots("b muslin/1 again"))
    diary.write(12, walked_past, by="Ines", place=The("cool north"), things=[The("c anvil/2"), The("d tweed")])
    diary.write(
        5, walked_past, by="Ines", place=The("tray 3"), things=[*_pots("b corduroy/2 again"), The("c skillet/1 pot 1")]
    )


def plant_that_died(diary: Diary) -> None:
    """A plant died with a spike on it; and a cutting never rooted."""
    diary.write(398, spike_found, makes=["lost whisk"], plant=The("whisk 1"), seen="growing")
    why = "Root rot. It stood behind the pump in a finger of water."
    diary.write(379, plant_gone, by="Marta", plant=The("whisk 1"), why="died", note=why)
    diary.write(379, stopped, by="Marta", thing=The("lost whisk"))
    diary.write(151, plant_gone, by="Ines", plant=The("spatula 3"), why="died", note="Rotted at the cut.")


def more_pods_than_flowers(diary: Diary) -> None:
    """Somebody counted 47 pods where 42 flowers had been counted. Still to sort out."""
    section = The("c skillet/1")
    diary.write(79, take_read, by="Teo", section=section, swelling="all", pods=47, key="47 pods", note="Counted twice.")


def harvested_without_take(diary: Diary) -> None:
    """A section given up at six weeks had two pods all the same. Settled: it was read too early."""
    facts = {"section": The("a kettle/3"), "what": "section", "pods": 2, "key": "two pods all the same"}
    diary.write(489, harvested, by="Ines", makes=["a kettle/3 seed"], **facts)
    flag = FlagOf("two pods all the same", "harvest_without_take")
    diary.write(488, flag_settled, by="Marta", flag=flag, note="We read it too early.")
    flag = FlagOf("two pods all the same", "section_was_closed")
    diary.write(488, flag_settled, by="Marta", flag=flag)
    write_sowing(diary, Sowing("a kettle/3", "a kettle/3", 470, "cool seed", None, (88,), pods=2))


def cannot_tell(diary: Diary) -> None:
    """An honest "can't tell", a spike that gave up, and a look at only some of the pods."""
    diary.write(130, spike_found, makes=["c felt"], plant=The("felt 1"), seen="growing")
    diary.write(109, spike_looked, spike=The("c felt"), seen="aborted", note="Dried up. Heater off that night?")
    diary.write(2, spike_looked, spike=The("d whisk"), seen="cant_tell", note="Behind the lids, no ladder.")
    diary.write(22, pods_looked_at, by="Teo", section=The("c canvas/2"), seen="green", extent="some")


CASES = (
    contradictory_sex,
    buds_misread,
    lost_tag,
    mixed_pollen,
    father_unknown,
    split_and_fallen,
    seed_by_post,
    redetermined,
    pollen_by_post,
    corrected_estimate,
    undone_act,
    corrected_act,
    vague_days,
    late_entry,
    two_pollens,
    seedlings_lost_and_drifted,
    pricked_out,
    stopped_and_resumed,
    put_off,
    walking_past,
    plant_that_died,
    more_pods_than_flowers,
    harvested_without_take,
    cannot_tell,
)


def write_awkward(diary: Diary) -> None:
    for case in CASES:
        case(diary)


def _pots(*sowings: str) -> list[The]:
    return [The(f"{sowing} pot {number}") for sowing in sowings for number in (1, 2)]
