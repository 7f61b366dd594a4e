"""All aroma families side by side."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Final

from PySide6.QtCore import QRect, QSize, Signal
from PySide6.QtGui import QAccessible, QPainter, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.accessible import Told
from tastebook.ui.widgets.drawn import Pressable
from tastebook.ui.widgets.roving import Roving

_GAP: Final = 8
_ROW: Final = 12
_NARROWEST_TILE: Final = 56
"""Before the tiles break into two rows they narrow to this, which still holds every name."""


class FamilyTile(Pressable):
    """One family: its glyph over its name, tinted once something of it was noted."""

    accessible_role = QAccessible.Role.Button
    least = QSize(64, 64)
    fades = False

    def __init__(self, themes: Themes, family: str, label: str, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._family = family
        self._label = label
        self._is_noted = False
        self.setAccessibleName(label)

    @property
    def family(self) -> str:
        """Return the key of the family."""
        return self._family

    @property
    def is_noted(self) -> bool:
        """Say whether something of the family was noted."""
        return self._is_noted

    def set_noted(self, *, is_noted: bool) -> None:
        """Say whether something of the family was noted."""
        if is_noted != self._is_noted:
            self._is_noted = is_noted
            self.update()
            self.tell_changed()

    def value_text(self) -> str:
        return "noted" if self._is_noted else ""

    def accessible_states(self) -> Mapping[str, bool]:
        return {**super().accessible_states(), "checked": self._is_noted, "checkable": True}

    def draw(self, painter: QPainter, theme: Theme) -> None:
        radius, colour = tokens().radius_px.tile, theme.family(self._family)
        line, width = (colour, 1.5) if self._is_noted else (theme.outline, 1.1)
        paint.rounded(painter, self.box(), radius, self._fill(theme), line, width)
        middle = self.width() / 2
        paint.glyph(painter, theme, self._family, middle - 11, 9, 22)
        weight = tokens().weight.label if self._is_noted else tokens().weight.tile
        font = sans(tokens().type_px.text, weight)
        ink = theme.ink if self.isEnabled() else theme.ink3
        paint.text(painter, middle, 52, paint.elided(self._label, font, self.width() - 4), font, ink, "centre")
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box(), radius)

    def _fill(self, theme: Theme) -> paint.Fill:
        if self.is_down:
            return theme.tile_held_down
        if self._is_noted:
            return theme.tile(self._family)
        return theme.tile_under_pointer if self.is_hovered else theme.surface


class FamilyShelf(Told):
    """The tiles of all families: one row where there is room, else two; one stop for Tab, arrows move."""

    family_requested = Signal(str)

    accessible_role = QAccessible.Role.Grouping

    def __init__(
        self,
        themes: Themes,
        families: Sequence[tuple[str, str]],
        parent: QWidget | None = None,
        *,
        name: str = "Families",
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self._tiles = [FamilyTile(themes, family, label, self) for family, label in families]
        for tile in self._tiles:
            tile.press_requested.connect(lambda family=tile.family: self.family_requested.emit(family))
        self._roving = Roving(self._tiles, len(self._tiles), self)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    @property
    def tiles(self) -> Sequence[FamilyTile]:
        """Return the tiles in their order."""
        return tuple(self._tiles)

    def show_noted(self, families: Collection[str]) -> None:
        """Tint the families of which something was noted."""
        for tile in self._tiles:
            tile.set_noted(is_noted=tile.family in families)

    def take_focus(self) -> None:
        """Give the keyboard to the tile that had it last."""
        self._tiles[self._roving.current].setFocus()

    def columns_at(self, width: int) -> int:
        """Return how many tiles stand in a row of that width."""
        count = len(self._tiles)
        fitting = max(1, (width + _GAP) // (_NARROWEST_TILE + _GAP))
        rows = -(-count // min(fitting, count)) if count else 1
        return -(-count // rows) if count else 1

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        rows = -(-len(self._tiles) // self.columns_at(width))
        return rows * tokens().target_px.tile + (rows - 1) * _GAP

    def sizeHint(self) -> QSize:
        return QSize(_ROW * (tokens().target_px.tile + _GAP) - _GAP, tokens().target_px.tile)

    def minimumSizeHint(self) -> QSize:
        half = -(-len(self._tiles) // 2)
        return QSize(half * (tokens().target_px.tile + _GAP) - _GAP, tokens().target_px.tile)

    def resizeEvent(self, event: QResizeEvent) -> None:
        columns = self.columns_at(self.width())
        self._roving.set_columns(columns)
        pitch = (self.width() + _GAP) / columns
        for number, tile in enumerate(self._tiles):
            row, column = divmod(number, columns)
            left, right = round(column * pitch), round((column + 1) * pitch) - _GAP
            top = row * (tokens().target_px.tile + _GAP)
            tile.setGeometry(QRect(left, top, right - left, tokens().target_px.tile))
        self.setMinimumHeight(self.heightForWidth(self.width()))
        super().resizeEvent(event)
