"""What assistive technology is told about the controls that we draw ourselves."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject
from PySide6.QtGui import (
    QAccessible,
    QAccessibleActionInterface,
    QAccessibleEvent,
    QAccessibleStateChangeEvent,
    QAccessibleValueInterface,
)
from PySide6.QtWidgets import QAccessibleWidget

if TYPE_CHECKING:
    from tastebook.ui.widgets.drawn import Drawn


class DrawnValue(QAccessibleValueInterface):
    """The number behind a slider."""

    def __init__(self, drawn: Drawn) -> None:
        super().__init__()
        self._drawn = drawn

    def currentValue(self) -> Any:
        number = self._drawn.accessible_number()
        return number.now if number is not None else None

    def setCurrentValue(self, value: Any) -> None:
        self._drawn.ask_for_number(round(float(value)))

    def minimumValue(self) -> Any:
        number = self._drawn.accessible_number()
        return number.least if number is not None else None

    def maximumValue(self) -> Any:
        number = self._drawn.accessible_number()
        return number.most if number is not None else None

    def minimumStepSize(self) -> Any:
        return 1


class DrawnInterface(QAccessibleWidget):
    """Tells role, value, state and actions of a drawn widget; name and place come from the widget itself."""

    def __init__(self, drawn: Drawn) -> None:
        super().__init__(drawn, drawn.accessible_role, "")
        self._drawn = drawn
        self._value = DrawnValue(drawn)

    def text(self, kind: QAccessible.Text) -> str:
        if kind == QAccessible.Text.Value:
            return self._drawn.value_text()
        if kind == QAccessible.Text.Description:
            # Some screen readers pass over the value of anything but a slider: it leads the description too.
            return ". ".join(part for part in (self._drawn.value_text(), super().text(kind)) if part)
        return super().text(kind)

    def state(self) -> QAccessible.State:
        state = super().state()
        for name, holds in self._drawn.accessible_states().items():
            setattr(state, name, holds)
        return state

    def actionNames(self) -> list[str]:
        names = list(super().actionNames())
        return [QAccessibleActionInterface.pressAction(), *names] if self._drawn.can_press() else names

    def doAction(self, name: str) -> None:
        if name == QAccessibleActionInterface.pressAction():
            self._drawn.press()
        else:
            super().doAction(name)

    def interface_cast(self, kind: QAccessible.InterfaceType) -> Any:
        if kind == QAccessible.InterfaceType.ValueInterface and self._drawn.accessible_number() is not None:
            return self._value
        return super().interface_cast(kind)


@cache
def install() -> None:
    """Let Qt ask us about drawn widgets; once for the whole program."""
    from tastebook.ui.widgets.drawn import Drawn

    def interface_of(_class_name: str, thing: QObject) -> DrawnInterface | None:
        return DrawnInterface(thing) if isinstance(thing, Drawn) else None

    QAccessible.installFactory(interface_of)


def tell_value_changed(drawn: Drawn) -> None:
    """Say that name, value or description of the widget are new."""
    if QAccessible.isActive():
        for kind in (QAccessible.Event.NameChanged, QAccessible.Event.DescriptionChanged):
            QAccessible.updateAccessibility(QAccessibleEvent(drawn, kind))


def tell_state_changed(drawn: Drawn, *names: str) -> None:
    """Say which of the widget's states are new."""
    if QAccessible.isActive():
        states = QAccessible.State()
        for name in names:
            setattr(states, name, True)
        QAccessible.updateAccessibility(QAccessibleStateChangeEvent(drawn, states))
