"""Short movements. Each has an end and happens once; with motion reduced it is over at once."""

from __future__ import annotations

from PySide6.QtCore import QEasingCurve, QVariantAnimation
from PySide6.QtWidgets import QWidget

from tastebook.ui.theme.theme import Motion, Themes


class Glide(QVariantAnimation):
    """A share between 0 and 1 that glides to where it is sent, and repaints its owner on the way."""

    def __init__(self, owner: QWidget, themes: Themes, motion: Motion, share: float = 0.0) -> None:
        super().__init__(owner)
        self._owner = owner
        self._themes = themes
        self._motion: Motion = motion
        self._share = share
        self.setEasingCurve(QEasingCurve.Type.OutCubic)
        self.valueChanged.connect(self._moved)

    @property
    def share(self) -> float:
        """Return where the glide is."""
        return self._share

    def to(self, share: float) -> None:
        """Go to `share`, from where it is now."""
        self.stop()
        duration_ms = self._themes.motion_ms(self._motion)
        if duration_ms == 0:
            self._moved(share)
            return
        self.setStartValue(self._share)
        self.setEndValue(share)
        self.setDuration(duration_ms)
        self.start()

    def jump(self, share: float) -> None:
        """Be at `share` at once."""
        self.stop()
        self._moved(share)

    def _moved(self, share: float) -> None:
        self._share = float(share)
        self._owner.update()
