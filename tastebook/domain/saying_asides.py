"""What somebody does or owns: `she drank cocoa`, `I burnt my tongue on the soup`. Nothing of it is in the cup.

The verbs of tasting are few and known; what people otherwise do is without end. So a verb that nobody knows, behind a
person, is something done: from the person on, to the end of the clause, words come to nothing. The rules are told in
`resources/grammar/README.md`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, TypeAlias

from tastebook.domain.aside_lists import AsideLists
from tastebook.domain.saying_lexicon import Lexeme
from tastebook.domain.saying_tokens import STOPS

FARTHEST_VERB: Final = 5
FARTHEST_NUMBER: Final = 4
DOING: Final = "ing"
ADVERB: Final = "ly"
KNOWN_BEGINNINGS: Final = frozenset(
    {"start", "perceive", "hedge", "present", "sure", "channel", "lead", "fond", "like", "scene", "idiom", "looked for"}
)
OF_THE_CUP: Final = frozenset({"label", "channel", "mouth", "end", "change", "change after", "perceive"})
OPENING: Final = frozenset({"and", "contrast", "relative"})

PLACING: Final = frozenset({"in", "on", "of", "at", "since", "during", "through", "after", "before"})
ALSO_WORDS: Final = frozenset({"shell", "shed", "well", "hell", "wed", "ill", "id"})
"""Without their apostrophes these are words of another meaning."""

NUMBERS: Final = frozenset(
    {"two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen"}
)
YEAR_DIGITS: Final = 4
JOINING: Final = frozenset({"and", "but", "then", "so", "because", "when", "while", "where", "what"})
LOOSE: Final = frozenset({"now", "well", "oh", "so", "okay", "ok", "um", "uh", "er", "anyway"})
KNOWING: Final = frozenset({"know", "knew", "remember"})
"""`I know guava well` is no finding; `I know it is guava` is."""

PUT: Final = "put"
KEPT: Final = frozenset({"down", "me", "it", "that"})
"""`put it down as peach` writes a note, `put banana on your own sheet` does not."""

LONGEST_TOLD: Final = 3
FARTHEST_PAST: Final = 7

Span: TypeAlias = tuple[int, int]


def asides(lexemes: Sequence[Lexeme], first: int, after: int, lists: AsideLists) -> Iterator[Span]:
    """Yield from where to before where a sentence tells what somebody does or owns."""
    place = first
    while place < after:
        if _tells_of_somebody(lexemes, place, first, after, lists):
            ended = _end(lexemes, place, after, lists)
            yield place, ended
            place = ended
        place += 1


def _tells_of_somebody(lexemes: Sequence[Lexeme], place: int, first: int, after: int, lists: AsideLists) -> bool:
    lexeme = lexemes[place]
    if lexeme.cut or not lexeme.plain:
        return False
    words = lexeme.plain.split()
    before = lexemes[place - 1]
    begins = place == first or bool(before.cut) or not OPENING.isdisjoint(before.roles) or before.plain in LOOSE
    if begins and words[0] in lists.owners:
        return _is_of_anothers(lexemes, place, after, lists)
    if begins and words[0].removesuffix("s") in lists.kin and lexeme.token.is_short:
        return place + 1 < after and lexemes[place + 1].is_unknown
    if begins and (_is_name(lexeme) or lexeme.plain in lists.kin):
        at = next((at for at in range(place + 1, after) if not _is_name(lexemes[at])), after)
        if at < after and (lexemes[at].plain.split() or [""])[0] in lists.named:
            return True
    if begins and words[-1] in ("the", "a", "an") and place + 1 < after and lexemes[place + 1].plain in lists.people:
        return True
    if words[-1] in lists.being and _tells_who(lexemes[place + 1 : min(after, place + LONGEST_TOLD + 2)], lists):
        return True
    joins_a_person = len(words) > 1 and words[0] in JOINING and words[-1] in lists.persons
    if not KNOWN_BEGINNINGS.isdisjoint(lexeme.roles) and not joins_a_person:
        return False
    if lexeme.senses or (words[-1] in ALSO_WORDS and not lexeme.token.is_short):
        return False
    if words[-1] in lists.persons or words[-1] in lists.being:
        return _does(lexemes, place, after, lists)
    if begins and lexeme.plain == PUT:
        return place + 1 < after and lexemes[place + 1].plain not in KEPT and not _gives_number(lexemes, place, after)
    is_doing = len(words) == 2 and words[0] in lists.persons and words[1] in lists.doings
    return begins and is_doing and not _is_of_the_cup(lexemes, place, after)


def _tells_who(lexemes: Sequence[Lexeme], lists: AsideLists) -> bool:
    """Say whether it is told what somebody is: `I'm a moss man`."""
    if not lexemes or lexemes[0].plain not in ("a", "an"):
        return False
    upto = next((at for at, one in enumerate(lexemes) if one.cut), len(lexemes))
    return any(one.plain in lists.people for one in lexemes[1:upto])


def _is_name(lexeme: Lexeme) -> bool:
    """Say whether it is a word that nobody knows, with a capital."""
    return lexeme.is_unknown and lexeme.token.is_capital


def _is_of_anothers(lexemes: Sequence[Lexeme], place: int, after: int, lists: AsideLists) -> bool:
    """Say whether a clause begins with what is somebody's and no part of the tasting: `my brother`."""
    words = lexemes[place].plain.split()
    if len(words) > 1:
        return "explains" in lexemes[place].roles
    if place + 1 >= after:
        return False
    described = lexemes[place + 1]
    is_described = not described.cut and not described.senses and not described.is_unknown
    is_described = is_described and described.plain not in lists.own and place + 2 < after
    place += 1 if is_described else 0
    owned = lexemes[place + 1]
    is_counted = _gives_number(lexemes, place + 1, after)  # `my grandmother's parlour 2` names something
    return owned.is_unknown and owned.plain not in lists.own and not is_counted


def _does(lexemes: Sequence[Lexeme], place: int, after: int, lists: AsideLists) -> bool:
    """Say whether a person at a place does something: the first word that is no auxiliary is a doing."""
    person = lexemes[place].plain.split()[-1]
    needs_ing, minds = person in lists.being, person not in lists.third_persons
    at = place + 1
    while at < min(after, place + FARTHEST_VERB):
        lexeme = lexemes[at]
        if lexeme.cut:
            return False
        if lexeme.plain in lists.being:
            needs_ing = True
        elif lexeme.plain in KNOWING and at + 1 < after and lexemes[at + 1].may_be_note:
            return True
        elif lexeme.plain not in lists.between and not (lexeme.is_unknown and lexeme.plain.endswith(ADVERB)):
            return (not minds or _is_doing(lexeme, lists, needs_ing=needs_ing)) and not _gives_number(
                lexemes, at, after
            )
        at += 1
    return False


def _is_doing(lexeme: Lexeme, lists: AsideLists, *, needs_ing: bool) -> bool:
    words = lexeme.plain
    if not words.isascii() or words in lists.minding:
        return False
    if needs_ing:
        return lexeme.is_unknown and words.endswith(DOING) and words.removesuffix(DOING) not in lists.minding
    return lexeme.is_unknown or words.split()[0] in lists.doings


def _gives_number(lexemes: Sequence[Lexeme], place: int, after: int) -> bool:
    """Say whether a number follows at once: `I poured 120 ml`, `bitterness I put at two`."""
    following = lexemes[place + 1 : min(after, place + FARTHEST_NUMBER)]
    return any((one.number is not None or "number" in one.roles) and one.plain != "one" for one in following)


def _is_of_the_cup(lexemes: Sequence[Lexeme], place: int, after: int) -> bool:
    """Say whether a doing goes on with a number, a place or a change: `I put the nose in`, `I keep coming back to`."""
    following = lexemes[place + 1 : min(after, place + 3)]
    return _gives_number(lexemes, place, after) or any(not OF_THE_CUP.isdisjoint(one.roles) for one in following)


def _end(lexemes: Sequence[Lexeme], place: int, after: int, lists: AsideLists) -> int:
    """Return where a clause about somebody ends: at `and`, at `but`, at a pause that it does not go on over."""
    for at in range(place + 1, after):
        lexeme = lexemes[at]
        if lexeme.cut:
            if lexeme.cut in STOPS or at + 1 >= after or lexemes[at + 1].plain not in lists.goes_along:
                return at
        elif _goes_on_listing(lexemes, at, after):
            continue
        elif lexeme.plain.split()[0] in lists.adversative or _begins_anew(lexeme, lists):
            return at
    return after


def _goes_on_listing(lexemes: Sequence[Lexeme], at: int, after: int) -> bool:
    """Say whether `and` only joins two things that somebody has: `dad says leather and cigar boxes`."""
    is_between = 0 < at < after - 1 and bool(lexemes[at - 1].senses) and bool(lexemes[at + 1].senses)
    return is_between and "joins" in lexemes[at].roles


def _begins_anew(lexeme: Lexeme, lists: AsideLists) -> bool:
    if lexeme.plain in lists.goes_along:
        return False
    return not {"returns", "present", "and"}.isdisjoint(lexeme.roles) or lexeme.plain.startswith("and ")


def other_teas(lexemes: Sequence[Lexeme], first: int, after: int, lists: AsideLists) -> Iterator[tuple[int, bool]]:
    """Yield where another tea is spoken of, with whether only a phrase tells when or where: `in the one before, …`."""
    words = [(word, at) for at in range(first, after) for word in lexemes[at].plain.split() or [""]]
    for number, (word, at) in enumerate(words):
        if word not in lists.teas and word not in NUMBERS and not word.isdigit():
            continue
        if _counts_a_cup(words, number, lists) and not lexemes[at].is_masked:
            yield at, False
            continue
        if word not in lists.teas and not _is_a_year(words, number):
            continue
        if lexemes[at].is_masked or lexemes[at].senses:
            continue
        begun = number - 1 if _is_a_year(words, number) else _told_before(words, number, lists)
        if begun is None and _told_behind(words, number, lists):
            begun = number - 1 if number and words[number - 1][0] in lists.tea_articles else number
        if begun is None:
            continue
        leading = words[begun - 1][0] if begun else ""
        if leading not in lists.held_against:
            yield (words[begun - 1][1], True) if leading in PLACING else (words[begun][1], False)


def _counts_a_cup(words: Sequence[tuple[str, int]], number: int, lists: AsideLists) -> bool:
    """Say whether a bare number begins a clause about a cup: `twelve had burnt toast all over it`."""
    word = words[number][0]
    begins = number == 0 or words[number - 1][0] in ("", ":", ",", ";", "and", "but", "cup", "number")
    is_number = word.isdigit() or word in NUMBERS
    return begins and is_number and number + 1 < len(words) and words[number + 1][0] in lists.tea_pasts


def _is_a_year(words: Sequence[tuple[str, int]], number: int) -> bool:
    """Say whether a year stands for a tea: `the 2019 was smokier`, `in 2021 we had`."""
    word = words[number][0]
    is_year = word.isdigit() and len(word) == YEAR_DIGITS and word.startswith(("19", "20"))
    return is_year and number > 0 and words[number - 1][0] in ("the", "in", "our", "my", "that")


def _told_before(words: Sequence[tuple[str, int]], number: int, lists: AsideLists) -> int | None:
    """Return where `the last lot` or `last spring's lot` begins, None if nothing before it tells another tea."""
    if not number or words[number - 1][0] not in lists.told_before:
        return None
    begun = number - 1
    needs_past = words[begun][0] in lists.told_if_past
    has_article = begun > 0 and words[begun - 1][0] in lists.tea_articles
    if needs_past and not (has_article and _is_past(words, number, lists)):
        return None
    return begun - 1 if has_article else begun


def _told_behind(words: Sequence[tuple[str, int]], number: int, lists: AsideLists) -> bool:
    following = [word for word, _ in words[number + 1 : number + 1 + LONGEST_TOLD]]
    if any(" ".join(following[:length]) in lists.told_behind for length in range(1, len(following) + 1)):
        return True
    is_numbered = len(following) > 1 and (following[0] in lists.tea_numbers)
    return is_numbered and following[1] in lists.tea_pasts | lists.tea_tells


def _is_past(words: Sequence[tuple[str, int]], number: int, lists: AsideLists) -> bool:
    return any(word in lists.tea_pasts for word, _ in words[number + 1 : number + 1 + FARTHEST_PAST])
