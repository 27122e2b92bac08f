import ctypes

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from labels.round_paper import NOTHING_DUE, PaperGroup, PaperRound, PaperTask, print_round
from tests.labels.reading import decoded


def task(number: int = 208746, **more) -> PaperTask:
    facts = {
        "number": number,
        "title": "Look at pods",
        "due": "today",
        "name": (("hamata", "taxon"), (" ", "plain"), ("lantern", "clone"), (" × ", "plain"), ("lowii", "taxon")),
        "sub": "section 1, blue tie",
        "reason": "Day 104 since it was pollinated; last look 6 days ago: firm, green.",
        "answers": ("green", "turning", "?"),
    }
    return PaperTask(**facts | more)


def paper(*groups: PaperGroup, **more) -> PaperRound:
    facts = {"house": "Drizzle Lane Nursery", "title": "Thursday round, 26 November 2026", "lead": "1 task."}
    return PaperRound(**facts | {"groups": groups} | more)


def pages(drawn: bytes) -> list[str]:
    """The text of each page in one line, as a search finds it."""
    document = pypdfium2.PdfDocument(drawn)
    return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


def test_a_row_has_the_number_what_to_do_why_and_boxes_in_the_words_that_are_typed_later():
    [page] = pages(print_round(paper(PaperGroup("Warm house, bench 1", (task(),)))))
    for words in (
        "Drizzle Lane Nursery · Thursday round, 26 November 2026",
        "Warm house, bench 1",
        "208 746",
        "Look at pods · today",
        "hamata lantern × lowii · section 1, blue tie",
        "Day 104 since it was pollinated;",
        "Page 1 of 1",
    ):
        assert words in page
    assert page.count("☐") == 4
    assert [word for word in page.split() if word in {"green", "turning", "?", "later"}] == [
        *("green", "turning", "?", "later")
    ]


def face(page: pypdfium2.PdfPage, word: str) -> str:
    """The name of the font in which the first letter of ``word`` is set."""
    text = page.get_textpage()
    [start, _] = text.search(word).get_next()
    name = ctypes.create_string_buffer(200)
    pdfium.FPDFText_GetFontInfo(text, start, name, len(name), ctypes.c_int())
    return name.value.decode()


def test_taxa_are_slanted_and_designations_bold():
    page = pypdfium2.PdfDocument(print_round(paper(PaperGroup("Bench", (task(),)))))[0]
    assert face(page, "hamata").endswith("Oblique")
    assert face(page, "lantern").endswith("Bold")


def test_what_takes_more_than_a_word_is_ticked_as_done_and_written_out():
    [page] = pages(print_round(paper(PaperGroup("Packets", (task(title="Sow", answers=(), number=None),)))))
    assert "☐ done" in page
    assert "____" in page


def test_a_long_bench_goes_on_with_its_name_on_the_next_page_and_loses_no_row():
    numbers = range(100_001, 100_041)
    found = pages(print_round(paper(PaperGroup("Cool house, bench 2", tuple(task(number) for number in numbers)))))
    assert len(found) > 1
    assert all("Cool house, bench 2" in page for page in found)
    assert [f"Page {n} of {len(found)}" in page for n, page in enumerate(found, 1)] == [True] * len(found)
    plates = [f"{str(number)[:3]} {str(number)[3:]}" for number in numbers]
    assert [sum(plate in page for page in found) for plate in plates] == [1] * 40


def test_what_does_not_fit_the_minutes_stands_behind_under_its_own_heading():
    groups = (PaperGroup("Bench 1", (task(111_117),)), PaperGroup("Bench 2", (task(222_222),), optional=True))
    [page] = pages(print_round(paper(*groups)))
    assert page.index("111 117") < page.index("If there is time") < page.index("222 222")


def test_codes_are_read_by_another_library_than_wrote_them():
    tasks = tuple(task(number, code=f"HTTPS://TAGS.EXAMPLE/T/{number}") for number in (208746, 208753, 208760))
    page = pypdfium2.PdfDocument(print_round(paper(PaperGroup("Bench 1", tasks))))[0]
    picture = np.asarray(page.render(scale=300 / 72, grayscale=True).to_pil())
    assert decoded(picture) == {one.code for one in tasks}


def test_the_code_of_a_long_address_stays_in_its_column_and_is_read():
    told = tuple(
        task(number, code=f"HTTPS://{'A-VERY-LONG-NAME.' * 6}EXAMPLE/T/{number}") for number in (208746, 208753)
    )
    page = pypdfium2.PdfDocument(print_round(paper(PaperGroup("Bench 1", told))))[0]
    picture = np.array(page.render(scale=600 / 72, grayscale=True).to_pil())
    assert decoded(picture) == {one.code for one in told}
    picture[:, : -round(600 * 11.5 / 25.4)] = 255  # what is left is the right margin
    assert (picture == 255).all()


def test_banners_and_cautions_are_on_the_paper_too():
    banner = "Treatment in the cool house; closed until Friday 08:00, as typed from the label."
    caution = "Eye protection when you lean in among canes."
    group = PaperGroup("Bench 1", (task(caution="Mind your eyes."), task(caution="Mind your eyes.")))
    [page] = pages(print_round(paper(group, banners=(banner,), cautions=(caution,))))
    assert banner in page
    assert page.count("Mind your eyes.") == 2, "the few words on each row"
    assert page.count(caution) == 1, "the sentence once, after all of them"
    assert page.index(caution) > page.rindex("Mind your eyes.")


@pytest.mark.parametrize(
    ("words", "shown"),
    [("<b>& para", "<b>& para"), ("茶 kettle", "□ kettle"), ("שלום", "□□□□"), ("🌱 up", "□ up")],
    ids=["markup", "unknown letters", "right to left", "emoji"],
)
def test_words_of_any_kind_break_nothing(words, shown):
    drawn = print_round(
        paper(PaperGroup(words, (task(sub=words, reason=words, name=((words, "taxon"),)),)), title=words)
    )
    assert pages(drawn)[0].count(shown) >= 4


def test_nothing_reaches_over_the_edge_however_long_the_name():
    long = (("lowii × ( veitchii × burbidgeae ) " * 8, "taxon"), ("x" * 200, "clone"))
    drawn = print_round(paper(PaperGroup("b" * 200, (task(name=long, reason="why " * 200),))))
    picture = np.array(pypdfium2.PdfDocument(drawn)[0].render(scale=1, grayscale=True).to_pil())
    picture[20:-20, 20:-20] = 255
    assert (picture == 255).all()


def test_a_day_without_tasks_says_so():
    assert NOTHING_DUE in pages(print_round(paper(lead="")))[0]
