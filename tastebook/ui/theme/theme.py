"""One theme as the painters use it, and the one that is chosen now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from typing import Final, Literal, TypeAlias

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QStyle

from tastebook.ui.theme.fonts import load_fonts, sans
from tastebook.ui.theme.sheet import style_sheet
from tastebook.ui.theme.tokens import Colours, ThemeName, ThemeTokens, tokens

Motion: TypeAlias = Literal["press", "chip_in", "ribbon_grow", "column_raise"]


@dataclass(frozen=True, eq=False)
class Theme:
    """The colours of one theme. They are shared: copy a colour (`QColor(theme.ink)`) before changing it."""

    name: ThemeName
    bg: QColor
    surface: QColor
    raised: QColor
    sunken: QColor
    ink: QColor
    ink2: QColor
    ink3: QColor
    hairline: QColor
    outline: QColor
    accent: QColor
    on_accent: QColor
    accent_soft: QColor
    alarm: QColor
    on_alarm: QColor
    alarm_soft: QColor
    ok: QColor
    porcelain: QColor
    porcelain_edge: QColor
    shadow: QColor
    families: Mapping[str, QColor]

    def family(self, name: str) -> QColor:
        """Return the colour of an aroma family; a family without one is drawn in `ink2`."""
        return self.families.get(name, self.ink2)

    @property
    def is_flat(self) -> bool:
        """Say whether depth is drawn by lines alone, without shadows."""
        return self.name == "daylight"

    @property
    def is_dark(self) -> bool:
        """Say whether light signs stand on dark ground."""
        return self.name == "lamp"

    @property
    def on_family(self) -> QColor:
        """Return the colour of a glyph that stands on its family's colour."""
        return self.sunken if self.is_dark else self.raised

    @property
    def card_line(self) -> QColor:
        """Return the colour of a card's edge."""
        return self.outline if self.is_flat else self.hairline

    @property
    def card_line_px(self) -> float:
        """Return the width of a card's edge."""
        return tokens().line_px.daylight_card if self.is_flat else tokens().line_px.hairline

    @property
    def control_line_px(self) -> float:
        """Return the width of a control's edge."""
        return tokens().line_px.daylight_card if self.is_flat else tokens().line_px.control

    @property
    def focus_line_px(self) -> float:
        """Return the width of a focus ring: double where controls have strong lines at rest, or nobody would see it."""
        return tokens().line_px.focus * 2 if self.is_flat else tokens().line_px.focus

    def tile(self, family: str) -> QColor:
        """Return the ground of a chosen family tile: the surface tinted with the family's colour."""
        return mixed(self.surface, self.family(family), tokens().alpha.family_tile)

    @property
    def tile_under_pointer(self) -> QColor:
        """Return the ground of a tile under the pointer: half of `accent_soft`, or some glyphs would fall below 3:1."""
        return mixed(self.surface, self.accent_soft, 0.5)

    @property
    def tile_held_down(self) -> QColor:
        """Return the ground of a tile held down: half of `sunken`, for the same reason."""
        return mixed(self.surface, self.sunken, 0.5)


@cache
def theme_named(name: ThemeName) -> Theme:
    """Return one of the three themes."""
    return theme_of(tokens().themes[name])


def theme_of(row: ThemeTokens) -> Theme:
    """Return the theme that its tokens describe."""
    colours = {field.name: QColor(getattr(row.colours, field.name)) for field in fields(Colours)}
    return Theme(name=row.name, families={name: QColor(code) for name, code in row.families.items()}, **colours)


def mixed(ground: QColor, tint: QColor, share: float) -> QColor:
    """Return `ground` with `share` (0 to 1) of `tint` in it, mixed in sRGB as a half-transparent layer would."""
    return QColor.fromRgbF(
        ground.redF() * (1 - share) + tint.redF() * share,
        ground.greenF() * (1 - share) + tint.greenF() * share,
        ground.blueF() * (1 - share) + tint.blueF() * share,
    )


def faded(colour: QColor, alpha: float) -> QColor:
    """Return a copy of `colour` with opacity `alpha`, 0 to 1."""
    copy = QColor(colour)
    copy.setAlphaF(alpha)
    return copy


_DRESSED: Final = "is dressed"


class Themes(QObject):
    """The theme chosen now, for everything that paints."""

    changed = Signal()

    def __init__(self, name: ThemeName = "paper", *, reduce_motion: bool = False) -> None:
        super().__init__()
        self._current = theme_named(name)
        self._app: QApplication | None = None
        self.reduce_motion = reduce_motion

    @property
    def current(self) -> Theme:
        """Return the theme to paint with."""
        return self._current

    def use(self, name: ThemeName) -> None:
        """Choose a theme; everything that paints is told."""
        if name == self._current.name:
            return
        self._current = theme_named(name)
        self._dress()
        self.changed.emit()

    def apply_to(self, app: QApplication) -> None:
        """Dress the application: typefaces, palette and the stock widgets; later changes of theme follow."""
        load_fonts()
        if app.property(_DRESSED) is None:
            app.setStyle("Fusion")
            app.setProperty(_DRESSED, True)
        app.setFont(sans(tokens().type_px.text))
        self._app = app
        self._dress()

    def motion_ms(self, motion: Motion) -> int:
        """Return how long a movement lasts: nothing when motion is reduced."""
        return 0 if self.reduce_motion else int(getattr(tokens().motion_ms, motion))

    def _dress(self) -> None:
        if self._app is not None:
            self._app.setPalette(palette_of(self._current))
            sheet = style_sheet(tokens().themes[self._current.name])
            if self._app.styleSheet() != sheet:  # setting it dresses every widget anew
                self._app.setStyleSheet(sheet)


def palette_of(theme: Theme) -> QPalette:
    """Return the theme as a Qt palette, with its own colours for what is disabled."""
    role = QPalette.ColorRole
    palette = QPalette()
    chosen = {
        role.Window: theme.bg,
        role.WindowText: theme.ink,
        role.Base: theme.raised,
        role.AlternateBase: theme.surface,
        role.Text: theme.ink,
        role.PlaceholderText: theme.ink3,
        role.Button: theme.raised,
        role.ButtonText: theme.ink,
        role.BrightText: theme.alarm,
        role.Highlight: theme.accent,
        role.HighlightedText: theme.on_accent,
        role.Accent: theme.accent,
        role.ToolTipBase: theme.ink,
        role.ToolTipText: theme.bg,
        role.Link: theme.accent,
        role.LinkVisited: theme.accent,
        role.Light: theme.raised,
        role.Midlight: theme.surface,
        role.Mid: theme.outline,
        role.Dark: theme.outline,
        role.Shadow: theme.shadow,
    }
    for one, colour in chosen.items():
        palette.setColor(one, colour)
    for one in (role.WindowText, role.Text, role.ButtonText, role.PlaceholderText):
        palette.setColor(QPalette.ColorGroup.Disabled, one, theme.ink3)
    palette.setColor(QPalette.ColorGroup.Disabled, role.Base, theme.surface)
    palette.setColor(QPalette.ColorGroup.Disabled, role.Button, theme.surface)
    palette.setColor(QPalette.ColorGroup.Disabled, role.Highlight, theme.outline)
    return palette


def system_reduces_motion(app: QApplication) -> bool:
    """Say whether the desktop asks for no animation, as far as Qt passes it on."""
    return app.style().styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration) == 0
