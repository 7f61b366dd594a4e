"""Photographs at the Bench's screen: the row at the step, the sheet, and every way in which a picture comes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import QBuffer, QEvent, QIODevice, QMimeData, QObject, Qt, Signal
from PySide6.QtGui import QDropEvent, QGuiApplication, QImage, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPlainTextEdit, QWidget

from tastebook.presenters.bench.photos import BenchPhotos, PhotoRowView
from tastebook.ui.bench.photo_sheet import PhotoSheet
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import PlainButton
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.photo_thumb import PhotoThumb

MOST_IN_ROW: Final = 2
_AS_FILES: Final = ("image/jpeg", "image/png", "image/webp", "image/tiff")


class PhotoRow(QWidget):
    """The photographs of a step, small, and the button that attaches one."""

    photo_requested = Signal()
    open_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = PhotoRowView()
        self._most = MOST_IN_ROW
        self._is_tight = False
        self._thumbs = [PhotoThumb(themes) for _ in range(MOST_IN_ROW)]
        self._more = Label(themes, "", ink="ink3")
        self.button = PlainButton(themes, "Photo")
        self.button.setToolTip("Alt P; a picture can be dropped here or pasted, too")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        row.addWidget(self._more)
        for place, thumb in enumerate(self._thumbs):
            thumb.press_requested.connect(lambda place=place: self._ask_for(place))
            row.addWidget(thumb)
        row.addWidget(self.button)
        self.button.press_requested.connect(self.photo_requested)
        self._show()

    @property
    def view(self) -> PhotoRowView:
        """Return what is shown."""
        return self._view

    def show_view(self, view: PhotoRowView) -> None:
        """Show the photographs of another step."""
        if view != self._view:
            self._view = view
            self._show()

    def set_tight(self, *, is_tight: bool) -> None:
        """Where there is little room, show the newest alone, and it in place of the button: the sheet has one too."""
        self._is_tight = is_tight
        self._most = 1 if is_tight else MOST_IN_ROW
        self._show()

    def _show(self) -> None:
        shown = self._view.thumbs[-self._most :]
        hidden = self._view.more + len(self._view.thumbs) - len(shown)
        self._more.setVisible(hidden > 0 and not self._is_tight)
        self.button.setVisible(not (self._is_tight and shown))
        self._more.setText(f"+{hidden}")
        for place, thumb in enumerate(self._thumbs):
            thumb.setVisible(place < len(shown))
            if place < len(shown):
                thumb.show_photo(shown[place].raster, shown[place].name, mark=shown[place].mark)

    def _ask_for(self, place: int) -> None:
        self.open_requested.emit(self._view.thumbs[-self._most :][place].uid)


class PhotoDoor(QObject):
    """Takes pictures that are dropped on a screen or pasted into it, wherever the keyboard is; words pass through."""

    file_given = Signal(str)
    picture_given = Signal(bytes)

    def __init__(self, screen: QWidget) -> None:
        super().__init__(screen)
        screen.setAcceptDrops(True)
        screen.installEventFilter(self)
        self.watch(screen)

    def watch(self, part: QWidget) -> None:
        """Let every field of a part pass pictures on."""
        for kind in (QLineEdit, QPlainTextEdit):
            for field in part.findChildren(kind):
                field.setAcceptDrops(False)  # else a picture's path would be written into it
                field.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.DragEnter, QEvent.Type.DragMove) and isinstance(event, QDropEvent):
            return self._welcome(event)
        if event.type() == QEvent.Type.Drop and isinstance(event, QDropEvent):
            return self._take_dropped(event)
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return event.matches(QKeySequence.StandardKey.Paste) and self._paste()
        return super().eventFilter(watched, event)

    def _welcome(self, event: QDropEvent) -> bool:
        if not _has_picture(event.mimeData()):
            return False
        event.setDropAction(Qt.DropAction.CopyAction)
        event.accept()
        return True

    def _take_dropped(self, event: QDropEvent) -> bool:
        if not self._take(event.mimeData()):
            return False
        event.setDropAction(Qt.DropAction.CopyAction)
        event.accept()
        return True

    def _paste(self) -> bool:
        """Take a picture from the clipboard; where there are words, they are what is meant."""
        found = QGuiApplication.clipboard().mimeData()
        return _has_picture(found) and not (found.hasText() and not found.hasUrls()) and self._take(found)

    def _take(self, found: QMimeData) -> bool:
        files = [url.toLocalFile() for url in found.urls() if url.isLocalFile()] if found.hasUrls() else []
        for path in files:
            self.file_given.emit(path)
        if files:
            return True
        content = picture_in(found)
        if content:
            self.picture_given.emit(content)
        return bool(content)


def _has_picture(found: QMimeData) -> bool:
    is_file = found.hasUrls() and any(url.isLocalFile() for url in found.urls())
    return is_file or found.hasImage() or any(found.hasFormat(one) for one in _AS_FILES)


def picture_in(found: QMimeData) -> bytes:
    """Return a picture that was copied or dragged, as it came where it came as a file, else as PNG; empty for none."""
    for one in _AS_FILES:
        if found.hasFormat(one):
            return bytes(found.data(one).data())
    image = found.imageData() if found.hasImage() else None
    if not isinstance(image, QImage) or image.isNull():
        return b""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(buffer.data().data())


class PhotoDesk(QObject):
    """Connects the photographs of a Bench with its screen.

    `refresh` is called after every act; `open_over` lays the sheet over the screen, beside the timer.
    """

    pictures_requested = Signal()
    copy_requested = Signal(str)

    def __init__(
        self,
        themes: Themes,
        photos: BenchPhotos,
        row: PhotoRow,
        refresh: Callable[[], None],
        open_over: Callable[[PhotoSheet], None],
    ) -> None:
        super().__init__()
        self.presenter = photos
        self.row = row
        self.sheet = PhotoSheet(themes)
        self._refresh, self._open_over = refresh, open_over
        sheet, act = self.sheet, self._act
        row.photo_requested.connect(self.pictures_requested)
        row.open_requested.connect(self.open)
        sheet.tap_requested.connect(act(photos.tap))
        sheet.again_requested.connect(act(photos.begin_again))
        sheet.more_white_requested.connect(act(photos.add_white))
        sheet.described.connect(act(photos.describe))
        sheet.removal_requested.connect(act(photos.remove))
        sheet.other_requested.connect(self.open)
        sheet.another_requested.connect(self.pictures_requested)
        sheet.take_requested.connect(self._take)
        sheet.copy_requested.connect(lambda: self.copy_requested.emit(photos.copy_name()))
        sheet.closed.connect(photos.close)

    def _act(self, gesture: Callable[..., object]) -> Callable[..., None]:
        def slot(*given: object) -> None:
            gesture(*given)
            self._refresh()

        return slot

    def attach_files(self, paths: Sequence[str]) -> None:
        """Attach the pictures in files to the current step."""
        self._show_newest([self.presenter.attach_file(path) for path in paths])

    def attach(self, content: bytes) -> None:
        """Attach a picture to the current step."""
        self._show_newest([self.presenter.attach(content)])

    def _show_newest(self, uids: Sequence[str]) -> None:
        """Show what was attached; where it can tell a colour, the sheet is opened for that at once."""
        self._refresh()
        attached = [uid for uid in uids if uid]
        if attached and self.presenter.can_tell_colour(attached[-1]):
            self.open(attached[-1])

    def open(self, uid: str) -> None:
        """Look at one photograph."""
        self.presenter.open(uid)
        view = self.presenter.sheet()
        if view is not None:
            self.sheet.show_view(view)
            self._open_over(self.sheet)

    def _take(self) -> None:
        is_kept = self.presenter.take_colour()
        if is_kept:
            self.sheet.close_sheet()
        self._refresh()

    def refresh(self) -> None:
        """Show the row as it stands, and the sheet while it is open."""
        self.row.show_view(self.presenter.row())
        if not self.sheet.isVisible():
            return
        view = self.presenter.sheet()
        if view is None:
            self.sheet.close_sheet()
        else:
            self.sheet.show_view(view)
