"""What in a passage is not about this cup: other teas, other people, breakfast, likenesses, figures of speech.

Words in such a frame are masked: they come to nothing. A frame reaches over its clause, over its sentence, or onward
from where it begins until the sentence ends or something returns to the cup.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from tastebook.domain.grammar import Grammar
from tastebook.domain.saying_asides import asides, other_teas
from tastebook.domain.saying_lexicon import Lexeme
from tastebook.domain.saying_tokens import QUESTIONS, STOPS

LONGEST_SENTENCE: Final = 28
"""Words. A longer one was dictated without stops, and a frame of a whole sentence then reaches over its clause only."""

LONGEST_BACK: Final = 10
"""Lexemes. A clause that began farther back was dictated without stops: it then begins at `and` or `then`."""

FILLERS: Final = frozenset(
    {"um", "uh", "er", "erm", "eh", "oh", "okay", "ok", "right", "anyway", "yeah", "yes", "well", "so"}
)
"""Where nobody sets a stop, these part what is said."""

LONGEST_PREMODIFIER: Final = 2
"""`like movie theater popcorn`: so many unknown words may stand between `like` and what is meant."""

ADJECTIVE: Final = ("y", "al", "ed", "ic", "ous")
LONGEST_OTHER: Final = 12
STAND_INS: Final = frozenset({"kind", "sort", "type", "stuff", "one", "ones"})
GOES_ALONG: Final = frozenset({"with", "alongside", "next"})
LONGEST_EXPLANATION: Final = 10
HOLDING: Final = frozenset({"with", "in", "on"})
FARTHEST_BLAMED, FARTHEST_CAUSE = 6, 6
CAUSES: Final = frozenset({"that", "thats", "thatll", "it", "its", "this", "must", "probably"})
STAYING: Final = frozenset({"been", "in", "on", "into", "onto"})
COMES_FROM: Final = frozenset({"from", "comes", "coming", "came", "down", "to"})
LIGHT: Final = frozenset({"small", "talk", "soft", "hedge", "article", "start", "verb", "lead", "by", "contrast"})
LONGEST_SCENE: Final = 9
PLACED_BY: Final = frozenset(
    {"in", "on", "at", "behind", "under", "after", "by", "near", "outside", "inside", "beside"}
)
OF_THE_CUP: Final = frozenset({"channel", "label", "mouth", "end", "noun"})
HERE: Final = ("there", "i ", "we ")
KINDS: Final = frozenset({"one", "ones", "kind", "sort", "type", "variety"})
AFTER_A_STOP: Final = 2
STILL_PAST: Final = frozenset({"that was", "it was", "they were", "that had", "those were", "it had"})
LONGEST_NAME: Final = 4
NO_THING: Final = ("ing", "ed", "ly", "ish", "y")
SHORTEST_SCENE: Final = 3
"""Lexemes of a likeness before a reading may end it."""

BRIDGES: Final = ("small", "talk", "by", "before", "up", "soft", "of", "noun")

CLOSING: Final = frozenset({"absent", "unmet", "change after", "after"})


class Sentence(NamedTuple):
    """Where a sentence stands among the lexemes, and whether it asks."""

    first: int
    after: int
    asks: bool


class Likeness(NamedTuple):
    """Where a likeness stands, its leading words included; `words_first` is where what it is like begins."""

    first: int
    words_first: int
    after: int


def sentences(lexemes: Sequence[Lexeme]) -> Iterator[Sentence]:
    """Yield the sentences; a mark at the end belongs to none."""
    first = 0
    for place, lexeme in enumerate(lexemes):
        if lexeme.cut in STOPS:
            if place > first:
                yield Sentence(first, place, lexeme.cut in QUESTIONS)
            first = place + 1
    if first < len(lexemes):
        yield Sentence(first, len(lexemes), False)


def masked(lexemes: Sequence[Lexeme], sentence: Sentence, grammar: Grammar) -> list[Likeness]:
    """Mask what stands in a frame, and return the likenesses."""
    first, after, _ = sentence
    likenesses: list[Likeness] = []
    explained = first
    if _goes_on_about_another(lexemes, first):
        _mask_other(lexemes, sentence, first, is_when=False)
    for begun, ended in asides(lexemes, first, after, grammar.asides):
        _mask(lexemes, begun, ended)
        told = any(not {"speaks", "perceive"}.isdisjoint(lexeme.roles) for lexeme in lexemes[begun:ended])
        _mark_hearsay(lexemes, begun, ended, is_hearsay=told)
    for begun, is_when in other_teas(lexemes, first, after, grammar.asides):
        _mask_other(lexemes, sentence, begun, is_when=is_when)
    for place in range(first, after):
        roles = lexemes[place].roles
        if place < explained:
            continue
        is_which = _tells_the_class(lexemes, place, first, grammar.class_nouns) or _tells_which(
            lexemes, place, first, after
        )
        if "idiom" in roles or is_which or _calls_somebody(lexemes, place, sentence, grammar):
            lexemes[place].is_masked = True
        elif "sentence" in roles and not _is_likened(lexemes, first, place):
            _mask(lexemes, *_whole(lexemes, sentence, place))
        elif "explains" in roles and _follows_a_thing(lexemes, place, first):
            explained = _explained(lexemes, place, after)
            _mask(lexemes, place, explained)
        elif _stands_by(lexemes, place, first, grammar) and (cause := _cause(lexemes, place, first)) is not None:
            _mask(lexemes, _blamed(lexemes, cause, first), _stop(lexemes, place, after))
        elif "clause" in roles and not lexemes[place].is_masked:
            _mask(lexemes, *_clause(lexemes, sentence, place))
        elif "fond" in roles and not _speaks_of_the_cup(lexemes, place, after):
            _mask(lexemes, place, _clause(lexemes, sentence, place)[1])
        elif "earlier" in roles and _speaks_of_the_past(lexemes, sentence, place):
            begun, ended = _past(lexemes, sentence, place)
            ended = next((at for at in range(place, ended) if not CLOSING.isdisjoint(lexemes[at].roles)), ended)
            _mask(lexemes, begun, ended)
            _mark_hearsay(lexemes, begun, ended)
        elif _leads_away(lexemes, place, first, after):
            is_against = "against" in roles or lexemes[place].plain == "than"
            ended = _compared(lexemes, place, after) if is_against else _returned(lexemes, place, after)
            _mask(lexemes, _subject(lexemes, first, place), ended)
            _mark_hearsay(lexemes, place, ended)
    for place in range(first, after):
        if lexemes[place].is_masked:
            continue
        roles = lexemes[place].roles
        if "scene" in roles or _sets_a_scene(lexemes, place, sentence, grammar):
            likenesses.append(_scene(lexemes, place, after))
        elif "like" in roles:
            likenesses += _likeness(lexemes, place, after, grammar)
        elif "channel" in roles and lexemes[place].plain.split()[-1] in ("like", "of", "a", "an", "the"):
            likenesses += _smelt_scene(lexemes, place, after, grammar)
        elif lexemes[place].plain == "as" and _compares_with_a_thing(lexemes, place, first, after):
            likenesses.append(Likeness(place, place + 1, _stop(lexemes, place, after)))
        elif lexemes[place].senses and _is_figure(lexemes, place, first, after):
            lexemes[place].is_masked = True
    likenesses = [one for one in likenesses if _says_something(lexemes[one.words_first : one.after])]
    for likeness in likenesses:
        _mask(lexemes, likeness.words_first, likeness.after)
    return likenesses


def _says_something(lexemes: Sequence[Lexeme]) -> bool:
    return any(lexeme.is_unknown or lexeme.senses for lexeme in lexemes) or len(lexemes) > SHORTEST_SCENE


def is_boundary(lexemes: Sequence[Lexeme], place: int) -> bool:
    """Say whether a clause ends before a place."""
    lexeme = lexemes[place]
    return bool(lexeme.cut) or "start" in lexeme.roles or is_contrast(lexemes, place)


def is_contrast(lexemes: Sequence[Lexeme], place: int) -> bool:
    """Say whether `but` or the like stands at a place; the `so` of `so loud` is none."""
    roles = lexemes[place].roles
    if "contrast" not in roles or "up" not in roles or place + 1 >= len(lexemes):
        return "contrast" in roles
    following = lexemes[place + 1]
    pushes = not {"by", "before", "of", "after"}.isdisjoint(following.roles)
    return not pushes and not (following.senses and following.plain.endswith(ADJECTIVE))


def _mask(lexemes: Sequence[Lexeme], first: int, after: int) -> None:
    for lexeme in lexemes[first:after]:
        lexeme.is_masked = True


def _mark_hearsay(lexemes: Sequence[Lexeme], first: int, after: int, *, is_hearsay: bool = True) -> None:
    for lexeme in lexemes[first:after]:
        lexeme.is_hearsay = is_hearsay


def _mask_other(lexemes: Sequence[Lexeme], sentence: Sentence, place: int, *, is_when: bool) -> None:
    """Mask what is said of another tea; `in the one before` only tells when, with a statement in the past beside it."""
    ended = _returned(lexemes, place, sentence.after, resumes=is_when)
    if is_when:
        ended = min(ended, _past(lexemes, sentence, place)[1])
        place = _clause(lexemes, sentence, place)[0] if _is_of_the_past(lexemes, sentence, place) else place
    _mask(lexemes, place, ended)
    _mark_hearsay(lexemes, place, ended)


def _goes_on_about_another(lexemes: Sequence[Lexeme], first: int) -> bool:
    """Say whether a sentence goes on in the past about what the one before ended with: `…; that was peat`."""
    if first < AFTER_A_STOP or lexemes[first].plain not in STILL_PAST:
        return False
    return lexemes[first - AFTER_A_STOP].is_hearsay and lexemes[first - AFTER_A_STOP].is_masked


def _is_of_the_past(lexemes: Sequence[Lexeme], sentence: Sentence, place: int) -> bool:
    begun, _ = _clause(lexemes, sentence, place)
    return any("past" in lexeme.roles for lexeme in lexemes[begun:place])


def _is_strange(lexemes: Sequence[Lexeme]) -> bool:
    """Say whether what follows `than` is a name that nobody knows: `quieter than the Lantern Terrace`."""
    at = next((at for at, one in enumerate(lexemes) if "article" not in one.roles), len(lexemes))
    return at < len(lexemes) and lexemes[at].token.is_capital and not lexemes[at].senses


def _leads_away(lexemes: Sequence[Lexeme], place: int, first: int, after: int) -> bool:
    """Say whether words lead to another tea or to another's word; `nothing like that`, at the end, leads nowhere."""
    roles = lexemes[place].roles
    if lexemes[place].plain == "than" and _is_strange(lexemes[place + 1 : min(after, place + LONGEST_NAME)]):
        return True
    if "against" in roles and "onward" not in roles:
        ends = place + 1 >= after or bool(lexemes[place + 1].cut)
        return not (ends and lexemes[place].plain.endswith(" that"))
    return "onward" in roles or _is_anothers_word(lexemes, place, first)


def _follows_a_thing(lexemes: Sequence[Lexeme], place: int, first: int) -> bool:
    """Say whether something that may be a note, or what nobody knows, stands right before a place."""
    if lexemes[place].plain.startswith("the "):
        return True
    before = lexemes[place - 1] if place > first else None
    if before is None or before.cut:
        return False
    return before.may_be_note or before.is_unknown or before.plain.split()[-1] in STAND_INS


def _calls_somebody(lexemes: Sequence[Lexeme], place: int, sentence: Sentence, grammar: Grammar) -> bool:
    """Say whether a word between two pauses calls somebody: `well, honey, that's pecan`."""
    if lexemes[place].plain not in grammar.vocatives or not sentence.first + 1 < place < sentence.after - 1:
        return False
    is_apart = bool(lexemes[place - 1].cut) and bool(lexemes[place + 1].cut)
    opener = lexemes[place - 2]
    return is_apart and place - 2 == sentence.first and "talk" in opener.roles and not opener.senses


def _is_likened(lexemes: Sequence[Lexeme], first: int, place: int) -> bool:
    """Say whether a likeness stands before a place: `like opening a pencil case at school` is one, and no memory."""
    return any(not {"like", "scene"}.isdisjoint(lexeme.roles) for lexeme in lexemes[first:place])


def _tells_the_class(lexemes: Sequence[Lexeme], place: int, first: int, class_nouns: frozenset[str]) -> bool:
    """Say whether words tell only of what kind the thing before them is: `thyme, the herb`, `and I mean the flower`."""
    if lexemes[place].plain not in class_nouns or place < first + 2 or lexemes[place - 1].plain != "the":
        return False
    before = lexemes[place - 2]
    if before.cut and place > first + 2:
        before = lexemes[place - 3]
    return before.may_be_note or before.plain.split()[-1:] in (["mean"], ["meaning"], ["meant"])


def _tells_which(lexemes: Sequence[Lexeme], place: int, first: int, after: int) -> bool:
    """Say whether a word only tells which kind is meant: `the cherry one`, `the dairy kind`."""
    if not lexemes[place].senses or place <= first or place + 1 >= after:
        return False
    return lexemes[place - 1].plain.split()[-1:] in (["the"], ["that"]) and lexemes[place + 1].plain in KINDS


def _stands_by(lexemes: Sequence[Lexeme], place: int, first: int, grammar: Grammar) -> bool:
    """Say whether something is beside the tea: one of the bystanders, or anybody's thing that nobody knows."""
    if lexemes[place].plain in grammar.bystanders:
        return True
    owner = lexemes[place - 1].plain if place > first else ""
    is_owned = owner in grammar.asides.owners or owner in ("somebodys", "someones")
    return is_owned and lexemes[place].is_unknown and lexemes[place].plain not in grammar.asides.own


def _cause(lexemes: Sequence[Lexeme], place: int, first: int) -> int | None:
    """Return where it begins to be said that something else is the cause: `that's just the`; None if it is not said."""
    for at in range(place - 1, max(first - 1, place - FARTHEST_CAUSE), -1):
        words = lexemes[at].plain.split()
        if lexemes[at].cut or not words or lexemes[at].is_masked or words[-1] in STAYING:
            return None
        if words[0] in CAUSES:
            return at
        if words[-1] not in COMES_FROM and LIGHT.isdisjoint(lexemes[at].roles):
            return None
    return None


def _blamed(lexemes: Sequence[Lexeme], place: int, first: int) -> int:
    """Return where that begins which is put down to something else: the last thing named, if anything was."""
    for at in range(place - 1, max(first, place - FARTHEST_BLAMED) - 1, -1):
        if lexemes[at].senses and not lexemes[at].is_masked:
            return at
    return place


def _stop(lexemes: Sequence[Lexeme], place: int, after: int) -> int:
    """Return where a clause that begins at a place ends."""
    return next((at for at in range(place + 1, after) if is_boundary(lexemes, at)), after)


def _explained(lexemes: Sequence[Lexeme], place: int, after: int) -> int:
    """Return where an explanation ends: with its clause, or at `and`, unless that is the one of `between`."""
    is_between = "between" in lexemes[place].plain
    after = min(after, place + LONGEST_EXPLANATION)
    for at in range(place + 1, _stop(lexemes, place, after)):
        if "and" in lexemes[at].roles and lexemes[at].plain not in GOES_ALONG:
            if not is_between:
                return at
            is_between = False
    return _stop(lexemes, place, after)


def _whole(lexemes: Sequence[Lexeme], sentence: Sentence, place: int) -> tuple[int, int]:
    if sentence.after - sentence.first <= LONGEST_SENTENCE:
        return sentence.first, sentence.after
    return _clause(lexemes, sentence, place)


def _clause(lexemes: Sequence[Lexeme], sentence: Sentence, place: int) -> tuple[int, int]:
    """Return the clause around a place; a list goes on over its commas."""
    first = place
    while first > sentence.first and not is_boundary(lexemes, first - 1):
        first -= 1
    if first > sentence.first and not lexemes[first - 1].cut:
        first -= 1
    is_dictated = sentence.after - sentence.first > LONGEST_SENTENCE
    if is_dictated:
        first = next((at for at in range(place - 1, first, -1) if lexemes[at].plain in FILLERS), first)
    if place - first > LONGEST_BACK:
        first = next((at for at in range(place - 1, first, -1) if "and" in lexemes[at].roles), place - LONGEST_BACK)
    after = place + 1
    while after < sentence.after and not _ends_clause(lexemes, after, sentence.after):
        if is_dictated and lexemes[after].plain in FILLERS:
            break
        after += 1
    return first, after


def _ends_clause(lexemes: Sequence[Lexeme], place: int, after: int) -> bool:
    lexeme = lexemes[place]
    if lexeme.cut:
        following = lexemes[place + 1] if place + 1 < after else None
        goes_on = following is not None and bool(following.senses) and bool(lexemes[place - 1].senses)
        return not goes_on or lexeme.cut == ":"
    return not {"start", "returns"}.isdisjoint(lexeme.roles) or is_contrast(lexemes, place)


def _speaks_of_the_cup(lexemes: Sequence[Lexeme], place: int, after: int) -> bool:
    """Say whether `I like` goes on with `the`, `this`, `how`: then it is said of what is in the cup."""
    following = lexemes[place + 1 : min(place + 2, after)]
    return any(lexeme.plain.split()[0] in ("the", "this", "that", "how", "it", "its", "what") for lexeme in following)


def _speaks_of_the_past(lexemes: Sequence[Lexeme], sentence: Sentence, place: int) -> bool:
    begun, ended = _past(lexemes, sentence, place)
    return any("past" in lexeme.roles for lexeme in lexemes[begun:ended])


def _past(lexemes: Sequence[Lexeme], sentence: Sentence, place: int) -> tuple[int, int]:
    """Return the clause around an earlier cup, with the statement about it that follows at once: `…, it was peach`."""
    begun, ended = _clause(lexemes, sentence, place)
    at = ended + 1 if ended < sentence.after and lexemes[ended].cut else ended
    if at < sentence.after and {"start", "past"} <= lexemes[at].roles.keys():
        return begun, _clause(lexemes, sentence, at)[1]
    return begun, ended


def _is_anothers_word(lexemes: Sequence[Lexeme], place: int, first: int) -> bool:
    """Say whether somebody says it whose name nobody knows: `Mara says it's marzipan`."""
    return "speaks" in lexemes[place].roles and place > first and lexemes[place - 1].is_unknown


def _subject(lexemes: Sequence[Lexeme], first: int, place: int) -> int:
    """Return where the subject begins that an onward frame goes on from: `my wife says`."""
    while place > first and set(lexemes[place - 1].roles) & {"small"} and not lexemes[place - 1].cut:
        place -= 1
    return place


def _returned(lexemes: Sequence[Lexeme], place: int, after: int, *, resumes: bool = True) -> int:
    """Return where an onward frame ends: at the end, or where something returns to the cup."""
    for at in range(place + 1, after):
        roles = lexemes[at].roles
        if not {"returns", "unmet", "absent", "confirms"}.isdisjoint(roles) or _denies_here(lexemes[at]):
            return at
        has_paused = bool(lexemes[at - 1].cut)
        if resumes and has_paused and "resumes" in roles:
            return at
        if "present" in roles and (has_paused or _runs_on(lexemes, place, at)):
            return at
    return after


def _denies_here(lexeme: Lexeme) -> bool:
    """Say whether a denial is a statement about this cup: `there's not`, `I don't`."""
    return "not" in lexeme.roles and lexeme.plain.startswith(HERE)


def _runs_on(lexemes: Sequence[Lexeme], place: int, at: int) -> bool:
    """Say whether somebody has talked on for long without a pause, as in dictation."""
    return at - place > LONGEST_OTHER and not any(lexeme.cut for lexeme in lexemes[place:at])


def _compared(lexemes: Sequence[Lexeme], place: int, after: int) -> int:
    """Return where the other tea of a comparison ends; a clause about it (`, which was`, `, with all`) goes along."""
    for at in range(place + 1, after):
        roles = lexemes[at].roles
        if "returns" in roles or "present" in roles or "but" in lexemes[at].plain:
            return at
        if lexemes[at].cut and (at + 1 >= after or "tells more" not in lexemes[at + 1].roles):
            return at
    return after if after - place <= LONGEST_OTHER else _named(lexemes, place, after)


def _named(lexemes: Sequence[Lexeme], place: int, after: int) -> int:
    """Return where the other tea is named, in dictation without stops: only what nobody knows goes along."""
    at = place + 1
    while at < after and (lexemes[at].is_unknown or "talk" in lexemes[at].roles):
        at += 1
    return at


def _scene(lexemes: Sequence[Lexeme], place: int, after: int) -> Likeness:
    end = place + 1
    while end < after and not is_boundary(lexemes, end) and not _begins_a_reading(lexemes, place, end):
        end += 1
    return Likeness(place, place, end)


def _sets_a_scene(lexemes: Sequence[Lexeme], place: int, sentence: Sentence, grammar: Grammar) -> bool:
    """Say whether a phrase is a thing in its place: `a bonfire on the beach`, `a wardrobe in a seaside hotel`."""
    before = lexemes[place - 1] if place > sentence.first else None
    begins = before is None or bool(before.cut) or "start" in before.roles
    if not begins or lexemes[place].plain not in ("a", "an", "the"):
        return False
    end = min(sentence.after, place + LONGEST_SCENE)
    at = next((at for at in range(place + 1, end) if lexemes[at].cut or lexemes[at].plain in PLACED_BY), None)
    if at is None or at == place + 1 or lexemes[at].cut or not _is_scenery(lexemes[at - 1], grammar):
        return False
    where = lexemes[at + 1 : end]
    where = where[: next((number for number, one in enumerate(where) if one.cut), len(where))]
    is_of_the_cup = any(not OF_THE_CUP.isdisjoint(one.roles) for one in where)
    return not is_of_the_cup and any(_is_scenery(one, grammar) for one in where)


def _is_scenery(lexeme: Lexeme, grammar: Grammar) -> bool:
    """Say whether a word is no note by itself: nobody knows it, or it tells a place or a thing."""
    if lexeme.is_unknown:
        return _may_be_thing(lexeme)
    return lexeme.plain in grammar.scene_nouns or lexeme.plain in grammar.guarded


def _may_be_thing(lexeme: Lexeme) -> bool:
    """Say whether a word that nobody knows may be the name of a thing."""
    return lexeme.is_unknown and lexeme.plain.isascii() and not lexeme.plain.endswith(NO_THING)


def _begins_a_reading(lexemes: Sequence[Lexeme], place: int, at: int) -> bool:
    """Say whether a likeness is over though nobody set a stop: `like licking a stone sweetness comes back`."""
    if at < place + SHORTEST_SCENE or not lexemes[at].senses or lexemes[at - 1].roles:
        return False
    return all(sense.kind == "scale" for sense in lexemes[at].senses)


def _likeness(lexemes: Sequence[Lexeme], place: int, after: int, grammar: Grammar) -> Iterator[Likeness]:
    """Yield what `like` leads to, if it is no flavour: nothing known is said at once, or it only belongs to a thing."""
    at, unknown = place + 1, 0
    while at < after and not is_boundary(lexemes, at) and not _may_be_felt(lexemes[at]):
        if lexemes[at].is_unknown or lexemes[at].senses:
            unknown += 1
        elif not set(lexemes[at].roles) & set(BRIDGES) or (unknown and "small" in lexemes[at].roles):
            break
        at += 1
    is_named = any(one.is_unknown and one.token.is_capital for one in lexemes[place + 1 : at])
    said_at_once = at < after and lexemes[at].senses and unknown <= LONGEST_PREMODIFIER and not is_named
    if said_at_once and not _has_head(lexemes, at, after, grammar):
        _mask(lexemes, at + 1, _ingredients(lexemes, at + 1, after))
        return
    if unknown or (at < after and lexemes[at].senses):
        scene = _scene(lexemes, place, after)
        yield Likeness(place, place + 1, scene.after)


def _may_be_felt(lexeme: Lexeme) -> bool:
    """Say whether a word may name a note or a reading; that of a colour alone is no flavour."""
    return any(sense.kind != "colour" for sense in lexeme.senses)


def _smelt_scene(lexemes: Sequence[Lexeme], place: int, after: int, grammar: Grammar) -> Iterator[Likeness]:
    """Yield what `smells like` leads to, if that is a place or a thing: `smells like a perfume shop`."""
    at = place + 1
    while at < after and "article" in lexemes[at].roles:
        at += 1
    if at < after and lexemes[at].senses and _has_head(lexemes, at, after, grammar):
        yield Likeness(place, place + 1, _stop(lexemes, place, after))


def _compares_with_a_thing(lexemes: Sequence[Lexeme], place: int, first: int, after: int) -> bool:
    """Say whether `as` holds what is felt against a thing: `supple as kid gloves`, not `thick as before`."""
    if place <= first or place + 1 >= after or lexemes[place - 1].cut or not _describes(lexemes[place - 1]):
        return False
    at = place + 1
    while at < after - 1 and "article" in lexemes[at].roles:
        at += 1
    return lexemes[at].is_unknown or bool(lexemes[at].senses and not lexemes[at].roles)


def _ingredients(lexemes: Sequence[Lexeme], place: int, after: int) -> int:
    """Return where that ends which is only in or on a likeness: `like rice pudding with cinnamon`."""
    if place >= after or lexemes[place].plain not in HOLDING:
        return place
    at = place + 1
    while at < after and "article" in lexemes[at].roles:
        at += 1
    return at + 1 if at < after and lexemes[at].senses and not lexemes[at].roles else place


def _has_head(lexemes: Sequence[Lexeme], place: int, after: int, grammar: Grammar) -> bool:
    """Say whether a known word only describes the unknown thing behind it: `a rose garden`, `a perfume shop`."""
    if place + 1 >= after:
        return False
    head = lexemes[place + 1]
    is_thing = _may_be_thing(head) and head.plain not in grammar.part_words  # `like grapefruit pith` is of grapefruit
    return head.plain in grammar.scene_nouns or (is_thing and (place + 2 >= after or not lexemes[place + 2].senses))


def _is_figure(lexemes: Sequence[Lexeme], place: int, first: int, after: int) -> bool:
    """Say whether a word stands in `a peach of a tea` or in `smooth as butter`."""
    following = [lexeme.plain for lexeme in lexemes[place + 1 : min(place + 3, after)]]
    is_one = place > first and lexemes[place - 1].plain in ("a", "an")
    if is_one and following[:2] in (["of", "a"], ["of", "an"]):
        return True
    before = place - 1
    while before > first and not lexemes[before].cut and _is_bridge(lexemes[before]):
        before -= 1
    if before <= first or lexemes[before].plain != "as":
        return False
    described = lexemes[before - 1]
    return not described.cut and bool(
        set(described.roles) & {"by", "before", "talk", "soft", "up"} or _describes(described)
    )


def _is_bridge(lexeme: Lexeme) -> bool:
    return lexeme.plain == "freshly" or (lexeme.plain != "as" and not {"article", "talk"}.isdisjoint(lexeme.roles))


def _describes(lexeme: Lexeme) -> bool:
    kinds = {sense.kind for sense in lexeme.senses}
    return bool(kinds & {"scale", "clarity"}) or ("colour" in kinds and "descriptor" not in kinds)
