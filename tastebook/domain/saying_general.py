"""A name that answers a question (`wood? old wood`), or says the same in more words (`pear, ripe pear`)."""

from __future__ import annotations

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found, key_of
from tastebook.domain.vocabulary import Descriptor


def is_named_by(context: Context, general: Found, exact: Found) -> bool:
    """Say whether one thing found is a collective note and the other a note of its family."""
    first, second = (one.sense.meaning if one.sense else None for one in (general, exact))
    if not isinstance(first, Descriptor) or not isinstance(second, Descriptor):
        return False
    return first.key in context.grammar.generic and first.key != second.key and first.family == second.family


def is_said_longer(context: Context, first: Found, second: Found) -> bool:
    """Say whether the same is said again at once in more words: `pear, ripe pear`."""
    words = [context.lexemes[one.at].plain.split() for one in (first, second)]
    is_next = second.at - first.at <= 2 and bool(context.lexemes[second.at - 1].cut)
    return is_next and key_of(first) == key_of(second) and len(words[1]) > len(words[0])
