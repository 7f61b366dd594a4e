"""Words that stand on a card: broken into lines at our own pitch, in the colours of the theme."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, TypeAlias

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QAccessible, QColor, QFont, QFontMetricsF, QPainter, QTextLayout, QTextOption
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Drawn

Ink: TypeAlias = Callable[[Theme], QColor]
Setting: TypeAlias = tuple[QFont, float]
"""A typeface with the distance from one baseline to the next."""

_NARROWEST_PX: Final = 80


def broken(words: str, font: QFont, width: float) -> list[str]:
    """Return words as lines that are no wider than `width`; a word wider than that is broken too."""
    layout = QTextLayout(words.replace("\n", "\u2028"), font)
    option = QTextOption()
    option.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
    layout.setTextOption(option)
    lines = []
    layout.beginLayout()
    while (line := layout.createLine()).isValid():
        line.setLineWidth(max(1.0, width))
        lines.append(words[line.textStart() : line.textStart() + line.textLength()].strip())
    layout.endLayout()
    return lines


def parted(words: str, font: QFont, width: float) -> list[str]:
    """Return words as lines; where two will do and a comma can part them, they are parted there."""
    lines = broken(words, font, width)
    if len(lines) != 2:
        return lines
    places = [place for place, sign in enumerate(words, start=1) if sign in ",;:" and words[place : place + 1] == " "]
    pairs = [[words[:place], words[place + 1 :]] for place in places]
    fitting = [pair for pair in pairs if max(paint.text_width(line, font) for line in pair) <= width]
    return min(fitting, key=lambda pair: abs(len(pair[0]) - len(pair[1])), default=lines)


def shortened(words: str, font: QFont, width: float, most: int) -> list[str]:
    """Return words as `most` lines at the utmost; the last ends with … where more would follow."""
    lines = broken(words, font, width)
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], paint.elided(" ".join(lines[most - 1 :]), font, width)]


def write(
    painter: QPainter, lines: Sequence[str], setting: Setting, at: QPointF, ink: QColor, align: paint.Align = "left"
) -> None:
    """Write lines below each other; `at` is where the first line's box begins, from which its baseline hangs."""
    font, pitch = setting
    drop = (pitch + _overhang(setting) - _height(font)) / 2 + QFontMetricsF(font).ascent()
    for number, line in enumerate(lines):
        paint.text(painter, at.x(), at.y() + drop + pitch * number, line, font, ink, align)


def height_of(lines: Sequence[str], setting: Setting) -> float:
    """Return how high lines stand; where the pitch is tight, letters reach beyond it at top and bottom."""
    return len(lines) * setting[1] + _overhang(setting)


def _overhang(setting: Setting) -> float:
    font, pitch = setting
    return max(0.0, _height(font) - pitch)


def _height(font: QFont) -> float:
    metrics = QFontMetricsF(font)
    return metrics.ascent() + metrics.descent()


class Prose(Drawn):
    """A paragraph. Of several settings, the first is taken in which it stands in `most` lines, else the last."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(
        self, themes: Themes, words: str, settings: Sequence[Setting], ink: Ink, *, most: int = 3,
        is_headline: bool = False, parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        super().__init__(themes, parent)
        self._words = words
        self._settings = tuple(settings)
        self._ink = ink
        self._most = most
        self._break = parted if is_headline else broken
        self.setAccessibleName(words)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    @property
    def words(self) -> str:
        """Return what stands there."""
        return self._words

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return round(height_of(*self._set(width)))

    def sizeHint(self) -> QSize:
        return QSize(320, self.heightForWidth(320))

    def minimumSizeHint(self) -> QSize:
        return QSize(_NARROWEST_PX, round(self._settings[-1][1]))

    def _set(self, width: float) -> tuple[list[str], Setting]:
        for setting in self._settings:
            lines = self._break(self._words, setting[0], width)
            if len(lines) <= self._most:
                break
        return lines, setting

    def draw(self, painter: QPainter, theme: Theme) -> None:
        lines, setting = self._set(self.width())
        write(painter, lines, setting, QPointF(0, 0), self._ink(theme))


class Rule(Drawn):
    """A hairline between two things."""

    accessible_role = QAccessible.Role.Separator

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setFixedHeight(1)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        painter.fillRect(self.rect(), theme.hairline)
