"""What a screen reader finds: every interface below a widget, through Qt's own accessibility, told in plain values.

Plain, because an interface must not be held: once its widget is gone its address may be another object's, and PySide
would take the one for the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtGui import QAccessible, QAction
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from PySide6.QtGui import QAccessibleInterface

Role, Text = QAccessible.Role, QAccessible.Text
CONTROLS = {
    Role.Button, Role.CheckBox, Role.RadioButton, Role.EditableText, Role.ComboBox, Role.SpinBox, Role.Slider,
    Role.Dial, Role.List, Role.ListItem, Role.Table, Role.Tree, Role.Cell, Role.RowHeader, Role.ColumnHeader,
    Role.MenuItem, Role.PageTab, Role.Link,
}  # fmt: skip
LISTS = (Role.Table, Role.List, Role.Tree)


@dataclass(frozen=True, slots=True)
class Found:
    """One thing: what it is, what a screen reader says first, what it says beyond that, and what a tool tip teaches.

    is_control : whether a person does something with it: by its role, or because the keyboard can reach it.
    """

    role: QAccessible.Role
    widget: str
    name: str
    description: str
    tip: str
    is_control: bool


def everything(widget: QWidget, most_cells: int = 60) -> list[Found]:
    """Give what is seen below a widget, itself included; of a long table its first cells only."""
    root = QAccessible.queryAccessibleInterface(widget)
    assert root is not None
    found: list[Found] = []
    waiting = [root]
    while waiting:
        here = waiting.pop()
        if not here.isValid() or (here.state().invisible and here.role() != Role.MenuItem):
            continue
        found.append(told(here))
        count = min(here.childCount(), most_cells) if here.role() in LISTS else here.childCount()
        waiting += [child for number in range(count) if (child := here.child(number)) is not None]
    return found


def told(here: QAccessibleInterface) -> Found:
    """Put an interface into plain values. On Linux a choice's name is what is chosen, and its label another thing."""
    thing, role = here.object(), here.role()
    name, description, tip = here.text(Text.Name), here.text(Text.Description), ""
    if isinstance(thing, QWidget):
        name = thing.accessibleName() if role == Role.ComboBox else name
        tip = thing.toolTip() or thing.accessibleDescription()
    elif isinstance(thing, QAction):
        tip = thing.toolTip()
    elif thing is None or role in (Role.Cell, Role.ListItem, Role.ColumnHeader, Role.RowHeader):
        tip = "its table's"
    return Found(
        role, type(thing).__name__, name.strip(), description, tip, role in CONTROLS or bool(here.state().focusable)
    )
