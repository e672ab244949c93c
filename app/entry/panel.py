"""The lower half of the checks: exact entry of what is selected, of what is wanted when nothing is, or the list of all
parts.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QHBoxLayout, QLineEdit, QPushButton, QWidget

from app.buttons import ElidedButton
from app.columns import scroll_area, tight_column
from app.entry.loads import DeviceForm, HandleForm, MassForm
from app.entry.measure import MeasureForm
from app.entry.outline import OutlineForm
from app.entry.parts import LinkForm, MarkForm, PivotForm
from app.entry.parts_page import PartsPage
from app.entry.points import PointsForm
from app.entry.wants import WantsForm
from app.entry.zone import ZoneForm
from app.fields import in_tab_order, named
from app.lettering import in_menu

if TYPE_CHECKING:
    from app.document import Document, Selection
    from app.entry.form import Form
    from app.look import Look
    from kinematics.results import Check

FORMS: dict[
    str,
    type[
        PivotForm | LinkForm | OutlineForm | MarkForm | MeasureForm | ZoneForm | MassForm | HandleForm | DeviceForm
    ],
] = {
    "pivot": PivotForm, "link": LinkForm, "outline": OutlineForm, "mark": MarkForm, "measure": MeasureForm,
    "zone": ZoneForm, "mass": MassForm, "handle": HandleForm, "device": DeviceForm,
}  # fmt: skip


PART_TIP = "Exact entry of what is selected on the board: type its coordinates, width, points."


class EntryPanel(QWidget):
    """Three pages, "Wants", "Parts" and the selected part; a form is made anew only when it needs other rows.

    While the list of parts is turned to it stays, whatever is selected.
    """

    listed = Signal(bool)  # the list of parts was turned to, or turned from

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._shown: object = None  # what the form is for, and its shape
        self.form: Form | None = None
        self._parts: PartsPage | None = None
        self._look: Look | None = None
        self._build()
        document.selected.connect(self._on_selected)
        document.restyled.connect(self._show)
        document.followed.connect(lambda _: self._show())
        self._on_selected(document.selection)

    def _build(self) -> None:
        self.wants_button = QPushButton("Wants")
        named(
            self.wants_button,
            "Wants",
            "How far it opens, the least gaps, the least pin spacing: what the checks hold it to.",
        )
        self.part_button = ElidedButton("Selected")
        self.list_button = QPushButton("Parts")
        named(
            self.list_button,
            "Parts",
            "Every pin, link, outline, mark, zone, mass, strut and spring in a list: select, rename, hide, lock, put "
            "in order, type coordinates (Ctrl+L).",
        )
        # No QButtonGroup: in one, Tab stops at a single button, which need not be the pressed one.
        self._pages = (self.wants_button, self.list_button, self.part_button)
        head = QWidget()
        row = QHBoxLayout(head)
        row.setContentsMargins(12, 8, 12, 4)
        row.setSpacing(6)
        for button in self._pages:
            button.setCheckable(True)
            button.clicked.connect(partial(self._turn_to, button))
            row.addWidget(button)
        row.addStretch(1)
        self._press(self.wants_button)
        self._scroll = scroll_area()
        column = self._column = tight_column(self)
        column.addWidget(head)
        column.addWidget(self._scroll, 1)

    @property
    def parts(self) -> PartsPage:
        """The list of all parts, made when it is first asked for."""
        if self._parts is None:
            self._parts = PartsPage(self._document)
            self._parts.hide()
            self._column.addWidget(self._parts, 1)
            if self._look is not None:
                self._parts.set_look(self._look)
            in_tab_order(self.part_button, self._parts)  # never shown along with the form: their order is the same
        return self._parts

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self._look = look
        if self._parts is not None:
            self._parts.set_look(look)

    def _press(self, pressed: QPushButton) -> None:
        """Press one button, and none beside it."""
        for button in self._pages:
            button.setChecked(button is pressed)

    def _turn_to(self, pressed: QPushButton, _checked: bool = False) -> None:
        """Turn to the page of a button."""
        self._press(pressed)
        self._show()

    def show_wants(self, _check: Check | None = None) -> None:
        """Turn to the wants."""
        self._turn_to(self.wants_button)

    def show_parts(self) -> None:
        """Turn to the list of parts, and give it the keys."""
        self._turn_to(self.list_button)
        self.parts.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_selected(self, selection: Selection | None) -> None:
        self.part_button.setEnabled(selection is not None)
        named(self.part_button, "Selected part", f"{self._part_words(selection)}. {PART_TIP}")
        self.part_button.setText(in_menu(self._part_words(selection)))
        if not self.list_button.isChecked():
            self._press(self.wants_button if selection is None else self.part_button)
        self._show()

    def _part_words(self, selection: Selection | None) -> str:
        """Say which part is typed in; of several it is the one that was selected last."""
        if selection is None:
            return "Selected"
        count = len(self._document.selections)
        name = "Handle" if selection.kind == "handle" else f"{selection.kind.capitalize()} {selection.id}"
        return name + (f", of {count}" if count > 1 else "")

    def _show(self) -> None:
        """Show the page that is asked for; keep the form where only its values differ."""
        is_list = self.list_button.isChecked()
        if is_list == (self._parts is None or self._parts.isHidden()):
            self._scroll.setVisible(not is_list)
            self.parts.setVisible(is_list)
            self.listed.emit(is_list)
        if is_list:
            return
        selection = self._document.selection if self.part_button.isChecked() else None
        wanted = self._wanted(selection)
        if wanted != self._shown or self.form is None:
            self._shown = wanted
            self._replace(selection)
        else:
            self.form.refresh(self._document.project)
        if selection is not None and isinstance(self.form, PointsForm):
            self.form.show_part(selection.part)

    def _wanted(self, selection: Selection | None) -> object:
        if selection is None:
            return WantsForm.shape(self._document)
        return selection.kind, selection.id, FORMS[selection.kind].shape(self._document.project, selection.id)

    def _replace(self, selection: Selection | None) -> None:
        is_same = type(self.form) is (WantsForm if selection is None else FORMS[selection.kind])
        held, scrolled = _held_in(self.form) if is_same else "", self._scroll.verticalScrollBar().value()
        self.form = (
            WantsForm(self._document) if selection is None else FORMS[selection.kind](self._document, selection.id)
        )
        old = self._scroll.takeWidget()
        if old is not None:
            old.hide()
            old.deleteLater()
        self._scroll.setWidget(self.form)
        in_tab_order(self.part_button, self.form)
        self.form.setAutoFillBackground(False)
        self._scroll.setAlignment(Qt.AlignmentFlag.AlignTop)
        if is_same:
            _hold(self.form, held)
            self.form.adjustSize()
            self._scroll.verticalScrollBar().setValue(scrolled)


def _held_in(form: QWidget | None) -> str:
    """Give the name of the control of a form that has the keys, "" if none has."""
    focused = QApplication.focusWidget()
    return focused.accessibleName() if focused is not None and form is not None and form.isAncestorOf(focused) else ""


def _hold(form: QWidget, name: str) -> None:
    """Give the keys to the control of that name, where the form still has one.

    A click into the next field takes over what was typed in the last one; where that makes the form anew, the field
    that was clicked must have the keys in the new form too, or what is typed next is lost.
    """
    found = next((widget for widget in form.findChildren(QWidget) if name and widget.accessibleName() == name), None)
    if found is not None:
        found.setFocus(Qt.FocusReason.OtherFocusReason)
        if isinstance(found, QLineEdit):
            found.selectAll()
