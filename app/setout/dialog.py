"""The drawing of the set-out in a sheet of its own: the wall with its plan, or the panel's inner skin."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.buttons import StayingDialog, close_only
from app.dialog_places import undo_from
from app.drawers.lift_box import paragraph, say
from app.entry.form import ChoiceBox
from app.fields import named
from app.setout.drawing import setout_figure
from app.setout.sheet import ViewSheet
from app.stack.job import stack_job
from app.stacked import web_off

if TYPE_CHECKING:
    from app.document import Document
    from app.look import Look

WALL, SKIN = "wall", "skin"
FACES = ((WALL, "the wall"), (SKIN, "the panel’s skin"))


class SetOutDialog(StayingDialog):
    """The sheet; it follows the project."""

    def __init__(self, document: Document, look: Look, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Set-out")
        self.setObjectName("set-out")  # by which the help knows it
        self.setAccessibleName("Set-out")
        self._document, self._look = document, look
        self.job = stack_job(document)
        self.face = ChoiceBox(FACES)
        named(self.face, "Face", "What to look at: the wall, or the inner skin of the panel.")
        self.face.activated.connect(self._renew)
        self.sheets = [
            ViewSheet("The face as you see it", "Both hinges to scale, with their dimension lines."),
            ViewSheet("The wall seen from above", "Along the wall, and square to the centreline."),
        ]
        self.titles = [QLabel(), QLabel()]
        self.sentences = paragraph()
        self._lay_out()
        undo_from(self, document)
        self.resize(1040, 730)
        for signal in (document.analysed, document.restyled, self.job.changed):
            signal.connect(self._renew)
        self._renew()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        head = QHBoxLayout()
        head.addWidget(QLabel("Face"))
        head.addWidget(self.face)
        head.addStretch(1)
        column.addLayout(head)
        for title, sheet in zip(self.titles, self.sheets, strict=True):
            title.setObjectName("subheading")
            column.addWidget(title)
            column.addWidget(sheet, 4 if sheet is self.sheets[0] else 3)
        column.addWidget(self.sentences)
        box = close_only()
        box.rejected.connect(self.close)
        column.addWidget(box)

    def _renew(self, *_: object) -> None:
        """Draw it anew."""
        document = self._document
        if document.is_dragging:
            return
        stack = self.job.newest() if document.project.mounted.bracket is not None else None
        off = None if stack is None else web_off(document.project, stack)
        figure = setout_figure(document.project, None, document.units, off=off)
        is_skin = self.face.value == SKIN
        views = [figure.view("skin"), None] if is_skin else [figure.view("wall"), figure.view("plan")]
        said = figure.skin_sentences if is_skin else figure.sentences
        missing = ("Lay out a bracket at the panel first.",) if is_skin else (figure.why,)
        for title, sheet, view in zip(self.titles, self.sheets, views, strict=True):
            title.setText("" if view is None else view.title)
            title.setVisible(view is not None)
            sheet.setVisible(view is not None)
            sheet.show_view(view, self._look, "\n".join(said))
        say(self.sentences, said if views[0] is not None else missing)

    def done(self, result: int) -> None:
        """Stop following."""
        for signal in (self._document.analysed, self._document.restyled, self.job.changed):
            signal.disconnect(self._renew)
        super().done(result)
