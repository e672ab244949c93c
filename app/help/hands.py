"""The tables of the page Keys and hands, as Markdown: what mouse and keys do, and the keys of the commands, which are
read off the menus themselves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtGui import QAction

HANDS = (
    (
        "On the board",
        (
            ("drag a pivot", "moves it; it stays under the pointer at any opening"),
            ("drag the panel or a link", "swings it"),
            ("Ctrl while dragging", "leaves what the hand snaps to"),
            ("Shift while dragging", "keeps to a line"),
            ("R while dragging a pivot", "keeps its link's length"),
            ("J while dragging a pivot", "makes one pin of it and the pin it is dropped on"),
            ("click with Shift or Ctrl", "selects one more; drag one and all go"),
            ("Shift and drag on the paper", "selects what is within the frame"),
            ("drag the paper, or Space and drag", "pushes the sheet; the wheel zooms about the pointer"),
            ("right click", "what can be done with the thing under the pointer"),
            ("B while drawing an outline", "goes on with arcs, with a smooth curve, with straight pieces"),
            ("Page Up, Page Down", "selects one pivot after the other"),
            ("arrow keys, with Shift finer", "nudge what is selected; Preferences say by how much"),
            (
                "with a tool in hand: arrow keys, with Shift finer, with Ctrl coarser",
                "move a cross; Page Up, Page Down: from pin to pin; Home: to the middle; Enter clicks there",
            ),
            ("F6, Shift+F6", "take the keyboard to the next part of the window, to the one before"),
            ("L, H", "locks what is selected, or frees it; hides it, or shows it"),
            ("Delete", "takes out what is selected"),
            ("F, with Shift", "shows all, shows the pins"),
            ("Esc", "gives up the drag, leaving no step; puts a tool away"),
        ),
    ),
    (
        "On the travel strip",
        (
            ("drag anywhere", "swings the panel"),
            ("left, right, with Shift finer", "by a degree, by a tenth"),
            ("Home, End", "shut, as far as it opens"),
            ("Space", "plays and stops"),
        ),
    ),
    (
        "In the list of parts",
        (
            ("up, down, with Shift several", "selects here as on the board"),
            ("F2 or Enter", "types a name or a coordinate"),
            ("Space", "ticks: shown, locked"),
            ("right, left", "unfolds and folds an outline's points"),
            ("Alt and up, down", "puts a part further up or down"),
            ("Delete", "takes out what is selected"),
        ),
    ),
    (
        "In a field",
        (
            ('12 · 12,5 mm · 3 1/16" · 25.4/2 · 12+3/4', "are all read"),
            ("Enter", "takes it over"),
            ("Esc", "brings the old value back"),
        ),
    ),
)


def hands_table() -> str:
    """Give what mouse and keys do, a table a place."""
    parts = []
    for place, rows in HANDS:
        parts += [
            f"## {place}",
            "",
            "| what you do | what it does |",
            "| --- | --- |",
            *(f"| **{cell(what)}** | {cell(does)} |" for what, does in rows),
            "",
        ]
    return "\n".join(parts)


def commands_table(actions: Iterable[QAction]) -> str:
    """Give the commands that have a key: key, name, what it does."""
    lines = ["| key | command |", "| --- | --- |"]
    for action in actions:
        name, _, letter = action.text().replace("&", "").partition("\t")
        told = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText) or letter
        if told and name:
            name = name.partition(":")[0].removesuffix("…")
            tip = " ".join(action.toolTip().split())  # tips are broken into lines
            lines.append(f"| **{cell(told)}** | *{cell(name)}*: {cell(tip)} |")
    return "\n".join(lines)


def cell(text: str) -> str:
    """Give words as they stand in a cell of a table: what Markdown reads as signs of its own is set apart."""
    return "".join(f"\\{sign}" if sign in "\\|*_`<>[]#" else sign for sign in text)
