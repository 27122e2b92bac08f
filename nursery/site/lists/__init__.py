"""Lists of things: which there are, under which tabs, with which columns. One module per part of the menu."""

from nursery.site.lists import crosses, plants, seed
from nursery.site.lists.parts import ThingList

LISTS: tuple[ThingList, ...] = (*plants.LISTS, *crosses.LISTS, *seed.LISTS)

BY_SLUG = {one.slug: one for one in LISTS}
