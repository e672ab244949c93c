"""Exact entry of a mass, of the handle, and of a strut or spring."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from app.board.load_hands import turn_round
from app.device_words import device_sentence
from app.document import Selection
from app.entry.form import Form
from app.entry.made_of_rows import MadeOfRows
from app.lettering import breakable
from app.quantities import FORCE, MASS, MOMENT, MOMENT_RATE, NUMBER, RATE
from app.removing import remove
from kinematics import loading
from kinematics.spanning import coil_of, rod_of, tube_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from app.entry.form import ChoiceBox
    from app.fields import Field
    from app.quantities import Quantity
    from kinematics.parts import Device
    from kinematics.project import Point, Project

RIGHT = "How far right of the origin {} while the panel is shut."
ABOVE = "How far above the origin {} while the panel is shut."
CAUTION = (
    "Gas struts are under pressure, and springs under tension: support the panel while you fit or take out one. A "
    "cold or worn strut holds less. Never open, drill or heat a strut."
)
KINDS = (
    ("gas strut", "gas strut"),
    ("tension spring", "tension spring (pulls)"),
    ("compression spring", "compression spring (pushes)"),
    ("torsion spring", "torsion spring (turns)"),
)


class LoadForm(Form):
    """Rows that masses, the handle and devices have in common."""

    def __init__(self, document: Document, kind: str, id_: str) -> None:
        super().__init__(document)
        self._kind, self._id = kind, id_

    @staticmethod
    def links_of(project: Project) -> tuple[str, ...]:
        """Give the links on which loads can be, by id."""
        return tuple(link.id for link in project.links)

    def place(self, what: str, stands: str, number: int | None = None) -> tuple[ChoiceBox, Field[float], Field[float]]:
        """Add the link of a place and its coordinates. what : its name in labels.   stands : "it stands", for tips."""
        kind, id_ = self._kind, self._id

        def at(project: Project) -> Point:
            return loading.spot_of(project, kind, id_, number).at

        def put(project: Project, x: float, y: float) -> Project:
            return loading.move_spot(project, kind, id_, (x, y), number)

        links = [(name, name) for name in self.links_of(self.document.project)]
        tip = "The link that it rides on. The place stays where it is while the panel is shut."
        on = self.choice("On", f"Set the link of {what}", tip, links, partial(self._ride, number))
        on.activated.connect(self._select_again)
        self.on_refresh(lambda project: on.choose(loading.spot_of(project, kind, id_, number).on))
        label = f"Move {what}"
        x = self.length("x", label, RIGHT.format(stands), lambda p: at(p)[0], lambda p, value: put(p, value, at(p)[1]))
        y = self.length("y", label, ABOVE.format(stands), lambda p: at(p)[1], lambda p, value: put(p, at(p)[0], value))
        x.line.setAccessibleName(f"x of {what}")
        y.line.setAccessibleName(f"y of {what}")
        return on, x, y

    def _ride(self, number: int | None, project: Project, on: str) -> Project:
        return loading.ride_spot(project, self._kind, self._id, on, number)

    def _select_again(self) -> None:
        """Let a thing stay selected under the name that it has on another link."""

    def remover(self, words: str, tip: str) -> None:
        """Add the button that takes it out, and end the form."""
        self.button(words, tip, lambda: remove(self.document, Selection(self._kind, self._id)))
        self.end()


class MassForm(LoadForm):
    """A mass: how heavy, on which link, where its centre of gravity is."""

    def __init__(self, document: Document, name: str) -> None:
        super().__init__(document, "mass", name)
        self._number = loading.mass_place(document.project, name)
        self.mass_field = self.quantity(
            "Mass",
            f"Set mass {name}",
            "How much it weighs, for the whole panel with all its hinges.",
            MASS,
            lambda project: loading.mass_named(project, name).mass,
            lambda project, mass: loading.change_mass(project, name, mass=mass),
        )
        self.on, self.x_field, self.y_field = self.place(f"mass {name}", "its centre of gravity stands")
        self.made_of = MadeOfRows(self, name)
        self.remover("Remove mass", "Take this mass out (Del).")

    @staticmethod
    def shape(project: Project, name: str) -> object:
        """Say when other rows are needed: when there are other links, or for another way of weighing."""
        return LoadForm.links_of(project), MadeOfRows.shape(project, name)

    def _select_again(self) -> None:
        names = loading.mass_names(self.document.project)
        if self.document.selection is None and self._number < len(names):
            self.document.select(Selection("mass", names[self._number]))


class HandleForm(LoadForm):
    """Where the hand lifts."""

    def __init__(self, document: Document, name: str) -> None:
        super().__init__(document, "handle", name)
        self.on, self.x_field, self.y_field = self.place("handle", "the hand takes hold")
        self.told("The push is told along the handle's path, with the panel held still there.")
        self.remover("Remove handle", "Say no longer where the hand lifts (Del): then no push can be told.")

    @staticmethod
    def shape(project: Project, _name: str) -> object:
        """Say when other rows are needed: when there are other links."""
        return LoadForm.links_of(project)


class DeviceForm(LoadForm):
    """A strut or spring: its figures, and where its ends are."""

    def __init__(self, document: Document, name: str) -> None:
        super().__init__(document, "device", name)
        self.fields: dict[str, Field[float]] = {}
        kind = self._of(document.project).kind
        self.rename("device", name, loading.rename_device)
        self.kind_box = self.choice(
            "Kind",
            f"Set the kind of {name}",
            "What it is. Figures that the other kind needs begin with usual ones.",
            KINDS,
            lambda project, value: loading.change_kind(project, name, value),
        )
        self.on_refresh(lambda project: self.kind_box.choose(self._of(project).kind))
        self.count_field = self.count(
            "How many",
            f"Set how many {name}",
            "So many of them work side by side, for the whole panel with all its hinges.",
            lambda project: self._of(project).count,
            lambda project, count: loading.change_device(project, name, count=count),
        )
        {"gas strut": self._strut, "torsion spring": self._torsion}.get(kind, self._spring)()
        self.lengths = self.told("")
        self.lengths.setAccessibleName(f"Length of {name}")
        self.on_refresh(lambda _: self._tell())
        self.heading("First end" if kind != "gas strut" else "First end, of the tube")
        self.first = self.place(f"first end of {name}", "it is pinned", 0)
        self.heading("Second end" if kind != "gas strut" else "Second end, of the rod")
        self.second = self.place(f"second end of {name}", "it is pinned", 1)
        self.told(CAUTION)
        self.button("Turn round", "Let both ends change places.", lambda: turn_round(document, name))
        self.remover("Remove", "Take it out (Del).")

    @staticmethod
    def shape(project: Project, name: str) -> object:
        """Say when other rows are needed: for other links, and for another kind."""
        return LoadForm.links_of(project), loading.device_named(project, name).kind

    def _of(self, project: Project) -> Device:
        return loading.device_named(project, self._id)

    def _tell(self) -> None:
        """Say how long it is over the travel; what is told belongs to the newest analysis."""
        document = self.document
        self.lengths.setText(breakable(device_sentence(document.analysis, self._id, document.units)))

    def _figure(self, key: str, label: str, tip: str, quantity: Quantity) -> None:
        read, edit = self._reader(key), self._editor(key)
        self.fields[key] = self.quantity(label, f"Set {label.lower()} of {self._id}", tip, quantity, read, edit)

    def _long(self, key: str, label: str, tip: str, usual: Callable[[Device], float] | None = None) -> None:
        read = self._reader(key) if usual is None else (lambda project: usual(self._of(project)))
        self.fields[key] = self.length(label, f"Set {label.lower()} of {self._id}", tip, read, self._editor(key))

    def _reader(self, key: str) -> Callable[[Project], float]:
        return lambda project: float(getattr(self._of(project), key) or 0.0)

    def _editor(self, key: str) -> Callable[[Project, float], Project]:
        def edit(project: Project, value: float) -> Project:
            fields: dict[str, Any] = {key: value}
            return loading.change_device(project, self._id, **fields)

        return edit

    def _strut(self) -> None:
        self._long("extended", "Drawn out", "How long it is from pin to pin when fully drawn out.")
        self._long("stroke", "Stroke", "How far it can be pushed in from there; more than 0.")
        self._figure("force", "Force", "What one pushes with when drawn out, at 20 °C, as makers state it.", FORCE)
        self._figure("ratio", "Ratio", "How many times as hard it pushes when pushed in: often 1.2 to 1.4.", NUMBER)
        self._figure("friction", "Friction", "How it rubs, both ways; 0 where you don't know.", FORCE)
        usual = "In common use for its force, unless you type another."
        self._long("tube", "Tube", f"Diameter of the tube. {usual}", tube_of)
        self._long("rod", "Rod", f"Diameter of the rod. {usual}", rod_of)

    def _spring(self) -> None:
        pulls = self._of(self.document.project).kind == "tension spring"
        way = "longer" if pulls else "shorter"
        self._long("free", "Free length", f"How long it is from end to end with no load; {way}, it works.")
        self._figure("initial", "Initial force", "With what it begins to work, at its free length; often 0.", FORCE)
        self._figure("rate", "Rate", f"How much harder it works for each bit {way}.", RATE)
        self._long("coil", "Coil", "Outside diameter of the coil.", coil_of)

    def _torsion(self) -> None:
        tip = "How hard one turns the second end's link when shut, anticlockwise; negative: clockwise."
        self._figure("moment", "Moment", tip, MOMENT)
        self._figure("moment_rate", "Loses", "How much less for each degree that it unwinds.", MOMENT_RATE)
        self._long("coil", "Coil", "Outside diameter of the coil.", coil_of)
