"""What a sentence becomes at the desk: impressions in their channels, readings at their step, the look of the cup."""

from __future__ import annotations

from tastebook.domain.course import Step
from tastebook.domain.liquor import swatch_called
from tests.bench_kit import Kit, bench_kit


def _step(kit: Kit, key: str) -> Step:
    return kit.desk.tasting.session.course.step(key)


def _poured(infusions: int = 1) -> Kit:
    kit = bench_kit()
    for index in range(infusions + 1):
        kit.desk.pour_water_on(index)
        kit.clock.advance(20)
        kit.desk.pour()
    return kit


def test_a_sentence_is_kept_as_impressions_with_channel_and_doubt() -> None:
    kit = _poured()

    kit.desk.say(_step(kit, "flavour"), 1, "maybe a hint of rose, no smoke, and in the empty cup strong honey")

    told = {one.descriptor: (one.intensity, one.channel, one.doubtful) for one in kit.desk.tasting.impressions}
    assert told == {
        "rose": (1, "palate", True), "smoke": (0, "palate", False), "honey": (4, "empty cup", False),
    }  # fmt: skip


def test_one_thing_in_two_channels_is_two_impressions() -> None:
    kit = _poured()

    kit.desk.say(_step(kit, "flavour"), 1, "strong peach, and on the nose a hint of peach")
    kit.desk.say(_step(kit, "flavour"), 1, "on the nose the peach is a two")

    told = {one.channel: one.intensity for one in kit.desk.tasting.impressions}
    assert told == {"palate": 4, "liquor nose": 2}


def test_what_is_denied_later_is_absent_where_it_was_noted_and_not_both() -> None:
    kit = _poured()
    kit.desk.say(_step(kit, "flavour"), 1, "dark chocolate 3, on the out-breath")

    kit.desk.say(_step(kit, "flavour"), 1, "scratch that, no chocolate")

    assert [(one.descriptor, one.intensity) for one in kit.desk.tasting.impressions] == [("dark-chocolate", 0)]
    kit.desk.undo()
    assert [one.intensity for one in kit.desk.tasting.impressions] == [3]


def test_a_denial_with_its_place_leaves_what_was_noted_elsewhere() -> None:
    kit = _poured()
    kit.desk.say(_step(kit, "flavour"), 1, "peach 4, and on the out-breath peach 2")

    kit.desk.say(_step(kit, "flavour"), 1, "no peach on the out-breath")

    told = {one.channel: one.intensity for one in kit.desk.tasting.impressions}
    assert sorted(told.values()) == [0, 4]
    assert told["palate"] == 4


def test_talk_likenesses_and_quantities_are_kept_as_words_only() -> None:
    kit = _poured()

    kit.desk.say(_step(kit, "flavour"), 1, "Lovely. 40 seconds. Like a walk in the hills. Last year's was peach.")

    assert kit.desk.tasting.impressions == ()
    assert len(kit.desk.tasting.sayings) == 1


def test_change_is_relative_to_the_infusion_before() -> None:
    kit = _poured(infusions=2)
    kit.desk.say(_step(kit, "flavour"), 1, "orchid 4")

    kit.desk.say(_step(kit, "flavour"), 2, "the orchid has faded")

    assert [(one.infusion, one.intensity) for one in kit.desk.tasting.impressions] == [(1, 4), (2, 3)]


def test_what_is_felt_while_tasting_is_kept_at_the_step_that_asks_for_it() -> None:
    kit = _poured()

    kit.desk.say(_step(kit, "flavour"), 1, "peach, silky, perhaps a little bitterness")

    told = {(one.step, one.scale): (one.value, one.doubtful) for one in kit.desk.tasting.readings}
    assert told == {("first_sip", "surface"): (5, False), ("first_sip", "bitterness"): (2, True)}


def test_a_scale_that_no_step_of_the_column_asks_for_stays_words() -> None:
    kit = _poured()

    kit.desk.say(_step(kit, "lid"), 0, "silky")

    assert kit.desk.tasting.readings == ()


def test_the_look_of_the_cup_is_set_where_it_is_asked_for() -> None:
    kit = _poured()

    kit.desk.say(_step(kit, "liquor"), 1, "orange amber, hazy, honey on the nose")

    cup = kit.desk.tasting.infusion(1)
    assert cup is not None
    assert (cup.liquor, cup.clarity) == (swatch_called("orange amber"), "dim")
    assert [(one.descriptor, one.channel) for one in kit.desk.tasting.impressions] == [("honey", "liquor nose")]


def test_said_elsewhere_it_fills_in_what_is_not_set_and_overwrites_nothing() -> None:
    kit = _poured()

    kit.desk.say(_step(kit, "flavour"), 1, "the liquor is amber")
    kit.desk.say(_step(kit, "flavour"), 1, "the liquor is dark red")

    cup = kit.desk.tasting.infusion(1)
    assert cup is not None
    assert cup.liquor == swatch_called("amber")


def test_the_colour_of_the_leaf_is_not_taken_for_that_of_the_cup() -> None:
    kit = _poured()

    kit.desk.say(_step(kit, "infused_leaf"), None, "olive green leaves with a red edge")

    cup = kit.desk.tasting.infusion(1)
    assert cup is not None
    assert cup.liquor is None
