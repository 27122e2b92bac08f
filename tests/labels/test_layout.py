import pytest
from hypothesis import given
from hypothesis import strategies as st

from labels.codes import AddressUnfit
from labels.frame import EDGE, LEAST_MODULE, NARROW, frame_of
from labels.layout import Leads, Placed, placed
from labels.metrics import width as text_width
from labels.stock import Measures
from labels.textfit import POINT
from tests.labels.cast import ADDRESS, ROLL, SHEET, SLIM, SQUARE, STAKE, STRIP, UPRIGHT_STAKE, label

DOTS = pytest.mark.parametrize("dpi", [203, 300, 600])


def on(stock: Measures, **changes) -> Placed:
    size = {"width": stock.label_width, "height": stock.label_height, "dpi": stock.dpi}
    return placed(label(**changes), **size, free=stock.free, free_last=stock.free_last)


def digits_of(drawn: Placed):
    return drawn.pieces[0]


def test_it_works():
    drawn = on(SHEET)
    assert len(drawn.codes) == 1
    assert [piece.text for piece in drawn.pieces[:3]] == ["208 746", "Seed pot", "ampullaria"]
    assert (drawn.cut, drawn.replaced, drawn.turned) == ((), "", False)


def test_taxa_are_italic_clones_bold_and_the_sign_upright():
    styles = {piece.text.strip(): piece.style for piece in on(STRIP).pieces}
    assert (styles["ampullaria"], styles["Trowel"], styles["×"]) == ("taxon", "clone", "plain")


@DOTS
def test_modules_are_whole_dots(dpi: int):
    module = frame_of(63.5, 33.9, dpi, 29).module
    assert module * dpi / 25.4 == pytest.approx(round(module * dpi / 25.4))


@pytest.mark.parametrize(
    ("stock", "dots"), [(ROLL, 4), (SQUARE, 4), (SLIM, 4)], ids=["roll", "square", "a hand under 18.5 mm"]
)
def test_small_labels_get_four_dots_a_module_at_203_dpi(stock: Measures, dots: int):
    [code] = on(stock).codes
    assert round(code.module * 203 / 25.4, 2) == dots


def test_a_slim_label_takes_the_smaller_symbol_rather_than_smaller_modules():
    assert on(SLIM).codes[0].matrix.size == 25
    assert on(ROLL).codes[0].matrix.size == 29


def test_a_slim_label_with_a_long_host_goes_down_to_three_dots_and_no_further():
    [code] = on(SLIM, address="https://" + "t" * 40 + ".example").codes
    assert round(code.module * 203 / 25.4, 2) == 3


def test_a_large_label_gets_a_large_code_but_leaves_most_of_its_width_to_words():
    [code] = on(SHEET).codes
    assert code.module > 0.6
    assert code.side <= 0.4 * SHEET.label_width


def test_a_long_tag_carries_its_code_at_both_ends():
    left, right = on(STRIP).codes
    assert (left.matrix, left.side) == (right.matrix, right.side)
    assert left.x < 2
    assert right.x + right.side > 158


@pytest.mark.parametrize("stock", [STAKE, UPRIGHT_STAKE], ids=["lying", "upright"])
def test_a_narrow_stake_has_large_digits_and_no_code(stock: Measures):
    drawn = on(stock)
    assert drawn.codes == ()
    assert digits_of(drawn).size >= 24


def test_a_label_higher_than_wide_is_turned():
    assert on(UPRIGHT_STAKE).turned
    assert not on(STAKE).turned


@pytest.mark.parametrize(("tall", "last"), [(True, True), (True, False), (False, True), (False, False)])
def test_a_white_end_keeps_its_place_on_lying_and_on_upright_labels(tall: bool, last: bool):
    wide, high = (25, 76) if tall else (76, 25)
    drawn = on(Measures(wide, high, 1, 1, wide, high, dpi=300, free=12, free_last=last))
    ends = [(code.x, code.x + code.side) for code in drawn.codes]
    ends += [(piece.x, piece.x + text_width(piece.text, piece.style) * piece.size * POINT) for piece in drawn.pieces]
    # A turned label begins at its foot, so what is its last end lies at the beginning of its rows.
    lowest, highest = (12, 76) if last == tall else (0, 64)
    assert len(drawn.codes) == 1
    assert lowest <= min(start for start, _ in ends) and max(end for _, end in ends) <= highest


def test_digits_stand_beside_the_code_or_under_it():
    beside, below = on(ROLL), on(SQUARE)
    assert digits_of(beside).x >= beside.codes[0].x + beside.codes[0].side
    assert digits_of(below).y < below.codes[0].y


def sizes_of(drawn: Placed) -> dict[str, float]:
    return {piece.text.strip(): piece.size for piece in drawn.pieces}


@pytest.mark.parametrize("stock", [SHEET, ROLL, STRIP, SQUARE], ids=["sheet", "roll", "strip", "square"])
def test_the_cross_leads_on_sections_and_the_digits_stand_under_it(stock: Measures):
    drawn = on(stock, kind_words="Section", leads=Leads.NAME)
    name = next(piece for piece in drawn.pieces if piece.text == "ampullaria")
    assert name.y > digits_of(drawn).y
    assert digits_of(drawn).size >= 7
    assert name.size >= on(stock).pieces[2].size


def test_the_cross_is_larger_than_anything_else_where_there_is_room():
    sizes = sizes_of(on(SHEET, kind_words="Section", leads=Leads.NAME))
    assert sizes.pop("ampullaria") == sizes.pop("Trowel") == sizes.pop("Damask") == max(sizes.values()) >= 10
    assert sizes["sown 12 Nov 2026 · MB"] < sizes["208 746"]


def test_cross_and_day_lead_on_packets_in_one_size():
    drawn = on(STRIP, kind_words="Seed", leads=Leads.NAME_AND_DAY)
    sizes = sizes_of(drawn)
    assert sizes["ampullaria"] == sizes["sown 12 Nov 2026 · MB"] > sizes["208 746"] > sizes["2 pods"]


def test_on_a_small_packet_the_whole_day_is_kept_before_what_was_done_and_who_did_it():
    drawn = on(Measures(38, 19, 1, 1, 38, 19, dpi=203), leads=Leads.NAME_AND_DAY)
    assert "…12 Nov 2026…" in [piece.text for piece in drawn.pieces]
    assert "sown 12 Nov 2026 · MB" in drawn.cut


def test_on_a_stake_without_a_code_the_digits_lead_whatever_it_is_of():
    assert on(STAKE, leads=Leads.NAME) == on(STAKE)


def test_the_kind_follows_the_digits_where_there_is_room_and_is_a_line_elsewhere():
    wide, narrow = on(SHEET), on(ROLL, kind_words="Seed pot with a lid")
    assert wide.pieces[1].y == digits_of(wide).y
    assert narrow.pieces[1].text == "ampullaria"
    assert "Seed pot with a lid" in [piece.text for piece in narrow.pieces]


def test_a_bare_label_has_its_number_alone():
    drawn = on(ROLL, kind_words="", name_parts=(), lines=())
    assert [piece.text for piece in drawn.pieces] == ["208 746"]


def test_html_is_printed_as_it_was_typed():
    drawn = on(STRIP, lines=("<b>fat</b> &amp; <script>",))
    assert "<b>fat</b> &amp; <script>" in [piece.text for piece in drawn.pieces]


def test_signs_that_the_face_lacks_are_boxes_and_reported_once():
    drawn = on(SHEET, name_parts=(("茶壺茶", "clone"),), lines=("🌱 up",))
    assert drawn.replaced == "茶壺🌱"
    assert {"□□□", "□ up"} <= {piece.text for piece in drawn.pieces}


def test_a_kind_that_the_face_lacks_is_reported_too():
    assert on(SHEET, kind_words="盆").replaced == "盆"


def test_an_address_that_cannot_be_printed_is_refused():
    with pytest.raises(AddressUnfit):
        on(SHEET, address="tags.example")


@pytest.mark.parametrize(
    ("parts", "is_formula"),
    [
        ((("lowii", "taxon"), (" × ", "plain"), ("hamata", "taxon")), True),
        ((("×", "plain"), ("hookeriana", "taxon")), False),
        ((("lowii", "taxon"),), False),
        ((), False),
    ],
)
def test_a_cross_is_a_formula_and_a_named_hybrid_is_not(parts, is_formula: bool):
    assert label(name_parts=parts).is_formula == is_formula


WORDS = st.text(max_size=120)
TEXTS = st.builds(
    label,
    number=st.integers(min_value=10, max_value=10**15),
    kind_words=st.text(max_size=30),
    name_parts=st.lists(st.tuples(WORDS, st.sampled_from(["taxon", "clone", "plain"])), max_size=6).map(tuple),
    lines=st.lists(WORDS, max_size=6).map(tuple),
    leads=st.sampled_from(Leads),
    address=st.just(ADDRESS),
)


@given(
    text=TEXTS,
    width=st.floats(min_value=10, max_value=300),
    height=st.floats(min_value=10, max_value=300),
    dpi=st.sampled_from([150, 203, 300, 600, 2400]),
)
def test_whatever_is_typed_everything_stays_on_the_label_and_off_the_code(text, width, height, dpi):
    drawn = placed(text, width=width, height=height, dpi=dpi)
    long, short = max(width, height), min(width, height)
    assert digits_of(drawn).text.replace(" ", "") == str(text.number)
    for code in drawn.codes:
        assert code.module >= LEAST_MODULE - 0.005
        assert -1e-6 <= code.x <= long - code.side + 1e-6
        assert -1e-6 <= code.y <= short - code.side + 1e-6
    for piece in drawn.pieces:
        right = piece.x + text_width(piece.text, piece.style) * piece.size * POINT
        assert EDGE - 1e-6 <= piece.x <= right <= long - EDGE + 1e-6
        assert EDGE - 1e-6 <= piece.y <= short - EDGE
        for code in drawn.codes:
            apart = right <= code.x + 1e-6 or piece.x >= code.x + code.side - 1e-6
            assert apart or piece.y + 0.76 * piece.size * POINT <= code.y + 1e-6


@given(
    number=st.integers(min_value=18, max_value=9_999_999),
    width=st.floats(min_value=16, max_value=300),
    height=st.floats(min_value=10, max_value=300),
)
def test_digits_of_up_to_seven_are_never_smaller_than_seven_points(number, width, height):
    assert digits_of(placed(label(number), width=width, height=height, dpi=203)).size >= 7


@given(width=st.floats(min_value=10, max_value=300), height=st.floats(min_value=10, max_value=NARROW - 0.01))
def test_no_stake_narrower_than_17_mm_gets_a_code(width, height):
    assert placed(label(), width=width, height=height, dpi=203).codes == ()


def test_on_a_small_label_the_day_outlives_the_kind_under_a_leading_cross():
    lines = ("sown 12 Nov 2026 · MB", "2 pods")
    small = on(Measures(38, 19, 1, 1, 38, 19, dpi=203), leads=Leads.NAME, kind_words="Seed pot", lines=lines)
    assert any("12 Nov 2026" in piece.text for piece in small.pieces)
    assert not any("pods" in piece.text for piece in small.pieces)
    usual = on(ROLL, leads=Leads.NAME, name_parts=(("lowii × veitchii", "taxon"),), order="♀ first")
    assert not usual.cut


PACKET = Measures(38, 19, 1, 1, 38, 19, dpi=203)
TAPE = Measures(70, 24, 1, 1, 70, 18, top=3, dpi=180)
SHORT_STAKE = Measures(13, 100, 1, 1, 13, 100, dpi=300, free=35, free_last=True)
HYBRIDS = (
    *(("(", "plain"), ("lowii × veitchii", "taxon"), (") ", "plain"), ("spatula", "clone"), (" × ", "plain")),
    *(("(", "plain"), ("lowii × veitchii", "taxon"), (") ", "plain"), ("saw", "clone")),
)


@pytest.mark.parametrize("name", [label().name_parts, HYBRIDS], ids=["two species", "two hybrids"])
@pytest.mark.parametrize("leads", [Leads.NAME, Leads.NAME_AND_DAY])
def test_on_a_small_packet_the_cross_is_whole_before_anything_but_its_day_is_told(name, leads: Leads):
    drawn = on(PACKET, number=16625, name_parts=name, leads=leads, order="♀ first")
    words = " ".join(piece.text for piece in drawn.pieces)
    assert "".join(part for part, _ in name).replace(" ", "") in words.replace(" ", "")
    assert "12 Nov 2026" in words
    after = drawn.pieces[1]
    assert (after.text, after.y) == ("♀ first", digits_of(drawn).y)


def test_what_was_sown_outlives_the_kind_which_the_day_tells_too():
    for stock in (TAPE, SHORT_STAKE):
        drawn = on(stock, number=16696, name_parts=HYBRIDS, leads=Leads.NAME, order="♀ first")
        words = " ".join(piece.text for piece in drawn.pieces)
        assert "2 pods" in words and "♀ first" in words, stock
    assert drawn.cut == ("Seed pot",)


def test_a_name_alone_is_as_large_as_the_label_allows_under_digits_and_over_them():
    alone = {"kind_words": "", "lines": (), "name_parts": (("lowii", "taxon"),)}
    assert sizes_of(on(SHEET, **alone))["lowii"] == sizes_of(on(SHEET, **alone, leads=Leads.NAME))["lowii"] == 20
    assert digits_of(on(SHEET, **alone, leads=Leads.NAME)).size > digits_of(on(SHEET, leads=Leads.NAME)).size
