"""The sheets of the whole set looked at before they are made: every file that is printed, page by page.

They are drawn beside the window, and follow the layout: move a pin, and they are drawn anew once it is let go. What is
shown meanwhile is of the layout before, and stands faint.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QHBoxLayout, QLabel, QListWidget, QVBoxLayout, QWidget

from app.buttons import StayingDialog, close_only
from app.dialog_places import undo_from
from app.drawers.lift_box import paragraph, say
from app.entry.form import push_button
from app.fields import named
from app.making.sheets_job import sheets_job
from app.page_preview import PagePreview
from app.working_row import WorkingRow

if TYPE_CHECKING:
    from app.document import Document
    from app.files.drafting import Draft
    from app.making.sheets_unit import SetFound, SheetPicture

TITLE = "Sheets of the set"
LEFT_WIDE = 250
INTRO = (
    "What will be printed, sheet by sheet, as Make the files… in the drawer Build writes it. Change the layout, and "
    "the sheets follow."
)


class SetDialog(StayingDialog):
    """Files at the left, the chosen one's sheets at the right."""

    def __init__(self, document: Document, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(TITLE)
        self.setAccessibleName(TITLE)
        self._job = sheets_job(document)
        self._found: SetFound | None = None
        self.place = 0
        self.working = WorkingRow(self._job)
        self.files = QListWidget()
        named(self.files, "Files", "Choose the file to look at.")
        self.files.currentRowChanged.connect(self._open)
        self.why = paragraph()
        self.why.setObjectName("fault")
        self.preview = PagePreview()
        self.preview.turned.connect(self.turn)
        self.which = QLabel()
        self.which.setTextFormat(Qt.TextFormat.PlainText)
        self.which.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.before = push_button("◀ Before", "Show the sheet before this one (PgUp on it).", lambda: self.turn(-1))
        self.after = push_button("Next ▶", "Show the next sheet (PgDn on it).", lambda: self.turn(1))
        self._lay_out()
        undo_from(self, document)
        self.resize(1000, 720)
        self._told_by = (document.analysed, self._job.changed)
        for signal in self._told_by:
            signal.connect(self._renew)
        self.turn(0)
        self._renew()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        intro = paragraph()
        say(intro, (INTRO,))
        box = close_only()
        box.rejected.connect(self.close)
        for widget in (intro, self.files, self.why, self.working, box):
            widget.setFixedWidth(LEFT_WIDE)
            left.addWidget(widget)
        right = QVBoxLayout()
        right.addWidget(self.preview, 1)
        row = QHBoxLayout()
        row.addWidget(self.before)
        row.addWidget(self.which, 1)
        row.addWidget(self.after)
        right.addLayout(row)
        whole = QHBoxLayout(self)
        whole.addLayout(left)
        whole.addLayout(right, 1)

    # What is shown ----------------------------------------------------------------------------------------------------

    @property
    def sheets(self) -> tuple[SheetPicture, ...]:
        """All sheets that are shown."""
        return () if self._found is None else self._found.sheets

    def _renew(self, *_: object) -> None:
        """Show the newest sheets; those of the layout before stand faint until they are drawn."""
        newest = self._job.newest()
        if newest is not None and newest is not self._found:
            at = self.sheets[self.place] if self.sheets else None
            self._found = newest
            self._list(at)
        self.preview.set_faint(faint=newest is None)
        self.working.renew()

    def _list(self, at: SheetPicture | None) -> None:
        """List the files; the sheet that was looked at stays, as far as there is one."""
        paths = list(dict.fromkeys(sheet.path for sheet in self.sheets))
        counts = {sheet.path: sheet.count for sheet in self.sheets}
        self.files.blockSignals(True)
        self.files.clear()
        self.files.addItems([f"{path}, {counts[path]} sheet{'s' if counts[path] > 1 else ''}" for path in paths])
        self.files.blockSignals(False)
        say(self.why, (self._found.why,) if self._found is not None and self._found.why else ())
        same = [k for k, each in enumerate(self.sheets) if at is not None and each.path == at.path]
        self.place = min(same[0] + at.number - 1, same[-1]) if at is not None and same else 0
        self.turn(0)

    def _open(self, row: int) -> None:
        """Go to a file's first sheet."""
        paths = list(dict.fromkeys(sheet.path for sheet in self.sheets))
        if 0 <= row < len(paths):
            self.place = next(k for k, sheet in enumerate(self.sheets) if sheet.path == paths[row])
            self.turn(0)

    def turn(self, step: int) -> None:
        """Go so many sheets on."""
        last = len(self.sheets) - 1
        self.place = min(max(self.place + step, 0), max(last, 0))
        self.before.setEnabled(self.place > 0)
        self.after.setEnabled(self.place < last)
        if not self.sheets:
            self.which.setText("no sheet")
            self.preview.show_page(None, "no sheet")
            return
        sheet = self.sheets[self.place]
        told = f"{sheet.path}, sheet {sheet.number} of {sheet.count}"
        self.which.setText(told)
        self.preview.show_page((sheet.size, partial(_put, sheet)), told)
        self._mark(sheet.path)

    def _mark(self, path: str) -> None:
        """Mark the file whose sheet is shown."""
        paths = list(dict.fromkeys(sheet.path for sheet in self.sheets))
        self.files.blockSignals(True)
        self.files.setCurrentRow(paths.index(path))
        self.files.blockSignals(False)

    def done(self, result: int) -> None:
        """Stop following."""
        for signal in self._told_by:
            signal.disconnect(self._renew)
        super().done(result)


def _put(sheet: SheetPicture, draft: Draft) -> None:
    """Draw the picture of a sheet on it."""
    image = QImage.fromData(sheet.png)
    wide, tall = sheet.size
    with draft.pixels((0.0, 0.0, wide, tall), 1.0) as painter:
        painter.setRenderHint(painter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(QRectF(0.0, 0.0, wide, tall), image)
