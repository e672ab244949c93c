"""Which page is about what one is at: F1 opens it.

The part that has the focus counts first; in exact entry what is selected. On the board, which has the focus mostly, the
part counts that the pointer is on; else the open drawer, as that says which stage one is at, else what is selected.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.drawers.adjusters_box import AdjustersBox
from app.drawers.as_made_box import AsMadeBox
from app.drawers.cutting_box import CuttingBox
from app.drawers.devices_box import DevicesBox
from app.drawers.handle_box import HandleBox
from app.drawers.hinges_box import FrictionBox, HingesBox
from app.drawers.keep_clear import KeepClearBox
from app.drawers.lift_wants_box import LiftWantsBox
from app.drawers.mount_box import MountBox
from app.drawers.setout_box import SetOutBox
from app.drawers.stack_box import StackBox
from app.drawers.starts import StartsBox
from app.drawers.templates_box import TemplatesBox
from app.drawers.toe_box import ToeBox
from app.drawers.wall_box import WallBox
from app.drawers.weigh_box import WeighBox
from app.drawers.weights_box import WeightsBox
from app.entry.panel import EntryPanel
from app.entry.parts_page import PartsPage
from app.entry.wants import WantsForm
from app.help.pages import FIRST, ORDER

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

PARTS = {"strip": "strip", "side": "checks", "toolbox": "tools", "rail": FIRST, "help": FIRST, "notice": "keeping"}
"""Places of the help by the object name of a part of the window."""
KINDS = {
    "pivot": "pins",
    "link": "pins",
    "measure": "tools#measure",
    "outline": "trace",
    "mark": "trace#marks",
    "mass": "lift#weights",
    "handle": "lift#handle-hinges-and-width",
    "device": "lift#struts-and-springs",
}
"""Places by the kind of what is selected."""
FORMS: tuple[tuple[type[QWidget], str], ...] = (
    (WantsForm, "checks#the-kinds-of-check"),
    (PartsPage, "tools#the-list-of-parts"),
    (KeepClearBox, "trace#what-is-in-the-way"),
    (StartsBox, "pins#begin-from-a-start"),
    (WeightsBox, "lift#weights"),
    (WeighBox, "lift#weigh-it-on-two-supports"),
    (HandleBox, "lift#handle-hinges-and-width"),
    (HingesBox, "lift#handle-hinges-and-width"),
    (DevicesBox, "lift#struts-and-springs"),
    (LiftWantsBox, "lift#wants-of-lifting"),
    (FrictionBox, "lift#temperature-and-friction"),
    (StackBox, "build#layers-and-stack"),
    (ToeBox, "build#parallel-hinges"),
    (CuttingBox, "build#files-for-the-cutter"),
    (MountBox, "build#held-at-panel-and-wall"),
    (AdjustersBox, "build#held-at-panel-and-wall"),
    (AsMadeBox, "build#as-made"),
    (TemplatesBox, "build#templates-for-the-drill"),
    (WallBox, "wall"),
    (SetOutBox, "wall#marks-on-the-wall"),
)
"""Places by the form that the focus is in."""


def page_for(widget: QWidget | None, drawer: str, kind: str) -> str:
    """Give the place of the help on what one is at.

    widget : what has the focus, or what the pointer is on.     drawer : name of the open drawer, "" for none.
    kind : of what is selected, or "".
    """
    place = place_of(widget, kind)
    if place:
        return place
    stage = drawer.lower()
    return stage if stage in ORDER else KINDS.get(kind, FIRST)


def place_of(widget: QWidget | None, kind: str) -> str:
    """Give the place of the help on the part of the window that a control is in, "" for one without a page of its own.

    kind : of what is selected, or "".
    """
    while widget is not None:
        for form, place in FORMS:
            if isinstance(widget, form):
                return place
        if isinstance(widget, EntryPanel) and kind in KINDS:
            return KINDS[kind]
        if widget.objectName() in PARTS:
            return PARTS[widget.objectName()]
        widget = widget.parentWidget()
    return ""
