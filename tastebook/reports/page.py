"""A whole tasting as one document: what the session page says, ready for whoever sets it on paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tastebook.domain.caution import Caution, shown_at
from tastebook.domain.lot import Lot
from tastebook.domain.session import Tasting, Verdict
from tastebook.domain.steep import Instant
from tastebook.domain.vocabulary import Vocabulary
from tastebook.reports.page_charts import arc_chart, charted, families_named, strip_chart
from tastebook.reports.page_entries import entries, legend
from tastebook.reports.page_facts import decision_words, fact_groups, occasion, verdict_facts
from tastebook.reports.page_parts import PagePhotos, SessionPage, VerdictPart
from tastebook.reports.wording import began, capital, day

__all__ = ["SessionPage", "session_page"]

COLD_BREW: Final = "cold_brew"

_SHORT_ID: Final = 8


def session_page(
    tasting: Tasting,
    vocabulary: Vocabulary,
    now: Instant,
    *,
    follows: Lot | None = None,
    cautions: Sequence[Caution] = (),
    estimates: tuple[str, ...] = (),
    photos: PagePhotos | None = None,
) -> SessionPage:
    """Return the page of a session.

    Parameters
    ----------
    tasting : Tasting
        What to tell of; it may still be open.
    vocabulary : Vocabulary
        The words known, the user's own included. Words that it has lost are told as they were said.
    now : Instant
        The moment at which an open session is looked at; a closed one is told as it stood when it was closed.
    follows : Lot or None
        The lot that this one is the next batch of.
    cautions : sequence of Caution
        Every caution there is; those meant for the page are printed, cold brewing's only where it is spoken of.
    estimates : tuple of str
        What is estimated of the lot beyond what was tasted, in words.
    photos : PagePhotos or None
        The session's photographs, made ready for paper.
    """
    charts = charted(tasting, vocabulary)
    told = entries(charts, _moment(tasting, now))
    session, lot = tasting.session, tasting.lot
    return SessionPage(
        title=lot.name,
        alias=lot.cultivar_local or lot.cultivar,
        occasion=occasion(tasting),
        decision=_decision(tasting.verdict),
        author=session.taster,
        dated=began(session),
        day=day(began(session)),
        session_id=short_id(session.uid),
        groups=fact_groups(tasting, follows),
        families=families_named(charts),
        strip=strip_chart(charts),
        arc=arc_chart(charts),
        entries=told,
        legend=legend(told),
        verdict=_verdict(tasting.verdict),
        cautions=_cautions(tasting, cautions),
        estimates=estimates,
        photos=photos or PagePhotos(),
    )


def short_id(uid: str) -> str:
    """Return the beginning of a uid, by which a session can be called: no two sessions begin within the same minute."""
    return uid.partition("-")[0][:_SHORT_ID]


def _moment(tasting: Tasting, now: Instant) -> Instant:
    closed_at_utc = tasting.session.closed_at_utc
    return now if closed_at_utc is None else Instant(closed_at_utc, 0.0, "closed")


def _cautions(tasting: Tasting, cautions: Sequence[Caution]) -> tuple[Caution, ...]:
    verdict = tasting.verdict
    brews_cold = tasting.session.course.key == COLD_BREW or bool(verdict and verdict.cold_brew)
    return tuple(one for one in shown_at(cautions, "page") if one.key != COLD_BREW or brews_cold)


def _decision(verdict: Verdict | None) -> str:
    if verdict is None:
        return ""
    return verdict.headline.strip() or capital(decision_words(verdict))


def _verdict(verdict: Verdict | None) -> VerdictPart | None:
    if verdict is None:
        return None
    headline = verdict.headline.strip() or capital(decision_words(verdict))
    told = VerdictPart(headline, verdict_facts(verdict), verdict.note, verdict.brewing_guide, verdict.next_time)
    return told if any((told.headline, told.facts, told.note, told.brewing_guide, told.next_time)) else None
