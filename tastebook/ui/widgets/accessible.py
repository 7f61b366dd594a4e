"""What assistive technology is told about the controls that we draw ourselves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, ClassVar

from PySide6.QtCore import QObject
from PySide6.QtGui import (
    QAccessible,
    QAccessibleActionInterface,
    QAccessibleEvent,
    QAccessibleStateChangeEvent,
    QAccessibleValueInterface,
)
from PySide6.QtWidgets import QAccessibleWidget, QWidget


@dataclass(frozen=True)
class Number:
    """A number that assistive technology can read and set; `now` is None while nothing is set."""

    now: int | None
    least: int
    most: int


class Told(QWidget):
    """A widget that says itself what assistive technology is told about it."""

    accessible_role: ClassVar[QAccessible.Role] = QAccessible.Role.Graphic

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        _install()

    def value_text(self) -> str:
        """Return the value in words."""
        return ""

    def accessible_states(self) -> Mapping[str, bool]:
        """Return states by the names of `QAccessible.State`, such as `checked`."""
        return {}

    def accessible_number(self) -> Number | None:
        """Return the number behind the value, for sliders."""
        return None

    def ask_for_number(self, number: int) -> None:
        """Ask for another number, where there is one."""

    def can_press(self) -> bool:
        """Say whether pressing means anything."""
        return False

    def press(self) -> None:
        """Do what a press does, where it means anything."""

    def tell_changed(self) -> None:
        """Tell assistive technology that name, value or state are new."""
        if QAccessible.isActive():
            for kind in (QAccessible.Event.NameChanged, QAccessible.Event.DescriptionChanged):
                QAccessible.updateAccessibility(QAccessibleEvent(self, kind))
            states = QAccessible.State()
            for name in self.accessible_states():
                setattr(states, name, True)
            QAccessible.updateAccessibility(QAccessibleStateChangeEvent(self, states))


class ToldValue(QAccessibleValueInterface):
    """The number behind a slider."""

    def __init__(self, told: Told) -> None:
        super().__init__()
        self._told = told

    def currentValue(self) -> Any:
        number = self._told.accessible_number()
        return number.now if number is not None else None

    def setCurrentValue(self, value: Any) -> None:
        self._told.ask_for_number(round(float(value)))

    def minimumValue(self) -> Any:
        number = self._told.accessible_number()
        return number.least if number is not None else None

    def maximumValue(self) -> Any:
        number = self._told.accessible_number()
        return number.most if number is not None else None

    def minimumStepSize(self) -> Any:
        return 1


class ToldInterface(QAccessibleWidget):
    """Tells role, value, state and actions of such a widget; name and place come from the widget itself."""

    def __init__(self, told: Told) -> None:
        super().__init__(told, told.accessible_role, "")
        self._told = told
        self._value = ToldValue(told)

    def text(self, kind: QAccessible.Text) -> str:
        if kind == QAccessible.Text.Value:
            return self._told.value_text()
        if kind == QAccessible.Text.Description:
            # Some screen readers pass over the value of anything but a slider: it leads the description too.
            return ". ".join(part for part in (self._told.value_text(), super().text(kind)) if part)
        return super().text(kind)

    def state(self) -> QAccessible.State:
        state = super().state()
        for name, holds in self._told.accessible_states().items():
            setattr(state, name, holds)
        return state

    def actionNames(self) -> list[str]:
        names = list(super().actionNames())
        return [QAccessibleActionInterface.pressAction(), *names] if self._told.can_press() else names

    def doAction(self, name: str) -> None:
        if name == QAccessibleActionInterface.pressAction():
            self._told.press()
        else:
            super().doAction(name)

    def interface_cast(self, kind: QAccessible.InterfaceType) -> Any:
        if kind == QAccessible.InterfaceType.ValueInterface and self._told.accessible_number() is not None:
            return self._value
        return super().interface_cast(kind)


@cache
def _install() -> None:
    """Let Qt ask us about such widgets; once for the whole program."""

    def interface_of(_class_name: str, thing: QObject) -> ToldInterface | None:
        return ToldInterface(thing) if isinstance(thing, Told) else None

    QAccessible.installFactory(interface_of)
