"""The session page on paper, as two independent readers of PDF find it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC
from functools import cache
from itertools import combinations

import pytest

from tastebook.domain.errors import PageError
from tastebook.domain.session import Saying, Tasting
from tastebook.press.session_pdf import PAPERS, set_session_page
from tests.press import reading, sample

LIMIT_BYTES = 400_000


@cache
def sample_pdf(paper: str = "a4") -> bytes:
    return set_session_page(sample.page(), paper)  # type: ignore[arg-type]


def said_and_understood() -> list[str]:
    whole = sample.tasting()
    names = [sample.vocabulary().descriptor(one.descriptor).name for one in whole.impressions]
    return [one.text for one in whole.sayings] + names


@pytest.mark.parametrize("paper", PAPERS)
def test_everything_said_and_understood_is_found_by_pypdf(paper: str) -> None:
    found = reading.unspaced(reading.by_pypdf(sample_pdf(paper)))

    missing = [text for text in said_and_understood() if reading.unspaced(text) not in found]

    assert not missing


@pytest.mark.parametrize("paper", PAPERS)
def test_every_word_said_is_found_by_pdfplumber(paper: str) -> None:
    found = reading.by_pdfplumber(sample_pdf(paper))

    missing = [word for text in said_and_understood() for word in text.split() if word.strip(",.") not in found]

    assert not missing


@pytest.mark.parametrize("words", ["Jīn Xuān", "金萱", "lán huā", "兰花", "Huígān", "°C", "−3", "“White peach"])
def test_tone_marks_chinese_and_signs_are_found_exactly_by_both_readers(words: str) -> None:
    pdf = sample_pdf()

    assert words in reading.by_pypdf(pdf)
    assert words in reading.by_pdfplumber(pdf)


@pytest.mark.parametrize(
    "words",
    [
        "The infusion strip", "The aroma arc", "Every infusion", "Take care", "Buy four kilos, for the autumn list.",
        "5.9 g per 100 ml", "62 mg/l dissolved", "1,100 m", "118.00 EUR per kg", "12 kg", "25 %", "1 min 35 s",
        "wood smoke from the quay", "Gaiwan session", "Lantern & Quay", "26-009", "28 March 2026", "longan charcoal",
        "9:41 to 10:53", "missed", "skipped", "nothing found", "doubtful", "clouded", "late", "no rose", "IARC 2016",
        "EFSA 2015", "page 1 of 2", "page 2 of 2", "01968f3c", "amber gold at 3, pale ivory at 8",
    ],
)  # fmt: skip
def test_the_page_tells_the_lot_the_conditions_the_verdict_and_the_cautions(words: str) -> None:
    found = reading.unspaced(reading.by_pypdf(sample_pdf()))

    assert reading.unspaced(words) in found


def test_every_family_heard_is_named_beside_its_colour() -> None:
    page = sample.page()
    first_page = reading.unspaced(reading.document(sample_pdf()).pages[0].extract_text())

    assert len(page.families) == 9
    for family in page.families:
        assert first_page.count(family.name) >= 2, "in the strip's legend and in the arc"


# ISO 216: A4 is 210 mm by 297 mm. US Letter is 8.5 in by 11 in (ANSI/ASME Y14.1).
@pytest.mark.parametrize(
    ("paper", "width_mm", "height_mm"), [("a4", 210.0, 297.0), ("us-letter", 8.5 * 25.4, 11 * 25.4)]
)
def test_every_page_has_the_size_of_its_paper(paper: str, width_mm: float, height_mm: float) -> None:
    for page in reading.document(sample_pdf(paper)).pages:
        assert float(page.mediabox.width) == pytest.approx(width_mm * reading.MM, abs=0.1)
        assert float(page.mediabox.height) == pytest.approx(height_mm * reading.MM, abs=0.1)


@pytest.mark.parametrize("paper", PAPERS)
def test_eight_infusions_fill_two_pages_and_stay_small(paper: str) -> None:
    pdf = sample_pdf(paper)

    assert len(reading.document(pdf).pages) == 2
    assert len(pdf) <= LIMIT_BYTES


def test_all_fonts_are_our_own_embedded_and_subset() -> None:
    fonts = {
        font["/DescendantFonts"][0].get_object()["/FontDescriptor"]["/FontName"]: font["/DescendantFonts"][0]
        for page in reading.document(sample_pdf()).pages
        for font in (one.get_object() for one in page["/Resources"]["/Font"].values())
    }

    assert any("BenchHan" in name for name in fonts)
    for name, font in fonts.items():
        assert re.fullmatch(r"/[A-Z]{6}\+Bench\w+(-\w+)*", name), name
        assert {"/FontFile2", "/FontFile3"} & set(font.get_object()["/FontDescriptor"]), f"{name} is not embedded"


def test_charts_are_vectors_and_there_is_no_raster_image() -> None:
    pdf = sample_pdf()

    with reading.pdfplumber.open(reading.io.BytesIO(pdf)) as opened:
        first = opened.pages[0]
        drawn = len(first.curves) + len(first.rects) + len(first.lines)
        images = [image for page in opened.pages for image in page.images]

    assert images == []
    assert [image for page in reading.document(pdf).pages for image in page.images] == []
    assert drawn > 300


def test_the_document_says_what_it_is_and_in_which_language() -> None:
    page, document = sample.page(), reading.document(sample_pdf())
    root = document.trailer["/Root"]

    assert document.metadata is not None
    assert document.metadata.title == "Heron Ridge, spring roast"
    assert document.metadata.author == "Ines Slate"
    assert document.metadata.creation_date == page.dated.astimezone(UTC)
    assert root["/Lang"] == "en-GB"
    assert root["/MarkInfo"]["/Marked"]


def test_the_document_claims_pdf_ua_which_typst_grants_only_where_its_checks_pass() -> None:
    # ISO 14289-1:2014, clause 5: the identification schema in the document's XMP metadata.
    metadata = reading.document(sample_pdf()).trailer["/Root"]["/Metadata"].get_object().get_data().decode()

    assert re.search(r"pdfuaid:part>\s*1\s*<", metadata)


def test_headings_charts_and_the_table_are_tagged_for_those_who_listen() -> None:
    elements = reading.structure(sample_pdf())
    kinds = [str(element["/S"]) for element in elements if "/S" in element]
    told = [str(element["/Alt"]) for element in elements if element.get("/S") == "/Figure" and "/Alt" in element]

    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") == 4
    assert kinds.count("/H3") == 11
    assert kinds.count("/TH") == 3
    assert any(text.startswith("Dry leaf: ") for text in told)
    assert any("Floral peaks at 4" in text for text in told)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_same_session_makes_the_same_bytes(paper: str) -> None:
    again = set_session_page(sample.page(sample.tasting()), paper)  # type: ignore[arg-type]

    assert again == sample_pdf(paper)


def test_another_paper_is_refused_with_the_choice() -> None:
    with pytest.raises(PageError, match="a4 or us-letter"):
        set_session_page(sample.page(), "a5")  # type: ignore[arg-type]


@pytest.mark.parametrize("paper", PAPERS)
def test_no_sign_leaves_the_margins(paper: str) -> None:
    for page, sign in reading.signs(sample_pdf(paper)):
        assert sign["x0"] >= 18 * reading.MM
        assert sign["x1"] <= float(page.width) - 18 * reading.MM
        assert sign["top"] >= 6 * reading.MM
        assert sign["bottom"] <= float(page.height) - 6 * reading.MM


@pytest.mark.parametrize("paper", PAPERS)
def test_no_words_lie_on_one_another(paper: str) -> None:
    assert not overlapping(sample_pdf(paper))


@pytest.mark.parametrize(
    "tasting", [sample.empty(), sample.comparison(), sample.with_flavour_skipped_at(3), sample.long_session(12)]
)
def test_no_words_lie_on_one_another_in_shorter_and_longer_sessions(tasting: Tasting) -> None:
    assert not overlapping(set_session_page(sample.page(tasting), "us-letter"))


def overlapping(pdf: bytes) -> list[tuple[str, str]]:
    return [
        (one["text"], other["text"])
        for words in reading.words_on_pages(pdf)
        for one, other in combinations(words, 2)
        if _shared(one, other) > 0.35
    ]


def _shared(one: dict[str, float], other: dict[str, float]) -> float:
    """Return how much of the smaller of two boxes lies in the other."""
    across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
    down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
    if across <= 0 or down <= 0:
        return 0.0
    areas = ((box["x1"] - box["x0"]) * (box["bottom"] - box["top"]) for box in (one, other))
    return across * down / min(areas)


# -- sessions of other lengths


def test_a_session_in_which_nothing_was_done_still_makes_one_page() -> None:
    pdf = set_session_page(sample.page(sample.empty()))

    found = reading.by_pypdf(pdf)
    assert len(reading.document(pdf).pages) == 1
    assert "Unlabelled sample" in found
    assert "still open" in found
    assert "aroma arc" not in found


def test_twenty_infusions_run_on_with_the_head_of_the_table_repeated_and_no_row_torn() -> None:
    pdf = set_session_page(sample.page(sample.long_session(20)))

    pages = reading.pages_by_pdfplumber(pdf)
    with_table = [text for text in pages if "Said, and understood" in text]
    assert len(with_table) >= 2
    assert sum(text.count("Empty cup") for text in pages) == 20
    for text in with_table:
        assert text.count("Flavour") == text.count("Empty cup"), "the first and last line of a row share a page"


def test_twenty_infusions_leave_every_number_legible() -> None:
    pdf = set_session_page(sample.page(sample.long_session(20)))

    found = reading.unspaced(reading.by_pypdf(pdf))
    assert "3:41" in found
    assert all(str(index) in found for index in range(1, 21))
    assert "dashed:notassessed" in found


def test_where_flavour_was_skipped_the_arc_says_so() -> None:
    pdf = set_session_page(sample.page(sample.with_flavour_skipped_at(3, 6)))

    assert reading.by_pypdf(pdf).count("not assessed") >= 3


def test_a_comparison_cup_is_told_on_one_page() -> None:
    pdf = set_session_page(sample.page(sample.comparison()))

    found = reading.by_pypdf(pdf)
    assert len(reading.document(pdf).pages) == 1
    assert "ISO 3103:2019" in found
    assert "about 2.8 g, by eye" in found
    assert "6:00" in found


# -- whatever a taster may write

HOSTILE = (
    "#panic()",
    '#import "x.typ": *',
    '"quoted" \\ back\\slash \\u{0}',
    "$ x^2 $ *bold* _it_ <label> @ref // no comment /* none */ = heading",
    '{{ }} [[ ]] ]) #eval("1")',
    "שלום עולם",
    "مرحبا",
    "Ελληνικά и кириллица",
    "w" * 300,
)


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_is_written_comes_out_as_text(text: str) -> None:
    whole = sample.tasting()
    said = Saying("hostile", "s", "flavour", 2, text, sample.BEGAN_UTC)
    lot = replace(whole.lot, name=text, notes=text)
    pdf = set_session_page(sample.page(replace(whole, lot=lot, sayings=(*whole.sayings, said))))

    found = reading.unspaced(reading.by_pypdf(pdf))

    for word in text.split():  # readers order the words of a line from right to left each in its own way
        assert found.count(word) >= 3
    assert (reading.document(pdf).metadata or {}).get("/Title") == text


def test_a_word_of_three_hundred_letters_stays_inside_the_margins() -> None:
    whole = sample.tasting()
    long_word = "w" * 300
    verdict = replace(whole.verdict, headline=long_word, note=long_word)  # type: ignore[type-var]
    lot = replace(whole.lot, name=long_word, supplier=long_word, cultivar=long_word)

    pdf = set_session_page(sample.page(replace(whole, lot=lot, verdict=verdict)))

    for page, sign in reading.signs(pdf):
        assert sign["x1"] <= float(page.width) - 18 * reading.MM


def test_a_note_of_five_thousand_letters_runs_on_whole() -> None:
    whole = sample.tasting()
    note = " ".join(f"word{number}" for number in range(600))[:5000]
    verdict = replace(whole.verdict, note=note)  # type: ignore[type-var]
    said = Saying("long", "s", "flavour", 2, note, sample.BEGAN_UTC)

    lot = replace(whole.lot, notes=note)
    pdf = set_session_page(sample.page(replace(whole, lot=lot, verdict=verdict, sayings=(*whole.sayings, said))))

    found = reading.unspaced(
        re.sub(r"Heron Ridge, spring roast\s*14 April 2026|Tastebook, session .*", "", reading.by_pypdf(pdf))
    )
    assert all(found.count(f"word{number}") >= 3 for number in range(600) if f"word{number} " in note)
    for page, sign in reading.signs(pdf):
        assert sign["bottom"] <= float(page.height) - 6 * reading.MM


def test_signs_without_a_glyph_are_named_instead_of_lost() -> None:
    whole = sample.tasting()
    lot = replace(whole.lot, name="Sample 🍵 กข かも 龘", notes="a\x00b\u202ec\ud83c")

    found = reading.by_pypdf(set_session_page(sample.page(replace(whole, lot=lot))))

    assert "[teacup without handle]" in found
    assert "[thai character ko kai]" in found
    assert "かも" in found
    assert "[U+9F98]" in found
    assert "a bc[U+D83C]" in found
