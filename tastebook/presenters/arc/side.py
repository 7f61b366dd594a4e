"""The right card of the Arc: what the session came to, and what was said on the way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from tastebook.domain.arc import Column
from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.session import Reading, Saying, Tasting, Verdict
from tastebook.domain.vocabulary import Vocabulary
from tastebook.presenters.arc.chart import ChartState, strength_words
from tastebook.presenters.arc.views import FactView, PointView, QuoteView, SideView
from tastebook.presenters.photo_views import ThumbView
from tastebook.reports.page_charts import known_scale
from tastebook.reports.page_facts import decision_words
from tastebook.reports.review import (
    minutes_spent,
    readings_outside,
    richest_sayings,
    saying_column,
    sayings_in_order,
)
from tastebook.reports.sentences import duration_words, overall_sentence, sentences
from tastebook.reports.wording import capital

MOST_QUOTES: Final = 4
MOST_MINUTES: Final = 100
NO_VERDICT: Final = "No verdict yet"
ONE_BODY: Final = "Notes of one sitting and one body, not findings about the tea."
HOW_TO_JUDGE: Final = "Edit the verdict when you know what this lot is worth to you."


def side_view(
    state: ChartState,
    estimates: tuple[str, ...] = (),
    photos: tuple[ThumbView, ...] = (),
    *,
    shows_all: bool,
) -> SideView:
    """Return the card as it stands, with all sayings or the richest, and with what is estimated of the lot."""
    verdict = state.tasting.verdict or Verdict("", state.tasting.session.uid)
    decision = capital(decision_words(verdict))
    has_verdict = bool(verdict.headline or decision)
    return SideView(
        headline=verdict.headline or decision or NO_VERDICT,
        decision=decision if verdict.headline else "",
        note=verdict.note or ("" if has_verdict else HOW_TO_JUDGE),
        has_verdict=has_verdict,
        facts=tuple(_facts(state, verdict)),
        points=tuple(_points(verdict)),
        quotes=_quotes(state.tasting, shows_all=shows_all),
        more_quotes=_more(state.tasting, shows_all=shows_all),
        closing=tuple(_closing(state.tasting, state.vocabulary)),
        caution=ONE_BODY if _tells_of_body(state.tasting) else "",
        next_time=verdict.next_time,
        sentences=_sentences(state),
        estimates=estimates,
        photos=photos,
    )


def ordinal(number: int) -> str:
    """Return `1st`, `2nd`, `3rd`, `4th`, … `11th`, `21st`."""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"


def _facts(state: ChartState, verdict: Verdict) -> Iterator[FactView]:
    if state.peak is not None:
        yield FactView(ordinal(state.peak), "is the peak")
    if verdict.good_infusions is not None:
        yield FactView(
            str(verdict.good_infusions), "infusions carry" if verdict.good_infusions != 1 else "infusion carries"
        )
    elif state.charts.last:
        yield _assessed(state)
    minutes = minutes_spent(state.tasting)
    if minutes is not None:
        yield _spent(minutes)


def _assessed(state: ChartState) -> FactView:
    """Return how many infusions were assessed: how many carry is the taster's to say, and was not said."""
    last, missing = state.charts.last, len(state.unassessed)
    value = f"{last - missing} of {last}" if missing else str(last)
    return FactView(value, "was assessed" if last == 1 else "were assessed")


def _spent(minutes: int) -> FactView:
    if minutes < MOST_MINUTES:
        return FactView(str(minutes), "minute in all" if minutes == 1 else "minutes in all")
    hours, rest = divmod(minutes, 60)
    return FactView(f"{hours}:{rest:02d}", "hours in all")


def _points(verdict: Verdict) -> Iterator[PointView]:
    told = (
        ("Strengths", verdict.strengths),
        ("Faults", verdict.faults),
        ("Season", verdict.season),
        ("Cold brew", verdict.cold_brew),
        ("Brewing", verdict.brewing_guide),
    )
    return (PointView(label, capital(text.strip())) for label, text in told if text.strip())


def _quotes(tasting: Tasting, *, shows_all: bool) -> tuple[QuoteView, ...]:
    shown = sayings_in_order(tasting) if shows_all else richest_sayings(tasting, MOST_QUOTES)
    return tuple(_quote(tasting, saying) for saying in shown)


def _more(tasting: Tasting, *, shows_all: bool) -> str:
    if len(tasting.sayings) <= MOST_QUOTES:
        return ""
    return f"Show the richest {MOST_QUOTES}" if shows_all else f"Show all {len(tasting.sayings)}"


def _quote(tasting: Tasting, saying: Saying) -> QuoteView:
    column = saying_column(tasting, saying)
    cup = tasting.infusion(column) if isinstance(column, int) else None
    liquor = srgb_from_lab(cup.liquor) if cup and cup.liquor else ""
    at_leaf = column in ("leaf", "close")
    step = tasting.session.course.step(saying.step).name.lower()
    number, name = ("", capital(step)) if column == "leaf" else _place(column)
    late = "late" if saying.late else ""
    return QuoteView(
        place=number,
        kind="leaf" if at_leaf else "liquor" if liquor else "unseen",
        cup=liquor,
        text=saying.text,
        remark=_joined("" if number else name.lower(), "" if number or step == name.lower() else step, late),
        accessible=f"{_joined(name, '' if step == name.lower() else step, late)}: {saying.text}",
    )


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _place(column: Column) -> tuple[str, str]:
    """Return how a column is called beside its cup, and aloud; of the leaf, its steps say more."""
    if column == "close":
        return "", "Close"
    return ("", "Rinse") if column == 0 else (str(column), f"Infusion {column}")


def _closing(tasting: Tasting, vocabulary: Vocabulary) -> Iterator[PointView]:
    for reading in readings_outside(tasting):
        yield PointView(known_scale(vocabulary, reading.scale).name, _reading_words(reading, vocabulary))


def _tells_of_body(tasting: Tasting) -> bool:
    course = tasting.session.course
    return any(course.step(reading.step).sheet == "body" for reading in readings_outside(tasting))


def _reading_words(reading: Reading, vocabulary: Vocabulary) -> str:
    scale = known_scale(vocabulary, reading.scale)
    if scale.unit == "s":
        return duration_words(round(reading.value))
    words = scale.word_for(reading.value)
    value = f"{strength_words(reading.value)} of 5"
    return f"{words}, {value}" if words else value


def _sentences(state: ChartState) -> tuple[str, ...]:
    arcs = state.charts.arcs
    told = (*sentences(arcs, state.charts.family_name), overall_sentence(arcs))
    return tuple(one for one in told if one)
