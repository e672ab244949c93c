"""How a page of the help is set: headings, room between paragraphs, cautions on a wash, plain tables.

Qt reads the Markdown; what it makes of it is given the sheet's own colours and measures here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QBrush, QColor, QFont, QTextBlockFormat, QTextCharFormat, QTextCursor, QTextFormat, QTextTable

from app.theme import blend

if TYPE_CHECKING:
    from PySide6.QtGui import QTextBlock, QTextDocument

    from app.look import Look

HEADINGS = {1: 1.5, 2: 1.15, 3: 1.0}  # sizes, in times the words'
LINE = 125.0  # height of a line, percent
INDENT = 22.0  # of lists, pixels
AFTER = 8.0  # pixels after a paragraph


def dress(sheet: QTextDocument, look: Look) -> None:
    """Give a page its looks."""
    sheet.setIndentWidth(INDENT)
    all_of_it = QTextCursor(sheet)
    all_of_it.beginEditBlock()  # laid out once, at the end
    block = sheet.begin()
    while block.isValid():
        _dress_block(block, look)
        block = block.next()
    for frame in sheet.rootFrame().childFrames():
        if isinstance(frame, QTextTable):
            _dress_table(frame, look)
    all_of_it.endEditBlock()


def _dress_block(block: QTextBlock, look: Look) -> None:
    found = block.blockFormat()
    made = QTextBlockFormat()
    if not has_picture(block):  # its height would grow along with the lines
        made.setLineHeight(LINE, QTextBlockFormat.LineHeightTypes.ProportionalHeight.value)
    level = found.headingLevel()
    made.setTopMargin(12.0 if level > 1 else 0.0)
    made.setBottomMargin(4.0 if level > 1 or found.property(QTextFormat.Property.ListStyle) else AFTER)
    cursor = QTextCursor(block)
    if found.property(QTextFormat.Property.BlockQuoteLevel):
        made.setLeftMargin(14.0)
        made.setRightMargin(6.0)
        made.setBackground(QBrush(QColor(wash(look, caution=is_caution(block)))))
    cursor.mergeBlockFormat(made)
    if level:
        _dress_heading(cursor, level, look)


def wash(look: Look, *, caution: bool) -> str:
    """Give what a caution, or another quotation, stands on."""
    return blend(look.fault, look.paper, 0.1) if caution else blend(look.ink, look.paper, 0.08)


def has_picture(block: QTextBlock) -> bool:
    """Whether a paragraph holds a picture."""
    return "\ufffc" in block.text()


def is_caution(block: QTextBlock) -> bool:
    """Whether a quotation is a caution: it begins with words in bold."""
    fragments = block.begin()
    return not fragments.atEnd() and fragments.fragment().charFormat().fontWeight() >= QFont.Weight.Bold


def _dress_heading(cursor: QTextCursor, level: int, look: Look) -> None:
    cursor.movePosition(QTextCursor.MoveOperation.EndOfBlock, QTextCursor.MoveMode.KeepAnchor)
    made = QTextCharFormat()
    made.setFontWeight(QFont.Weight.DemiBold)
    made.setForeground(QColor(look.ink))
    size = cursor.document().defaultFont().pointSizeF()
    made.setFontPointSize(max(size, 9.0) * HEADINGS.get(level, 1.0))
    cursor.setCharFormat(made)  # no link stands in a heading


def _dress_table(table: QTextTable, look: Look) -> None:
    made = table.format()
    made.setBorder(0.0)
    made.setCellPadding(3.0)
    made.setCellSpacing(0.0)
    made.setTopMargin(2.0)
    made.setBottomMargin(AFTER)
    made.setBorderBrush(QColor(blend(look.ink, look.paper, 0.28)))
    table.setFormat(made)
