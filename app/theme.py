"""How the window around the board looks: a drafting sheet, ruled in thin lines, light or dark.

The colours are those of `app.look.Look`, the same as on the board; here they become a Qt palette and one style sheet.
Fields are ruled beneath as in a title block, headings are set small and spaced, areas are parted by one thin line.
Nothing depends on colour alone: marks and words carry it too.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QGuiApplication, QPalette

if TYPE_CHECKING:
    from app.look import Look


EDGE_SHARE = 0.52
"""How much ink is in the edge of a field, so that it is seen to be one: 3:1 on the paper (WCAG 2.1, 2018, 1.4.11)."""


def blend(over: str, under: str, share: float) -> str:
    """Mix two colours "#rrggbb": `share` of the first, the rest of the second."""
    top, bottom = QColor(over), QColor(under)
    pairs = ((top.red(), bottom.red()), (top.green(), bottom.green()), (top.blue(), bottom.blue()))
    return "#" + "".join(f"{round(share * a + (1 - share) * b):02x}" for a, b in pairs)


def system_is_dark() -> bool:
    """Whether the desktop asks for dark windows."""
    return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark


def palette(look: Look) -> QPalette:
    """Qt's palette in the sheet's colours."""
    made = QPalette()
    faint = blend(look.ink, look.paper, 0.45)
    roles = {
        QPalette.ColorRole.Window: look.paper,
        QPalette.ColorRole.Base: look.paper,
        QPalette.ColorRole.Button: look.paper,
        QPalette.ColorRole.AlternateBase: blend(look.ink, look.paper, 0.04),
        QPalette.ColorRole.ToolTipBase: blend(look.ink, look.paper, 0.08),
        QPalette.ColorRole.WindowText: look.ink,
        QPalette.ColorRole.Text: look.ink,
        QPalette.ColorRole.ButtonText: look.ink,
        QPalette.ColorRole.ToolTipText: look.ink,
        QPalette.ColorRole.BrightText: look.fault,
        QPalette.ColorRole.PlaceholderText: look.faint,
        QPalette.ColorRole.Highlight: look.selection,
        QPalette.ColorRole.HighlightedText: look.paper,
        QPalette.ColorRole.Link: look.selection,
        QPalette.ColorRole.Mid: blend(look.ink, look.paper, EDGE_SHARE),
        QPalette.ColorRole.Dark: blend(look.ink, look.paper, 0.5),
        QPalette.ColorRole.Light: blend(look.ink, look.paper, 0.1),
        QPalette.ColorRole.Midlight: blend(look.ink, look.paper, 0.15),
        QPalette.ColorRole.Shadow: look.ink,
    }
    for role, colour in roles.items():
        made.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(faint))
    return made


def style_sheet(look: Look) -> str:
    """Style sheet of the window; the object names in it are the parts' own."""
    colours = {
        "paper": look.paper,
        "ink": look.ink,
        "fault": look.fault,
        "chosen": look.selection,
        "ok": look.ok,
        "rule": blend(look.ink, look.paper, 0.28),
        "edge": blend(look.ink, look.paper, EDGE_SHARE),
        "faint": look.faint,
        "wash": blend(look.ink, look.paper, 0.06),
        "chosen_wash": blend(look.selection, look.paper, 0.16),
        "fault_wash": blend(look.fault, look.paper, 0.12),
    }
    sheet = _SHEET
    for name, colour in colours.items():
        sheet = sheet.replace(f"@{name}@", colour)
    return sheet


_SHEET = """
QDialogButtonBox { dialogbuttonbox-buttons-have-icons: 0; }
QDialog { border: 1px solid @rule@; }
QMainWindow, QDialog, #side, #strip, #rail, #drawer { background: @paper@; }
#rail { border-right: 1px solid @rule@; }
#drawer { border-right: 1px solid @ink@; }
#side { border-left: 1px solid @rule@; }
#strip { border-top: 1px solid @rule@; }
#notice { background: @fault_wash@; border-bottom: 1px solid @fault@; }
#notice[asks="true"] { background: @chosen_wash@; border-bottom: 1px solid @chosen@; }
#notice[news="true"] { background: @wash@; border-bottom: 1px solid @rule@; }
#heading { font-weight: 600; letter-spacing: 1px; color: @ink@; }
#faint { color: @faint@; }
#lane_reading { color: @chosen@; font-weight: 600; }
#fault { color: @fault@; }
QMenuBar { background: @paper@; border-bottom: 1px solid @rule@; }
QMenuBar::item { padding: 4px 10px; background: transparent; }
QMenuBar::item:selected { background: @wash@; }
QToolTip { background: @wash@; color: @ink@; border: 1px solid @rule@; padding: 4px; }
QLineEdit, QPlainTextEdit { background: transparent; border: none; border-bottom: 1px solid @edge@; padding: 2px 1px; }
QPlainTextEdit { border: 1px solid @edge@; }
QLineEdit:focus { border-bottom: 1px solid @chosen@; background: @wash@; }
QLineEdit:disabled { color: @faint@; border-bottom: 1px dotted @rule@; }
QPushButton { background: @paper@; border: 1px solid @rule@; border-radius: 2px; padding: 4px 10px; }
QPushButton:hover { border-color: @ink@; background: @wash@; }
QPushButton:pressed, QPushButton:checked { background: @chosen_wash@; border-color: @chosen@; }
QPushButton:focus { border-color: @chosen@; }
QPushButton:disabled { color: @faint@; border-style: dotted; }
QToolButton { border: 1px solid transparent; border-radius: 2px; padding: 3px 6px; }
QToolButton:hover { background: @wash@; border-color: @rule@; }
#offer { border-color: @rule@; padding: 1px 6px; }
#offer:hover { border-color: @ink@; }
QToolButton:focus { border-color: @chosen@; }
QToolButton:checked { background: @chosen_wash@; border-color: @chosen@; }
#toolbox { background: @paper@; border-left: 1px solid @rule@; }
#toolbox QToolButton { padding: 0; }
#toolbox QToolButton:checked { border-color: @chosen@; }
QToolButton:checked:focus, #toolbox QToolButton:checked:focus, QPushButton:checked:focus { border: 2px solid @ink@; }
#strip[keyed="true"] { border: 1px solid @chosen@; }
#check { border: none; border-bottom: 1px solid @rule@; border-radius: 0; text-align: left; padding: 0; }
#check:hover { background: @wash@; }
#check:focus { background: @chosen_wash@; }
QListWidget, QTableView { border: 1px solid @rule@; background: @paper@; gridline-color: @rule@; }
QListWidget::item { padding: 3px 4px; border-bottom: 1px solid transparent; }
QListWidget::item:selected, QTableView::item:selected { background: @chosen_wash@; color: @ink@;
    border-bottom: 1px solid @chosen@; }
QTableView::item:focus { border: 1px solid @chosen@; }
QTableView::item:disabled { color: @ink@; }
QTableView QTableCornerButton::section { background: @paper@; border: none; }
QHeaderView::section { background: @paper@; border: none; border-bottom: 1px solid @rule@; padding: 2px 4px; }
QScrollArea { border: none; background: @paper@; }
QScrollArea > QWidget > #page { background: @paper@; }
QSplitter::handle { background: @paper@; }
#ruled::handle { border-top: 1px solid @rule@; }
QScrollBar:vertical { background: @paper@; width: 10px; margin: 0; }
QScrollBar:horizontal { background: @paper@; height: 10px; margin: 0; }
QScrollBar::handle { background: @edge@; border: 3px solid @paper@; min-height: 24px; min-width: 24px; }
QScrollBar::handle:hover { background: @ink@; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: none; }
QSlider::groove:horizontal { background: @edge@; height: 2px; }
QSlider::sub-page:horizontal { background: @chosen@; }
QSlider::handle:horizontal { background: @paper@; border: 1px solid @ink@; border-radius: 2px; width: 10px;
    margin: -7px 0; }
QSlider::handle:horizontal:hover { background: @wash@; }
QSlider::handle:horizontal:focus { border: 2px solid @chosen@; }
#subheading { font-weight: 600; }
#section { font-weight: 600; padding: 2px 4px 2px 0; }
#section:checked { background: transparent; border-color: transparent; }
#section:hover { background: @wash@; }
#section:focus, #section:checked:focus { border: 1px solid @chosen@; }
QSplitter::handle:hover { background: @chosen_wash@; }
"""
