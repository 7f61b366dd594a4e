"""How one row of what was found is drawn: lot, place and day, then the impressions and the words that matched."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from tastebook.presenters.finding import ChipWords, FoundRow
from tastebook.ui.shelf.row_painter import PAD_PX, RowLook
from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Theme
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint

HEADING_PX: Final = 48
LINE_PX: Final = 56
TWO_LINES_PX: Final = 84
CUP_PX: Final = 11.0
TEXT_LEFT_PX: Final = 40
GAP_PX: Final = 14
CHIP_PX: Final = 26
NAME_SHARE: Final = 0.42


def height_of(row: FoundRow) -> int:
    """Return how high a row is."""
    if row.kind == "heading":
        return HEADING_PX
    return TWO_LINES_PX if row.sentence or row.chips else LINE_PX


def draw_found(painter: QPainter, theme: Theme, rect: QRectF, row: FoundRow, look: RowLook) -> None:
    """Draw one row."""
    paint.make_smooth(painter)
    if row.kind == "heading":
        paint.text(painter, rect.left() + PAD_PX, rect.bottom() - 14, row.title, sans(16, 600), theme.accent)
        return
    _draw_ground(painter, theme, rect, look)
    left, right = rect.left() + PAD_PX + TEXT_LEFT_PX, rect.right() - PAD_PX
    baseline = rect.top() + 34
    if row.liquor:
        paint.cup(painter, theme, QPointF(rect.left() + PAD_PX + CUP_PX, baseline - 6), CUP_PX, QColor(row.liquor))
    _draw_title(painter, theme, left, right, baseline, row)
    _draw_words(painter, theme, left, right, rect.top() + 64, row)


def _draw_ground(painter: QPainter, theme: Theme, rect: QRectF, look: RowLook) -> None:
    painter.setPen(paint.solid_pen(theme.hairline, 1))
    painter.drawLine(QPointF(rect.left() + PAD_PX, rect.top() + 0.5), QPointF(rect.right() - PAD_PX, rect.top() + 0.5))
    box = rect.adjusted(8, 3, -8, -2)
    if look.is_current:
        line = theme.accent if look.has_focus else theme.outline
        width = tokens().line_px.focus if look.has_focus else theme.control_line_px
        paint.rounded(painter, box, tokens().radius_px.control, theme.raised, line, width)
    elif look.is_hovered:
        paint.rounded(painter, box, tokens().radius_px.control, theme.raised)


def _draw_title(painter: QPainter, theme: Theme, left: float, right: float, baseline: float, row: FoundRow) -> None:
    name_font = serif(tokens().type_px.value, tokens().weight.serif_heading)
    place_font, facts_font = sans(tokens().type_px.text, tokens().weight.label), sans(tokens().type_px.text)
    name = paint.elided(row.title, name_font, (right - left) * NAME_SHARE)
    end = paint.text(painter, left, baseline, name, name_font, theme.ink)
    if row.place:
        end = paint.text(painter, end + GAP_PX, baseline, row.place, place_font, theme.ink2)
    facts = paint.elided(row.facts, facts_font, max(0.0, right - end - GAP_PX))
    paint.text(painter, right, baseline, facts, facts_font, theme.ink3, "right")


def _draw_words(painter: QPainter, theme: Theme, left: float, right: float, baseline: float, row: FoundRow) -> None:
    x = _draw_chips(painter, theme, left, baseline, right, row.chips)
    font, marked = sans(tokens().type_px.text), sans(tokens().type_px.text, 700)
    for words, is_marked in runs(row.sentence, row.spans):
        ink = theme.ink if is_marked else theme.ink2
        face = marked if is_marked else font
        room = right - x
        shown = words if paint.text_width(words, face) <= room else paint.elided(words, face, room)
        end = x + paint.text_width(shown, face)
        paint.text(painter, x, baseline, shown, face, ink)
        if is_marked:
            painter.setPen(paint.solid_pen(theme.accent, 2))
            painter.drawLine(QPointF(x, baseline + 4), QPointF(end, baseline + 4))
        x = end
        if shown != words:
            return


def _draw_chips(
    painter: QPainter, theme: Theme, x: float, baseline: float, right: float, chips: Sequence[ChipWords]
) -> float:
    font = sans(tokens().type_px.text, tokens().weight.label)
    for chip in chips:
        width = paint.text_width(chip.told, font) + 20
        if x + width > right:
            break
        box = QRectF(x, baseline - 19, width, CHIP_PX)
        paint.rounded(painter, box, CHIP_PX / 2, theme.surface, theme.outline, 1)
        paint.text(painter, x + 10, baseline, chip.told, font, theme.ink)
        x += width + 8
    return x + (4 if chips else 0)


def runs(sentence: str, spans: Sequence[tuple[int, int]]) -> list[tuple[str, bool]]:
    """Return a sentence in pieces, each with whether it was looked for."""
    found: list[tuple[str, bool]] = []
    at = 0
    for start, end in spans:
        found += [(sentence[at:start], False), (sentence[start:end], True)]
        at = end
    return [(words, is_marked) for words, is_marked in (*found, (sentence[at:], False)) if words]
