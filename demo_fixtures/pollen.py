"""Packets of pollen: from whom, when, where they lay, and when they were finished."""

from dataclasses import dataclass

from breeding.records.pollen import pollen_collected, pollen_finished, pollen_stored
from demo_fixtures.diary import Diary, The


@dataclass(frozen=True)
class Packet:
    """Pollen taken ``ago`` days before today; ``moves`` and ``finished`` are days before today too."""

    name: str
    spike: str
    ago: int
    storage: str
    moves: tuple[tuple[int, str], ...] = ()
    finished: int = 0
    note: str = ""


COLD, BENCH, DRY, FROZEN = "refrigerator", "bench", "dry_bench", "freezer"

PACKETS = (
    Packet("a trowel pollen", "a trowel", 681, COLD, finished=612),
    Packet("a ladle pollen", "a ladle", 669, COLD, finished=601),
    Packet("a pliers pollen", "a pliers", 663, BENCH, ((662, COLD),), finished=598),
    Packet("a linen pollen", "a linen", 661, COLD, finished=598),
    Packet("a thimble pollen", "a thimble", 656, DRY, finished=640),
    Packet("a rasp pollen", "a rasp", 653, BENCH, finished=644, note="Damp morning, shook it out on paper first."),
    # Frozen for the next year, to see whether it keeps: it was thawed for c teapot.
    Packet("a trowel frozen", "a trowel", 670, FROZEN, ((128, COLD),), finished=70),
    Packet("b awl pollen", "b awl", 329, COLD, finished=262),
    Packet("b rasp pollen", "b rasp", 305, COLD, finished=240),
    Packet("b mallet pollen", "b mallet", 312, COLD, finished=245),
    Packet("b mallet more", "b mallet", 300, DRY, finished=290),
    Packet("b whisk pollen", "b whisk", 307, COLD, finished=240),
    Packet("c linen pollen", "c linen", 176, COLD, finished=108),
    Packet("c linen more", "c linen", 168, BENCH, ((167, COLD),), finished=95),
    Packet("c mallet pollen", "c mallet", 165, COLD, finished=97),
    Packet("c saw pollen", "c saw", 148, COLD, finished=85),
    Packet("c bobbin pollen", "c bobbin", 138, COLD, finished=72),
    # Here now: two packets that are past it, and several good ones.
    Packet("d pliers pollen", "d pliers", 47, BENCH, note="Left on the bench over the weekend."),
    Packet("d pliers cold", "d pliers", 45, COLD, finished=30),
    Packet("d mortar early", "d mortar", 29, DRY),
    Packet("d mortar pollen", "d mortar", 27, COLD),
    Packet("d mortar frozen", "d mortar", 25, FROZEN),
    Packet("d trowel pollen", "d trowel", 9, COLD),
    Packet("d ladle pollen", "d ladle", 4, COLD),
)


def write_pollen(diary: Diary) -> None:
    for packet in PACKETS:
        write_packet(diary, packet)


def write_packet(diary: Diary, packet: Packet) -> None:
    spikes = [The(packet.spike)]
    facts = {"spikes": spikes, "storage": packet.storage, "note": packet.note}
    diary.write(packet.ago, pollen_collected, makes=[packet.name], **facts)
    for ago, storage in packet.moves:
        diary.write(ago, pollen_stored, lot=The(packet.name), storage=storage)
    diary.write(packet.finished, pollen_finished, lot=The(packet.name))
