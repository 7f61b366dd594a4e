"""How one row of the Shelf is drawn: name and facts, cups, what is owed and the last verdict, the next act."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QFont, QPainter

from tastebook.presenters.shelf import CupView, GroupView, RowView
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint

ROW_PX: Final = 80
HEADER_PX: Final = 56
PAD_PX: Final = 24
ACTION_PX: Final = 148
GAP_PX: Final = 24
LINE_PX: Final = 21
CUP_PX: Final = 11.0
CUP_PITCH_PX: Final = 26.0
NAME_SHARE: Final = 0.36
MOST_CUPS: Final = 9
NARROW_PX: Final = 1000


@dataclass(frozen=True)
class RowLook:
    """How the row stands to pointer and keyboard."""

    is_current: bool = False
    is_hovered: bool = False
    has_focus: bool = False
    is_over_action: bool = False


def action_rect(row: QRectF) -> QRectF:
    """Return where the next act of a row is pressed."""
    return QRectF(row.right() - PAD_PX - ACTION_PX, row.center().y() - 22, ACTION_PX, 44)


def draw_header(painter: QPainter, theme: Theme, rect: QRectF, group: GroupView, look: RowLook) -> None:
    """Draw the heading of a group."""
    paint.make_smooth(painter)
    baseline = rect.bottom() - 16
    end = paint.text(painter, rect.left() + PAD_PX, baseline, group.title, sans(16, 600), theme.accent)
    end = paint.text(painter, end + 10, baseline, str(len(group.lot_uids)), sans(16), theme.ink3)
    if group.key == "archived":
        words = "show" if group.is_folded else "hide"
        paint.text(painter, end + 16, baseline, words, sans(16, 600), theme.accent)
    if look.has_focus and look.is_current:
        box = rect.adjusted(8, 12, -8, -4)
        paint.rounded(painter, box, tokens().radius_px.control, None, theme.accent, tokens().line_px.focus)


def draw_row(painter: QPainter, theme: Theme, rect: QRectF, row: RowView, look: RowLook) -> None:
    """Draw one lot."""
    paint.make_smooth(painter)
    _draw_ground(painter, theme, rect, look)
    action = action_rect(rect)
    name_right = rect.left() + PAD_PX + NAME_SHARE * (rect.width() - 2 * PAD_PX)
    _draw_name(painter, theme, rect, row, name_right)
    left = name_right + GAP_PX
    if rect.width() >= NARROW_PX:
        left = _draw_cups(painter, theme, QPointF(left, rect.center().y()), row.cups) + GAP_PX
    _draw_debt(painter, theme, QRectF(left, rect.top(), action.left() - GAP_PX - left, rect.height()), row)
    _draw_action(painter, theme, action, row.act_label, look)


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


def _draw_name(painter: QPainter, theme: Theme, rect: QRectF, row: RowView, right: float) -> None:
    left = rect.left() + PAD_PX
    middle = rect.center().y()
    name_font, facts_font = serif(tokens().type_px.value, tokens().weight.serif_heading), sans(tokens().type_px.text)
    baseline = middle - 4 if row.facts else middle + 7
    paint.text(painter, left, baseline, paint.elided(row.name, name_font, right - left), name_font, theme.ink)
    facts = paint.elided(row.facts, facts_font, right - left)
    paint.text(painter, left, middle + 20, facts, facts_font, theme.ink3)


def _draw_cups(painter: QPainter, theme: Theme, left: QPointF, cups: Sequence[CupView]) -> float:
    """Draw the cups in a line, and return where their column ends, which is the same in every row."""
    x = left.x() + CUP_PX
    for cup in cups[:MOST_CUPS]:
        paint.cup(painter, theme, QPointF(x, left.y()), CUP_PX, QColor(cup.hex))
        x += CUP_PITCH_PX
    end = left.x() + MOST_CUPS * CUP_PITCH_PX
    if len(cups) > MOST_CUPS:
        paint.text(painter, end + 2, left.y() + 5, f"+{len(cups) - MOST_CUPS}", sans(14), theme.ink3)
    return end + 18


def _draw_debt(painter: QPainter, theme: Theme, box: QRectF, row: RowView) -> None:
    middle = box.center().y()
    font, verdict_font = sans(tokens().type_px.text, tokens().weight.tile), serif_italic(17)
    lines = [row.owed] if row.verdict else lines_of(row.owed, font, box.width())
    for place, line in enumerate(lines):
        base = middle - 5 if row.verdict else middle + 6 + LINE_PX * (place - (len(lines) - 1) / 2)
        paint.text(painter, box.left(), base, paint.elided(line, font, box.width()), font, theme.ink2)
    if row.verdict:
        verdict = paint.elided(row.verdict, verdict_font, box.width())
        paint.text(painter, box.left(), middle + 19, verdict, verdict_font, theme.ink)


def lines_of(owed: str, font: QFont, width: float) -> list[str]:
    """Return what is owed in one line, or where that is too narrow in two, parted at its comma."""
    first, comma, rest = owed.partition(", ")
    return [owed] if paint.text_width(owed, font) <= width or not comma else [f"{first},", rest]


def _draw_action(painter: QPainter, theme: Theme, box: QRectF, label: str, look: RowLook) -> None:
    radius = tokens().radius_px.control
    font = sans(tokens().type_px.text, tokens().weight.label)
    if look.is_current:
        paint.rounded(painter, box, radius, theme.accent)
        ink = theme.on_accent
    elif look.is_hovered:
        ground = theme.accent_soft if look.is_over_action else theme.raised
        paint.rounded(painter, box, radius, ground, theme.outline, theme.control_line_px)
        ink = theme.ink
    else:
        ink = theme.accent
    paint.text(painter, box.center().x(), box.center().y() + 6, label, font, ink, "centre")
