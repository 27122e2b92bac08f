from breeding.rounds.place_order import PlaceRow, walking_order

HOUSES = [
    PlaceRow(1, "Warm house", None, 2),
    PlaceRow(2, "Cool house", None, 1),
    PlaceRow(3, "Bench 2", 2, 2),
    PlaceRow(4, "Bench 1", 2, 1),
    PlaceRow(5, "Tray 7", 4, 0),
    PlaceRow(6, "Bench B", 1, 0),
    PlaceRow(7, "Bench A", 1, 0),
]


def _walk(rows):
    return [(walked.house, walked.within) for walked in walking_order(rows).values()]


def test_a_place_is_walked_with_all_that_is_in_it_before_the_next():
    assert _walk(HOUSES) == [
        ("Cool house", ""),
        ("Cool house", "Bench 1"),
        ("Cool house", "Bench 1, Tray 7"),
        ("Cool house", "Bench 2"),
        ("Warm house", ""),
        ("Warm house", "Bench A"),
        ("Warm house", "Bench B"),
    ]


def test_the_order_of_the_rows_does_not_matter():
    assert _walk(reversed(HOUSES)) == _walk(HOUSES)


def test_turns_count_through_the_whole_walk():
    assert [walked.turn for walked in walking_order(HOUSES).values()] == list(range(7))


def test_a_place_inside_one_that_was_undone_is_still_walked():
    assert _walk([PlaceRow(3, "Bench 2", 99, 0)]) == [("Bench 2", "")]


def test_places_of_one_turn_and_name_keep_a_fixed_order():
    twins = [PlaceRow(2, "Bench", None, 0), PlaceRow(1, "Bench", None, 0)]
    assert list(walking_order(twins)) == list(walking_order(reversed(twins))) == [1, 2]


def test_no_places_are_no_walk():
    assert walking_order([]) == {}
