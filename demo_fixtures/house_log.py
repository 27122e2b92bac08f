"""What befell the houses, trays that were moved, a plant kept apart and a stocktake of the Long bench."""

from demo_fixtures.diary import DetailOf, Diary, The
from demo_fixtures.told import about_week, on
from nursery.records.house_log import house_event, house_event_ended
from nursery.records.moves import place_moved
from nursery.records.quarantine import quarantined, sample_result, sample_sent
from nursery.records.stocktakes import not_found, stocktake_taken

# key, house, days ago, days it lasted, what, words, product, who did it
EVENTS = (
    ("heat", "warm", 301, 2, "heat", "Fan stood still, 39 °C at the door.", "", ""),
    ("frost", "cool", 655, 1, "frost", "Heater out overnight, 3 °C at the rail.", "", ""),
    ("soap", "warm", 395, 1, "treatment", "Against thrips.", "insecticidal soap", "Teo"),
    ("power", "cool", 118, 1, "power", "The whole lane, from six to noon.", "", ""),
)

ON_LONG_BENCH = ("chisel 1", "chisel 2", "bobbin 1", "teapot 1", "teapot 2", "trowel 1", "trowel 2", "veitchii D 1")
MISSED = "spatula 1"


def write_house_log(diary: Diary) -> None:
    _events(diary)
    # Too hot over the cable in summer; back again when the nights grew cold.
    diary.write(160, place_moved, by="Ines", place=The("tray 3"), inside=The("warm long"))
    diary.write(88, place_moved, by="Ines", place=The("tray 3"), inside=The("warm heated"))
    _kept_apart(diary)
    _stocktake(diary)


def _events(diary: Diary) -> None:
    for key, house, ago, lasted, what, words, product, done_by in EVENTS:
        facts = {"what": what, "words": words, "product": product, "done_by": done_by}
        diary.write(ago, house_event, key=key, by="Teo", place=The(house), **facts)
        diary.write(ago - lasted, house_event_ended, by="Teo", event=DetailOf(key, "houseevent"))
    # Told only when the next bill came.
    diary.write(30, house_event, told=about_week(72), by="Marta", place=The("cool"), what="power", over=True)


def _kept_apart(diary: Diary) -> None:
    diary.write(24, quarantined, by="Marta", plant=The("doormat 3"), reason="streaks on the new leaves")
    sent = {"to_whom": "the plant clinic", "what_for": "mosaic virus"}
    diary.write(23, sample_sent, key="sample", by="Marta", plant=The("doormat 3"), **sent)
    sample = DetailOf("sample", "samplesent")
    words = "They ask for a younger leaf."
    diary.write(9, sample_result, by="Marta", plant=The("doormat 3"), sample=sample, found="unclear", words=words)


def _stocktake(diary: Diary) -> None:
    seen = [The(name) for name in ON_LONG_BENCH]
    diary.write(12, stocktake_taken, told=on(12), by="Ines", place=The("warm long"), seen=seen, missed=[The(MISSED)])
    diary.write(12, not_found, told=on(12), by="Ines", thing=The(MISSED), place=The("warm long"))
