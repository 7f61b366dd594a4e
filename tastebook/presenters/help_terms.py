"""The words of the trade and of this program, explained in a sentence or two."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from tastebook.domain.explaining import KINDS, Explained, every_term
from tastebook.domain.vocabulary import Vocabulary


@dataclass(frozen=True)
class Term:
    """One word; `is_ours`: this program coined it; `also` are other words for the same, `source` says its status."""

    word: str
    meaning: str
    also: str = ""
    is_ours: bool = False
    source: str = ""


TERMS: Final[tuple[Term, ...]] = (
    Term(
        "Arc",
        "The review of one session: how the aroma families, the liquor, the texture and the finish move from infusion "
        "to infusion. Where nothing was assessed there is a gap, never a zero.",
        is_ours=True,
    ),
    Term("Bench", "The screen at which one tastes.", is_ours=True),
    Term(
        "Clouded",
        "Said of an impression that the surroundings may have caused: a kitchen, cut grass, a scented hand.",
        is_ours=True,
    ),
    Term(
        "Course",
        "The order in which a tea is assessed. Each step stands where its sense can still be caught fresh; “Steps” "
        "gives the reasons.",
        is_ours=True,
    ),
    Term("Doubtful", "Said of an impression that the taster is not sure of.", is_ours=True),
    Term(
        "Infusion strip",
        "The row across the Bench: leaf, rinse, each infusion, close. It is the way through the session and its chart "
        "at once.",
        is_ours=True,
    ),
    Term("Kin", "The lots of the same type, cultivar or roast with which a lot is compared.", is_ours=True),
    Term(
        "Late",
        "Said of an impression recorded after its sense could still be caught fresh. It counts, and says so.",
        is_ours=True,
    ),
    Term("Press", "Where pages are made from a session.", is_ours=True),
    Term(
        "Say line",
        "The one field in which one says what one perceives: words parted by commas, a strength from 1 to 5, “no rose” "
        "for looked for and absent; or sentences, typed or dictated. What was said is kept word for word.",
        is_ours=True,
    ),
    Term("Shelf", "The lots one has, and what is owed to each: to taste, to rest, to write.", is_ours=True),
    Term(
        "Underlines",
        "What the say line understood, before Enter keeps it: solid for a note, in its family’s colour; dashed in "
        "doubt; struck through for absent; dotted for a new word; double for a number that waits for its field; in ink "
        "for scales, clarity and colours. Tab goes through them and says from which words each was read.",
        is_ours=True,
    ),
    Term(
        "Absent",
        "A descriptor that was looked for and not found. It differs from one that nobody looked for.",
    ),
    Term(
        "Aroma family",
        "A group of descriptors that smell alike, such as floral or roasted. Each has a colour, a sign and a name.",
    ),
    Term(
        "Astringency",
        "The drying, puckering feel on tongue and gums. A touch, not a taste: it builds from sip to sip.",
        also="grip",
    ),
    Term("Batch", "What was made and sold together, with the code on its packet. The next batch follows this one."),
    Term("Body", "How full and heavy the liquor sits in the mouth.", also="thickness, weight"),
    Term("Brightness", "Life in the colour of the liquor, beyond being clear.", also="brilliant, dull, dim"),
    Term("Clarity", "How freely light passes the liquor: brilliant, clear, dim, turbid (the terms of GB/T 14487)."),
    Term("Cream down", "A liquor that clouds as it cools. Common in strong black tea, and no fault in it."),
    Term("Cultivar", "The cultivated variety of the tea plant, propagated from cuttings."),
    Term("Dry leaf", "The made tea before water: its shape, colour, sheen and cool scent."),
    Term("Empty cup", "The scent of the film that stays when the cup is drunk. Heavy and sweet notes stay longest."),
    Term("Finish", "What stays after the swallow, and how long.", also="aftertaste, length"),
    Term(
        "Fixing",
        "Heat, by pan or by steam, that stops the leaf from oxidising further.",
        also="kill-green, shaqing",
    ),
    Term("Flight", "Several teas tasted side by side, often blind."),
    Term("Flush", "A season’s growth of new leaf, and the tea plucked from it: first flush, second flush."),
    Term("Gaiwan", "A lidded bowl with a saucer, for many short steeps of the same leaf.", also="lidded bowl"),
    Term(
        "Huigan",
        "Sweetness that comes back in the throat some moments after the swallow, often after a bitter start.",
        also="returning sweetness, huígān, 回甘",
    ),
    Term("Infused leaf", "The leaf after it has given its liquor, spread out: it shows plucking, oxidation and roast."),
    Term("Infusion", "One steep of the leaf, and the cup it gives. The rinse counts as none."),
    Term("Lead", "How long before the planned time the pour is announced, since pouring takes a while."),
    Term("Liquor", "The infusion in the cup: what is looked at, smelled and drunk.", also="soup, tea soup"),
    Term("Lot", "One parcel of tea as it was offered or bought."),
    Term("Mouthfeel", "All that is touch and not taste: body, surface, grip.", also="texture"),
    Term("Oxidation", "The browning that begins when the leaf is bruised and ends when it is fixed; told in percent."),
    Term("Piling", "Leaf kept warm and moist in heaps, for ripe dark tea.", also="wet piling, wodui"),
    Term("Plucking standard", "What was plucked: bud only, one leaf and a bud, two leaves and a bud, mature leaf."),
    Term("Retronasal", "Smelled from within: breathe out through the nose after the swallow."),
    Term(
        "Rinse",
        "A short first pour over the leaf that is not drunk. It wakes the leaf and warms the bowl.",
        also="awakening",
    ),
    Term("Roast", "Heat after making, for hours and often over charcoal. It fades over months and over infusions."),
    Term("Steep", "The time the leaf spends in the water, from water on to the pour."),
    Term("Taint", "A smell or taste that came from outside: smoke, mould, packaging, a neighbour in the store."),
    Term(
        "TDS",
        "Total dissolved solids of the water, in mg/l. Soft water shows aroma; hard water dulls it and makes a film.",
        also="dissolved solids, minerals",
    ),
    Term("Withering", "Fresh leaf left to lose water and stiffness, before rolling or fixing."),
)
"""In alphabetical order, ours first. The trade’s words are explained in our own (*common practice, no source*)."""


def tasting_terms(vocabulary: Vocabulary) -> Iterator[Term]:
    """Yield every word of tasting that the vocabulary knows, the user's own among them."""
    return map(tasting_term, every_term(vocabulary))


def tasting_term(one: Explained) -> Term:
    """Return a word of tasting as the help shows it."""
    also = ", ".join((*one.also, *(text for text in (one.zh, one.pinyin) if text)))
    kind = KINDS[one.kind]
    place = one.belongs if one.belongs.startswith(kind) else ". ".join(part for part in (kind, one.belongs) if part)
    cause = f"Usually caused so: {one.cause}" if one.cause else ""
    meaning = " ".join(part for part in (one.about, cause, f"{place}.") if part)
    return Term(one.term, meaning, also, source=one.source)
