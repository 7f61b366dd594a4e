"""That something is not there, in the many ways it is said, and what only sounds so: common use of English.

Each line: what is said | what is there | what is not.
"""

from __future__ import annotations

import pytest

from tastebook.domain.saying import understand
from tests.words import real_vocabulary

WORDS = real_vocabulary()
SAID = """
    I can't pick up any rose|| rose
    not picking up rose at all||rose
    rose isn't showing today||rose
    rose has packed it in||rose
    the rose didn't make it across||rose
    the jasmine I was told about is nowhere||jasmine
    where's the jasmine gone, I get none||jasmine
    honey yes, jasmine no|honey|jasmine
    honey, but jasmine? not a bit of it|honey|jasmine
    honey instead of jasmine|honey|jasmine
    it's honey rather than jasmine|honey|jasmine
    more honey than jasmine now, in fact no jasmine|honey|jasmine
    no jasmine to report||jasmine
    jasmine: absent||jasmine
    jasmine nil, rose nil, honey strong|honey|jasmine rose
    neither jasmine nor rose, just honey|honey|jasmine rose
    I was after jasmine and didn't get it||jasmine
    I was hoping for jasmine but there isn't any||jasmine
    expected jasmine, got honey|honey|
    I'd expected jasmine; instead there is honey|honey|
    they promised us jasmine and there's not a trace||jasmine
    the sheet says jasmine, I say no||jasmine
    I keep looking for the jasmine, it isn't there||jasmine
    I looked everywhere for jasmine and came up empty||jasmine
    jasmine, which I had in the lid, has vanished||jasmine
    the smoke from before is no longer with us||smoke
    the smoke has burnt itself out||smoke
    smoke's gone||smoke
    that smoke is gone now||smoke
    no more smoke||smoke
    there used to be smoke, now nothing||smoke
    smoke no longer||smoke
    all the smoke has left it||smoke
    it has lost its smoke||smoke
    it's lost all the smoke||smoke
    it shed the smoke completely||smoke
    without a hint of smoke||smoke
    smoke-free||smoke
    free from smoke and tar||smoke tar
    devoid of smoke||smoke
    clean of smoke||smoke
    not smoky||smoke
    not in the least smoky||smoke
    not what I'd call smoky||smoke
    it isn't smoky or tarry||smoke tar
    nothing smoky about it||smoke
    nothing smoky, nothing tarry||smoke tar
    smoky it isn't||smoke
    I wouldn't call that smoky||smoke
    nobody could call this smoky||smoke
    you'd be hard pressed to find smoke||smoke
    can't say I get smoke||smoke
    I can't say there's smoke||smoke
    I don't think there's any smoke||smoke
    I doubt there's smoke||smoke
    is there smoke? I don't think so||smoke
    any smoke? no||smoke
    smoke? forget it||smoke
    smoke? you must be joking||smoke
    smoke: zero out of five||smoke
    smoke zero||smoke
    0 smoke||smoke
    smoke 0||smoke
    not musty, not dusty, not stale||musty dusty stale-odour
    not a bit musty||musty
    musty? Not at all||musty
    nothing musty here, thank God||musty
    the cardboard is finally gone||cardboard
    that cardboard we worried about isn't there||cardboard
    I was worried about cardboard, there is none||cardboard
    I feared cardboard. None||cardboard
    no cardboard this time||cardboard
    cardboard all gone||cardboard
    the rose never came back||rose
    rose hasn't come back||rose
    rose did not return||rose
    rose fails to appear||rose
    rose missing in action||rose
    still no rose||rose
    yet again no rose||rose
    and as for rose, nothing||rose
    about the rose: I find none||rose
    of rose there is no sign||rose
    of rose not a sign||rose
    not a rose in sight||rose
    there's no trace left of the rose||rose
    not even rose||rose
    peach, apricot, but no rose|peach apricot|rose
    peach and apricot without the rose|peach apricot|rose
    no rose but plenty of peach|peach|rose
    no rose, no jasmine, no lily||rose jasmine lily
    no rose or jasmine||rose jasmine
    rose and jasmine are both gone||rose jasmine
    both the rose and the jasmine have gone||rose jasmine
    the rose is gone and so is the jasmine||rose jasmine
    I don't get the rose, nor the jasmine||rose jasmine
    I get neither the rose nor the jasmine||rose jasmine
    don't get rose from this||rose
    couldn't find the rose if you paid me||rose
    rose I do not have||rose
    rose not here||rose
    rose not exist||rose
    rose no||rose
    rose is not||rose
    there no rose||rose
    have no rose||rose
    no has rose||rose
    the rose I not find||rose
    I not smell rose||rose
    rose smell cannot find||rose
    rose I cannot smell anymore||rose
    before was rose, now is not||rose
    rose already not have||rose
    rose finish already||rose
    rose disappear||rose
    the rose is disappear||rose
    it miss the rose||rose
    it is missing the rose||rose
    rose is what's missing||rose
    what's missing is rose||rose
    the one thing I miss is rose||rose
    what I don't find is rose||rose
    I would have liked some rose, there isn't any||rose
    my wife found rose, I can't||rose
    she gets rose, I don't||rose
    he says rose; not me||rose
    somebody said rose, I can't find it||rose
    last year it was all rose, this year none||rose
    last year's had rose. This one doesn't||rose
    unlike last year's there's no rose||rose
    less rose than last year, in fact none||rose
    almost no rose|rose|
    hardly any rose|rose|
    barely any rose|rose|
    not a lot of rose|rose|
    not without rose|rose|
    no doubt about the rose|rose|
    I can't deny the rose|rose|
    nothing but rose|rose|
    not just rose, also peach|rose peach|
    not only rose but peach|rose peach|
    rose, no question|rose|
    rose, no less|rose|
    no, that's rose|rose|
    no wonder, it's rose|rose|
    can't get enough of that rose|rose|
    I don't mind the rose|rose|
    you can't miss the rose|rose|
    the rose isn't strong|rose|
    the rose isn't going anywhere|rose|
    the rose won't leave|rose|
    rose that doesn't quit|rose|
    don't know if it's rose or peach|rose peach|
    I'm not sure it's rose|rose|
    not sure, rose?|rose|
"""


@pytest.mark.parametrize("line", [line.strip() for line in SAID.strip().splitlines()])
def test_what_is_not_there_is_absent_and_what_only_sounds_so_is_not(line: str) -> None:
    said, there, absent = ([*line.split("|"), ""])[:3]

    found = {one.key: one.intensity for one in understand(said, WORDS).impressions}

    assert {key for key, strength in found.items() if strength} == set(there.split())
    assert {key for key, strength in found.items() if not strength} == set(absent.split())
