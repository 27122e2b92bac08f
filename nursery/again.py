"""How the nursery's own acts are told again, by kind; kinds that are not listed can only be undone."""

from nursery.records.again import of
from nursery.records.moves import moved
from nursery.records.plants import plant_gone
from nursery.records.remarks import remarked
from nursery.records.watching import resumed, stopped

AGAIN = {
    "moved": of(moved, "thing"),
    "remarked": of(remarked, "thing"),
    "stopped": of(stopped, "thing"),
    "resumed": of(resumed, "thing"),
    "plant_gone": of(plant_gone, "plant"),
}
