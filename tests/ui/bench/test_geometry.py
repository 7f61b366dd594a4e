"""Nothing on the Bench covers anything else, leaves its place, or loses words that must be whole."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QScrollArea, QWidget

from tastebook.domain.errors import JournalFull
from tastebook.ui.bench.said_row import ROW_PX, SaidRow
from tastebook.ui.bench.strip import InfusionStrip
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import ActionButton, LabelButton, PlainButton
from tastebook.ui.widgets.drawn import Control
from tastebook.ui.widgets.step_tab import StepTab
from tests.cups import IN_LIQUOR, IN_WHITE, cup, picture_file
from tests.ui.bench.scene import CONTROL, Scene, build
from tests.ui.widgets.hands import told

Show = Callable[[QWidget], None]
SPACE = Qt.Key.Key_Space
SIZES = [(1440, 900), (1280, 720), (1000, 700), (1000, 1080)]
TWELVE = (
    "orchid 3, white peach 2, nectar 4, fresh cream 3, almond skin 2, toasted rice 3, cinnamon 1, cedar bark 2, "
    "damp earth 1, wet slate 2, mint 1, pea shoot 2"
)


def at_leaf(scene: Scene) -> None:
    scene.say("toasted rice 4, almond skin 3, wet velvet 2")


def at_lid(scene: Scene) -> None:
    scene.steep(5)
    scene.go("0", "lid")
    scene.say("toasted rice 3, no rose")


def poured(scene: Scene, step: str) -> None:
    scene.steep(5)
    scene.press(SPACE, CONTROL)
    scene.steep(20)
    scene.go("1", step)


def at_flavour(scene: Scene) -> None:
    poured(scene, "flavour")
    scene.say(TWELVE)


def at_family(scene: Scene) -> None:
    poured(scene, "flavour")
    scene.bench.press_family("floral")
    scene.screen.refresh()


def at_offers(scene: Scene) -> None:
    poured(scene, "flavour")
    scene.type("ced")


def at_finish(scene: Scene) -> None:
    poured(scene, "flavour")
    scene.go("close", "finish")
    scene.say("orchid 3, nectar 2")


def at_close(step: str) -> Callable[[Scene], None]:
    def arrange(scene: Scene) -> None:
        poured(scene, "flavour")
        scene.go("close", step)

    return arrange


def asked_how_long(scene: Scene) -> None:
    scene.press(SPACE, CONTROL)
    scene.kit.clock.advance(4000)
    scene.screen.refresh()


def over_plan(scene: Scene) -> None:
    poured(scene, "flavour")
    scene.press(SPACE, CONTROL)
    scene.press(SPACE, CONTROL)
    scene.kit.clock.advance(700)
    scene.screen.refresh()


def in_trouble(scene: Scene) -> None:
    scene.press(Qt.Key.Key_N, CONTROL)
    scene.go("1", "liquor")
    scene.say("clear")


def with_a_notice(scene: Scene) -> None:
    scene.kit.journal.next_commit_fails = JournalFull(
        "the disk that holds the journal is full: free some space, then say it once more."
    )
    scene.say("orchid 3")


def with_photos(scene: Scene) -> None:
    poured(scene, "liquor")
    for _ in range(4):
        scene.kit.photos.attach(picture_file(cup()))
    scene.screen.refresh()


def at_photo(scene: Scene) -> None:
    poured(scene, "liquor")
    scene.screen.photos.attach(picture_file(cup()))
    scene.screen.photos.attach(picture_file(cup()))
    for at in (IN_WHITE, IN_LIQUOR):
        scene.screen.photos.sheet.tap_requested.emit(*at)


PASSAGE = (
    "maybe a faint orchid, no smoke at all, silky and medium-full, white peach has faded, on the out-breath honey, "
    "light amber and hazy, I had 88 degrees and 6 grams for forty seconds, cloudberry, "
)


def saying(step: str, times: int, column: str = "1") -> Callable[[Scene], None]:
    """Return what types a passage some times over, with something said and laid out before it, and a part chosen."""

    def arrange(scene: Scene) -> None:
        poured(scene, "flavour")
        scene.go(column, step)
        scene.bench.type(PASSAGE * times)
        scene.bench.said.step(1)
        scene.screen.refresh()

    return arrange


def what_was_said_here(scene: Scene) -> None:
    poured(scene, "flavour")
    for words in (PASSAGE, "good morning", "rose 2"):
        scene.say(words)
    scene.screen.card.toggle_here()


PLACES: dict[str, Callable[[Scene], None]] = {
    "leaf": at_leaf,
    "lid": at_lid,
    "liquor": lambda scene: poured(scene, "liquor"),
    "first sip": lambda scene: poured(scene, "first_sip"),
    "flavour of twelve families": at_flavour,
    "words of a family": at_family,
    "words offered": at_offers,
    "empty cup": lambda scene: poured(scene, "empty_cup"),
    "finish": at_finish,
    "infused leaf": at_close("infused_leaf"),
    "body": at_close("body"),
    "verdict": at_close("verdict"),
    "question": asked_how_long,
    "over plan": over_plan,
    "trouble": in_trouble,
    "notice": with_a_notice,
    "photos": with_photos,
    "words said of the flavour": saying("flavour", 1),
    "a passage of the flavour": saying("flavour", 6),
    "a passage of the liquor": saying("liquor", 6),
    "words said of the first sip": saying("first_sip", 1),
    "a passage of the first sip": saying("first_sip", 6),
    "a passage of the finish": saying("finish", 6, "close"),
    "a passage of the body": saying("body", 6, "close"),
    "what was said here": what_was_said_here,
}


LOOKED_AT = ("leaf", "liquor", "flavour of twelve families", "finish", "verdict", "over plan")
"""Places that between them have everything that is drawn."""


@pytest.fixture(params=PLACES)
def scene(request: pytest.FixtureRequest, themes: Themes, show: Show) -> Scene:
    """Return a Bench at one of the places."""
    scene = build(themes)
    show(scene.screen)
    PLACES[request.param](scene)
    return scene


def at_every_size(scene: Scene, find_faults: Callable[[Scene], list[str]]) -> dict[str, list[str]]:
    """Return what is at fault, by the size of the window."""
    found = {}
    for width, height in SIZES:
        scene.screen.resize(width, height)
        for _ in range(4):  # what one layout settles, another takes up
            QApplication.processEvents()
        if faults := find_faults(scene):
            found[f"{width}x{height}"] = faults
    return found


def seen_children(parent: QWidget) -> list[QWidget]:
    children = (child for child in parent.children() if isinstance(child, QWidget) and not child.isWindow())
    return [child for child in children if child.isVisible()]


def families(root: QWidget) -> Iterator[tuple[QWidget, list[QWidget]]]:
    """Yield every widget that is seen, with those in it that are seen."""
    children = seen_children(root)
    yield root, children
    for child in children:
        yield from families(child)


def named(widget: QWidget) -> str:
    return f"{type(widget).__name__} “{told(widget)}” {widget.geometry().getRect()}"


def covered(scene: Scene) -> list[str]:
    return [
        f"{named(one)} and {named(other)}"
        for _, children in families(scene.screen)
        for one, other in combinations(children, 2)
        if one.geometry().adjusted(1, 1, -1, -1).intersects(other.geometry().adjusted(1, 1, -1, -1))
    ]


def outside(scene: Scene) -> list[str]:
    return [
        f"{named(child)} in {named(parent)}"
        for parent, children in families(scene.screen)
        for child in children
        if not scrolls(parent) and not parent.rect().contains(child.geometry())
    ]


def scrolls(widget: QWidget) -> bool:
    """Say whether what is in a widget may reach beyond it."""
    return isinstance(widget, InfusionStrip) or isinstance(widget.parentWidget(), QAbstractScrollArea)


def too_small(scene: Scene) -> list[str]:
    controls = (one for one in scene.screen.findChildren(Control) if one.isVisible() and one.isEnabled())
    return [named(one) for one in controls if one.width() < 44 or one.height() < 44]


def hardly_open(scene: Scene) -> list[str]:
    areas = (one for one in scene.screen.findChildren(QScrollArea) if one.isVisible())
    views = ((one.viewport(), min(least_px(one), one.widget().height())) for one in areas)
    return [named(view) for view, least in views if view.height() < least or view.width() < 200]


def least_px(area: QScrollArea) -> int:
    """Return how much of what scrolls must be seen at once: of the parts in the row one whole row."""
    return ROW_PX if isinstance(area.parentWidget(), SaidRow) else 70


def tight(scene: Scene) -> list[str]:
    buttons = (one for one in scene.screen.findChildren(LabelButton) if one.isVisible())
    return [named(one) for one in buttons if not isinstance(one, ActionButton) and one.width() < one.sizeHint().width()]


def faults(scene: Scene) -> list[str]:
    """Return what covers something, leaves its place, or is too small to press, to read or to scroll."""
    finders = (covered, outside, too_small, hardly_open, tight)
    return [f"{find.__name__}: {fault}" for find in finders for fault in find(scene)]


def test_the_sheet_of_a_photo_has_its_place_at_every_size(themes: Themes, show: Show) -> None:
    scene = build(themes)
    show(scene.screen)
    at_photo(scene)
    sheet = scene.screen.photos.sheet

    def sheet_faults(scene: Scene) -> list[str]:
        scene.screen.photos.open(scene.kit.desk.tasting.photos[-1].uid)
        for at in (IN_WHITE, IN_LIQUOR):
            sheet.tap_requested.emit(*at)
        QApplication.processEvents()
        buttons = [one for one in sheet.findChildren(LabelButton) if one.isVisible()]
        narrow = [told(one) for one in buttons if one.width() < one.minimumSizeHint().width()]
        beyond = [told(one) for one in buttons if one.mapTo(sheet, one.rect().bottomRight()).x() > sheet.width()]
        over_timer = ["timer"] if sheet.geometry().intersects(scene.screen.timer.geometry()) else []
        small = ["picture"] if min(sheet.canvas.width(), sheet.canvas.height()) < 200 else []
        return narrow + beyond + over_timer + small

    assert at_every_size(scene, sheet_faults) == {}


def test_everything_has_its_place_at_every_size(scene: Scene) -> None:
    assert at_every_size(scene, faults) == {}


def test_words_that_must_be_whole_are_whole_at_every_size(scene: Scene, cut_words: list[str]) -> None:
    def not_whole(scene: Scene) -> list[str]:
        cut_words.clear()
        scene.screen.grab()
        return [words for words in must_be_whole(scene) if words in cut_words]

    assert at_every_size(scene, not_whole) == {}


def must_be_whole(scene: Scene) -> list[str]:
    """Return what is read in a hurry: the next act, the steps, what to mind."""
    kinds = (ActionButton, StepTab, PlainButton)
    names = [told(one) for kind in kinds for one in scene.screen.findChildren(kind) if one.isVisible()]
    return [*names, scene.timer.title, scene.timer.word, scene.timer.digits, scene.timer.advice[0]]


@pytest.mark.parametrize("theme", ["paper", "lamp", "daylight"])
def test_every_theme_paints_every_place_in_its_own_way(show: Show, qapp: QApplication, theme: str) -> None:
    themes = Themes("paper", reduce_motion=True)
    themes.use(theme)  # type: ignore[arg-type]
    themes.apply_to(qapp)
    pictures = set()

    for place in LOOKED_AT:
        scene = build(themes)
        scene.screen.resize(1280, 720)
        show(scene.screen)
        PLACES[place](scene)
        picture = scene.screen.grab().toImage()
        pictures.add(bytes(picture.constBits()))
        scene.screen.close()

        assert picture.pixelColor(2, 700).name() == themes.current.bg.name()

    assert len(pictures) == len(LOOKED_AT)


def test_a_bench_smaller_than_its_least_size_is_not_made(themes: Themes) -> None:
    assert build(themes).screen.minimumSizeHint().width() <= min(width for width, _ in SIZES)
    assert build(themes).screen.minimumSizeHint().height() <= min(height for _, height in SIZES)
