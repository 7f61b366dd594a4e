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
    honey, and for once no rose at all|honey|rose
    honey but the rose I was sure of has not shown its face|honey|rose
    I waited for the rose, and waited, and it never came|| rose
    I waited and waited for rose. It never came.||rose
    usually there is rose in these, not today||rose
    normally I'd get rose here. Not this time.||rose
    I'd half hoped for rose, no luck||rose
    I was told rose; I can't for the life of me find it||rose
    the note says rose and I can't find it anywhere||rose
    rose? I'm not getting it||rose
    rose? Can't find any||rose
    rose? I wish||rose
    any rose? I'd say no||rose
    is there rose in it? no there isn't||rose
    am I getting rose? no||rose
    did I smell rose? no, I don't think I did||rose
    and rose, no, not for me||rose
    rose, not that I can tell||rose
    rose, if there is any, I can't find it||rose
    if there's rose I can't find it||rose
    if there is rose in there it's hiding||rose
    I can't say I notice any rose||rose
    I really can't detect rose||rose
    I'm struggling to find rose||rose
    I'm struggling to find any rose||rose
    I fail to see where the rose is||rose
    I see no rose||rose
    I perceive no rose||rose
    I have no rose here||rose
    I've no rose||rose
    I've got no rose||rose
    I've not got rose||rose
    I haven't any rose||rose
    I haven't got any rose||rose
    we haven't any rose||rose
    there's not any rose||rose
    there was no rose||rose
    there wasn't any rose||rose
    there ain't no rose||rose
    ain't no rose in here||rose
    no rose here that I can find||rose
    no rose that I'd notice||rose
    no rose, I'm afraid||rose
    sadly no rose||rose
    alas, no rose||rose
    thankfully no smoke||smoke
    mercifully free of smoke||smoke
    smoke, mercifully, there is none||smoke
    smoke, I'm glad to say, is absent||smoke
    smoke, thank goodness, none||smoke
    I'm relieved there's no smoke||smoke
    glad to find no smoke||smoke
    good: no smoke||smoke
    nothing smoky, I'm happy to say||smoke
    not smoky at all, which is a relief||smoke
    not a smoky tea||smoke
    this is not a smoky tea||smoke
    this isn't smoky in the slightest||smoke
    without being smoky||smoke
    without any smokiness||smoke
    without the smoke of last year||smoke
    minus the smoke||smoke
    sans smoke||smoke
    lacking smoke||smoke
    it lacks smoke||smoke
    lack of smoke||smoke
    smoke is lacking||smoke
    smoke is wanting||smoke
    smoke has disappeared||smoke
    smoke has quite gone||smoke
    the smoke is all but gone|smoke|
    the smoke has nearly gone|smoke|
    the smoke is as good as gone|smoke|
    the smoke is gone for good||smoke
    the smoke is gone now, the honey stays|honey|smoke
    smoke gone, honey stays|honey|smoke
    where there was smoke there's honey now|honey|smoke
    the smoke has given way to honey|honey|smoke
    the smoke made room for honey|honey|smoke
    honey has replaced the smoke|honey|smoke
    honey in place of the smoke|honey|smoke
    honey instead of the smoke of the first cup|honey|smoke
    the smoke turned into honey|honey|smoke
    no longer smoky, more honey now|honey|smoke
    it used to be smoky, it isn't now||smoke
    the smoke of the second cup is over||smoke
    the smoke has had its day||smoke
    the smoke has run its course||smoke
    the smoke's been and gone||smoke
    I had smoke in the last one and here I don't||smoke
    last time smoke, this time none||smoke
    smoke then, none now||smoke
    the last cup was smoky, this one isn't||smoke
    compared to the last there's no smoke any more||smoke
    unlike the last infusion, no smoke||smoke
    it isn't peach, it's apricot|apricot|peach
    not peach but apricot|apricot|peach
    apricot, not peach|apricot|peach
    apricot rather than peach|apricot|peach
    more apricot than peach|apricot peach|
    that's apricot, that's not peach|apricot|peach
    I'd say apricot, certainly not peach|apricot|peach
    definitely not peach, apricot|apricot|peach
    peach it is not, apricot it is|apricot|peach
    I don't think it's peach, I think it's apricot|apricot|peach
    people say peach but it's apricot|apricot|
    she said peach. It's apricot.|apricot|
    I don't find it fruity||fruity
    nothing fruity||fruity
    not very fruity|fruity|
    not particularly fruity|fruity|
    hardly fruity|fruity|
    not remotely fruity||fruity
    far from fruity||fruity
    anything but fruity||fruity
    no fruit||fruity
    no fruit whatsoever||fruity
    no flowers, no fruit, just hay|hay|floral fruity
    neither flowers nor fruit||floral fruity
    no flowers or fruit of any kind||floral fruity
    none of the flowers, none of the fruit||floral fruity
    not floral and not fruity||floral fruity
    not floral or fruity||floral fruity
    not floral, fruity or spicy||floral fruity spicy
    no trace of mould, must or damp||musty
    no mould and no must||musty
    it's clean: no mould, no smoke||musty smoke
    nothing wrong with it||
    no faults||
    no complaints||
    not bad||
    not bad at all, peach|peach|
    no idea what that is, peach perhaps|peach|
    no wait, peach|peach|
    no, peach|peach|
    no no no, peach|peach|
    I can't place it, peach maybe|peach|
    I don't know, peach?|peach|
    not only peach|peach|
    none too shy, the peach|peach|
"""


@pytest.mark.parametrize("line", [line.strip() for line in SAID.strip().splitlines()])
def test_what_is_not_there_is_absent_and_what_only_sounds_so_is_not(line: str) -> None:
    said, there, absent = ([*line.split("|"), ""])[:3]

    found = {one.key: one.intensity for one in understand(said, WORDS).impressions}

    assert {key for key, strength in found.items() if strength} == set(there.split())
    assert {key for key, strength in found.items() if not strength} == set(absent.split())
