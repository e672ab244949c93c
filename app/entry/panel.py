"""The lower half of the checks: exact entry of what is selected, or of what is wanted when nothing is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget

from app.columns import scroll_area, tight_column
from app.entry.outline import OutlineForm
from app.entry.parts import LinkForm, MarkForm, PivotForm
from app.entry.wants import WantsForm
from app.fields import named

if TYPE_CHECKING:
    from app.document import Document, Selection
    from app.entry.form import Form
    from kinematics.results import Check

FORMS: dict[str, type[PivotForm | LinkForm | OutlineForm | MarkForm]] = {
    "pivot": PivotForm, "link": LinkForm, "outline": OutlineForm, "mark": MarkForm,
}  # fmt: skip


class EntryPanel(QWidget):
    """Two pages, "Wants" and the selected part; each is made anew only when it needs other rows."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._shown: object = None  # what the form is for, and its shape
        self.form: Form | None = None
        self._build()
        document.selected.connect(self._on_selected)
        document.changed.connect(lambda _: self._show())
        document.restyled.connect(self._show)
        document.analysed.connect(lambda _: self._show())
        self._on_selected(document.selection)

    def _build(self) -> None:
        self.wants_button = QPushButton("Wants")
        named(
            self.wants_button,
            "Wants",
            "How far it opens, the least gaps, the least pin spacing: what the checks hold it to.",
        )
        self.part_button = QPushButton("Selected")
        named(
            self.part_button,
            "Selected part",
            "Exact entry of what is selected on the board: type its coordinates, width, points.",
        )
        self._pages = QButtonGroup(self)
        head = QWidget()
        row = QHBoxLayout(head)
        row.setContentsMargins(12, 8, 12, 4)
        row.setSpacing(6)
        for button in (self.wants_button, self.part_button):
            button.setCheckable(True)
            self._pages.addButton(button)
            row.addWidget(button)
        row.addStretch(1)
        self.wants_button.setChecked(True)
        self._pages.buttonClicked.connect(lambda _: self._show())
        self._scroll = scroll_area()
        column = tight_column(self)
        column.addWidget(head)
        column.addWidget(self._scroll, 1)

    def show_wants(self, _check: Check | None = None) -> None:
        """Turn to the wants."""
        self.wants_button.setChecked(True)
        self._show()

    def _on_selected(self, selection: Selection | None) -> None:
        self.part_button.setEnabled(selection is not None)
        self.part_button.setText(
            "Selected" if selection is None else f"{selection.kind.capitalize()} {selection.id}"[:28]
        )
        (self.wants_button if selection is None else self.part_button).setChecked(True)
        self._show()

    def _show(self) -> None:
        """Show the page that is asked for; keep the form where only its values differ."""
        selection = self._document.selection if self.part_button.isChecked() else None
        wanted = self._wanted(selection)
        if wanted != self._shown or self.form is None:
            self._shown = wanted
            self._replace(selection)
        else:
            self.form.refresh(self._document.project)
        if selection is not None and isinstance(self.form, OutlineForm):
            self.form.show_part(selection.part)

    def _wanted(self, selection: Selection | None) -> object:
        if selection is None:
            return WantsForm.shape(self._document)
        return selection.kind, selection.id, FORMS[selection.kind].shape(self._document.project, selection.id)

    def _replace(self, selection: Selection | None) -> None:
        self.form = (
            WantsForm(self._document) if selection is None else FORMS[selection.kind](self._document, selection.id)
        )
        old = self._scroll.takeWidget()
        if old is not None:
            old.hide()
            old.deleteLater()
        self._scroll.setWidget(self.form)
        self.form.setAutoFillBackground(False)
        self._scroll.setAlignment(Qt.AlignmentFlag.AlignTop)
