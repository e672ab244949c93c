"""The rows of what a mass is made of: as typed, or by what is drawn, which it then follows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from app.lettering import breakable
from app.materials import materials, names_for
from app.quantities import DENSITY, SHARE
from kinematics import loading
from kinematics.errors import HingewrightError
from kinematics.loads import Loads
from kinematics.parts import MadeOf
from kinematics.plate_edits import has_plate

if TYPE_CHECKING:
    from app.entry.form import Form
    from app.fields import Field
    from app.quantities import Quantity
    from kinematics.project import Project

TYPED, PLATES = "typed", "plates"
SHEET, SOLID = "sheet:", "solid:"
ACROSS = 1000.0
"""Mm across the body that an outline is taken to be, where nobody said how wide the panel is."""
SHEET_MM = 1.2
"""Thickness of sheet to begin with."""
OWN = ""
"""The choice of a material whose density was typed."""
AS_BUILT = "Shape, thickness, material and number are those of the link's plates in the drawer Build."


class MadeOfRows:
    """The rows in a mass's form."""

    def __init__(self, form: Form, name: str) -> None:
        self._form, self._name = form, name
        project = form.document.project
        self.weighs = form.choice(
            "Weighs", f"Set what mass {name} follows", "As typed, or by what is drawn: then mass and place follow it.",
            ways(project, loading.mass_named(project, name).on), self._follow,
        )  # fmt: skip
        form.on_refresh(lambda now: self.weighs.choose(way_of(self._of(now))))
        made = self._of(project)
        if made is None:
            return
        if made.outline is None and has_plate(project, loading.mass_named(project, name).on):
            form.told(AS_BUILT)
            return
        if made.thickness is not None:
            self.thickness = self._length("thickness", "Thickness", "How thick sheet or plate is.")
        if made.outline is not None:
            self.across = self._length("across", "Across", "How wide it is across the body.")
        self.material = form.choice(
            "Material", f"Set the material of mass {name}", "What it is made of; the density is that of a table.",
            [(OWN, "density as typed"), *((each, each) for each in _names(made))], self._take_material,
        )  # fmt: skip
        form.on_refresh(lambda now: self.material.choose(_material_of(self._of(now))))
        self.density = self._figure("density", "Density", "Of the material.", DENSITY)
        self.source = form.told("")
        form.on_refresh(lambda now: self.source.setText(breakable(_source(self._of(now)))))
        self.count = form.count(
            "How many", f"Set how many of mass {name}", "So many of them, in all hinges together.",
            lambda now: self._made(now).count, lambda now, count: self._change(now, count=count),
        )  # fmt: skip
        self.extra = self._figure(
            "extra", "On top", "Folded edges, ribs and paint, as a share of it: about 10 to 20 % for a folded skin "
            "(common practice, no source).", SHARE,
        )  # fmt: skip

    @staticmethod
    def shape(project: Project, name: str) -> object:
        """Say when other rows are needed: for another way of weighing, and for other outlines or links."""
        mass = loading.mass_named(project, name)
        return way_of(mass.made_of), ways(project, mass.on), has_plate(project, mass.on)

    def _of(self, project: Project) -> MadeOf | None:
        return loading.mass_named(project, self._name).made_of

    def _made(self, project: Project) -> MadeOf:
        return self._of(project) or MadeOf(1.0, 1.0)

    def _change(self, project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field of what it is made of
        return loading.follow_drawing(project, self._name, replace(self._made(project), **fields))

    def _length(self, key: str, label: str, tip: str) -> Field[float]:
        step = f"Set {label.lower()} of mass {self._name}"
        return self._form.length(
            label, step, tip, lambda now: float(getattr(self._made(now), key) or 0.0),
            lambda now, value: self._change(now, **{key: value}),
        )  # fmt: skip

    def _figure(self, key: str, label: str, tip: str, quantity: Quantity) -> Field[float]:
        def edit(project: Project, value: float) -> Project:
            own = {"material": ""} if key == "density" else {}
            return self._change(project, **{key: value}, **own)

        step = f"Set {label.lower()} of mass {self._name}"
        return self._form.quantity(label, step, tip, quantity, lambda now: float(getattr(self._made(now), key)), edit)

    def _follow(self, project: Project, way: str) -> Project:
        if way == TYPED:
            return loading.follow_no_more(project, self._name)
        return loading.follow_drawing(project, self._name, begun(project, way))

    def _take_material(self, project: Project, material: str) -> Project:
        row = next((each for each in materials() if each.name == material), None)
        density = self._made(project).density if row is None else row.density
        return self._change(project, material=material, density=density)


def ways(project: Project, on: str) -> tuple[tuple[str, str], ...]:
    """The ways in which a mass on a link may weigh, and their words: as typed, and by what is drawn of that link."""
    link = project.link(on)
    found = [(TYPED, "as typed")]
    if link.kind == "link" and (link.width > 0.0 or has_plate(project, on)):
        found.append((PLATES, f"plates of {on}"))
    for outline in (each for each in project.outlines if each.on == on):
        found.append((f"{SHEET}{outline.id}", f"sheet along {outline.id}"))
        if outline.closed:
            found.append((f"{SOLID}{outline.id}", f"solid within {outline.id}"))
    return tuple(found)


def way_of(made: MadeOf | None) -> str:
    """The way in which something weighs."""
    if made is None:
        return TYPED
    if made.outline is None:
        return PLATES
    return f"{SOLID if made.thickness is None else SHEET}{made.outline}"


def begun(project: Project, way: str) -> MadeOf:
    """What a mass is made of to begin with, for a way of weighing."""
    across = (None if project.loads is None else project.loads.across) or ACROSS
    if way == PLATES:
        return first_plates(project)
    kind, _, outline = way.partition(":")
    if kind + ":" == SOLID:
        return _of_material("birch plywood", outline=outline, across=across)
    if kind + ":" != SHEET:
        raise HingewrightError(f"nothing weighs by {way}")
    return _of_material("EN AW-5754 H111", thickness=SHEET_MM, outline=outline, across=across)


def first_plates(project: Project) -> MadeOf:
    """What a link's plates are made of to begin with: as thick and as many as those that are cut where nobody says
    otherwise, of all hinges together.
    """
    usual = project.plating.common
    hinges = Loads().hinges if project.loads is None else project.loads.hinges
    return _of_material(names_for("plate")[0], thickness=usual.thickness, count=(usual.count or 1) * hinges)


def _of_material(name: str, **fields: Any) -> MadeOf:  # noqa: ANN401  any field of what it is made of
    density = next(each.density for each in materials() if each.name == name)
    return MadeOf(density, material=name, **fields)


def _names(made: MadeOf) -> tuple[str, ...]:
    """Materials to choose from; plates are cut of what plates are made of."""
    return names_for("plate" if made.outline is None else "sheet")


def _material_of(made: MadeOf | None) -> str:
    return made.material if made is not None and made.material in _names(made) else OWN


def _source(made: MadeOf | None) -> str:
    """Where the density is from."""
    row = next((each for each in materials() if made is not None and each.name == made.material), None)
    return "" if row is None else f"Density: {row.origin}."
