"""The open document: the newest project, its analysis, the pose that is looked at, and every step back.

One way round: a gesture makes a new `Project` (`kinematics.edits`, pure), the document takes it, analyses it and
tells everyone. Widgets hold no project of their own; they listen to `changed(project)` and `analysed(analysis)`, and
to `posed(pose)` when only the opening moves.

*Followers*: during a drag the board comes first. It listens to `analysed`, once for every move; what stands beside it
(checks, travel strip, exact entry) to `followed`, which comes once the board is painted, and not again within
`FOLLOW_MS`. At all other times both come together.

*Step*: a project with the label of what led away from it. As a `Project` is a frozen value whose untouched parts are
shared, the stack has no bound.
*Drag*: `begin(label)`, then `preview(project)` on every move, then `commit()` or `cancel()`: one step, or none when
nothing changed. Moves that arrive within one turn of the event loop cost one analysis, of the last of them.
*Wish*: the opening (or, for a panel that slides, the place along the branch) that was asked for last. It outlives the
analyses: where the new sweep ends earlier the pose stops there, and returns as soon as the sweep reaches that far
again.
*Settled*: whatever is taken has its masses that follow what is drawn worked out (`kinematics.weighing.settled`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QElapsedTimer, QObject, Qt, QTimer, Signal

from app.lengths import LengthStyle
from app.preferences import Preferences
from kinematics.errors import HingewrightError
from kinematics.loading import has_load
from kinematics.plate_grips import grips
from kinematics.weighing import settled

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import Pose


FOLLOW_MS = 40  # words need not change more often than they can be read


class Analyser(Protocol):
    """What `kinematics.analyse` does; tests put something smaller in its place."""

    def __call__(self, project: Project, steps: int = 181, near: Analysis | None = None) -> Analysis:
        """All numbers of a project; `near` is an earlier analysis, taken as first guess."""


@dataclass(frozen=True, slots=True)
class Selection:
    """What is selected: `kind` is "pivot", "link", "outline", "mark", "measure", "zone", "mass" (these two by what they
    go by), "handle" or "device"; `part` the number of a point of an outline or zone, of a device's end, of a grip of a
    link's plate, or None.
    """

    kind: str
    id: str
    part: int | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """A project to return to, and what was done between it and the one after (or before) it."""

    label: str
    project: Project


class News(str):
    """A sentence that tells what was done, not what went wrong; it goes by itself once it was read."""

    __slots__ = ()


class Document(QObject):
    """The project that is open. All edits pass through here; errors leave as sentences by `noticed`."""

    changed = Signal(object)  # Project
    analysed = Signal(object)  # Analysis
    followed = Signal(object)  # Analysis: the newest, for what may come a little after the board
    posed = Signal(object)  # Pose
    selected = Signal(object)  # Selection | None
    noticed = Signal(str)
    outlived = Signal(str)  # the sentence of an attempt that failed, once a later one worked
    told = Signal(str)  # something was done, such as a file written: no fault
    saving = Signal()  # the file is about to be written
    file_changed = Signal()
    restyled = Signal()  # other preferences: lengths may be told in other words

    def __init__(
        self, project: Project | None = None, parent: QObject | None = None, analyser: Analyser | None = None
    ) -> None:
        """Open `project`, or an empty one: a fixed link and a panel, nothing drawn."""
        super().__init__(parent)
        self._analyse = analyser or _default_analyser()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self.flush)
        self._following = QTimer(self)
        self._following.setSingleShot(True)
        self._following.setTimerType(Qt.TimerType.PreciseTimer)  # others come in steps of some ms
        self._following.timeout.connect(self._on_following)
        self._lets_paint = False  # the turn of the event loop in which the board is painted is still to come
        self._refusal = ""  # what was said of the last attempt, where it failed
        self._since = QElapsedTimer()  # followers were told last
        self._done: list[Step] = []
        self._undone: list[Step] = []
        self._drag: Step | None = None
        self._drag_base: Analysis | None = None
        self._committed: tuple[Step, Project, Analysis] | None = None  # the last drag: its step, what it made, its base
        self._selections: tuple[Selection, ...] = ()
        self._path: Path | None = None
        self._preferences, self._habits = Preferences(), LengthStyle()
        self._wish_deg, self._wish_arc = 0.0, 0.0
        self._saved: Project | None = None  # what the file holds, None where that is known to be something else
        self._project = self._saved = self._analysed_project = project or blank_project()
        self._analysis = self._analyse(self._project)
        self._pose = self._wished_pose()

    # What is open ----------------------------------------------------------------------------------------------------

    @property
    def project(self) -> Project:
        """The newest project, a previewed one included."""
        return self._project

    @property
    def analysis(self) -> Analysis:
        """The newest analysis. While moves are queued it is one turn of the event loop behind `project`."""
        return self._analysis

    @property
    def pose(self) -> Pose:
        """Where the linkage is shown."""
        return self._pose

    @property
    def selection(self) -> Selection | None:
        """What is selected, or None; of several the one that was selected last."""
        return self._selections[-1] if self._selections else None

    @property
    def selections(self) -> tuple[Selection, ...]:
        """All that is selected, in the order in which it was."""
        return self._selections

    @property
    def units(self) -> LengthStyle:
        """How lengths are told and typed: the project's units, with the builder's habits."""
        return replace(self._habits, units=self._project.display_units)

    @property
    def preferences(self) -> Preferences:
        """What the builder has set for the whole program."""
        return self._preferences

    def set_preferences(self, preferences: Preferences, system_comma: bool = False) -> None:
        """Work by other preferences from now on; the project, its units too, stays as it is.

        system_comma : whether the desktop writes decimals behind a comma.
        """
        habits = preferences.habits(system_comma)
        is_same = (preferences, habits) == (self._preferences, self._habits)
        self._preferences, self._habits = preferences, habits
        if not is_same:
            self.restyled.emit()

    @property
    def path(self) -> Path | None:
        """The file this was opened from or saved to last, or None."""
        return self._path

    @property
    def saved(self) -> Project | None:
        """What the file holds (what it began with, when it has none); None where that is something else by now."""
        return self._saved

    @property
    def is_modified(self) -> bool:
        """Whether the project differs from what the file holds (from what it began with, when it has none)."""
        return self._project is not self._saved and self._project != self._saved

    @property
    def drag_base(self) -> Analysis | None:
        """The analysis from before the drag that is under way: what changes are told against. None between drags."""
        return self._drag_base

    @property
    def is_dragging(self) -> bool:
        """Whether a drag is under way."""
        return self._drag is not None

    # One drag, one step ----------------------------------------------------------------------------------------------

    def tell(self, sentence: str) -> None:
        """Tell news by `told`, and anything else, which is to be minded, by `noticed`."""
        (self.told if isinstance(sentence, News) else self.noticed).emit(sentence)

    def refuse(self, sentence: str) -> None:
        """Tell by `noticed` why an attempt failed; it holds until one works."""
        self._refusal = sentence
        self.noticed.emit(sentence)

    def _outlive(self) -> None:
        refusal, self._refusal = self._refusal, ""
        if refusal:
            self.outlived.emit(refusal)

    def begin(self, label: str) -> None:
        """Begin a drag that will be one step called `label`. A drag that is under way is committed first."""
        self.commit()
        self._drag = Step(label, self._project)
        self._drag_base = self._analysis

    def preview(self, project: Project) -> None:
        """Take `project` as the newest. The analysis follows once this turn of the event loop is over; the last one
        wins.
        """
        if self._drag is None:
            message = "preview() outside begin() … commit()"
            raise RuntimeError(message)
        self._project = settled(project)
        self._timer.start()

    def commit(self) -> None:
        """End the drag with one step, or with none when the project is what it was. Does nothing between drags."""
        drag = self._drag
        if drag is None:
            return
        self.flush()
        base, self._drag, self._drag_base = self._drag_base, None, None
        if self._project != drag.project:
            self._push(drag)
            self._committed = (drag, self._project, base) if base is not None else None
        self.changed.emit(self._project)  # for those that stand still during a drag
        self._tell_analysed()

    def resume(self) -> bool:
        """Go on with the drag that was committed last, as if it had not ended; False where anything came since."""
        if self._drag is not None or self._committed is None:
            return False
        drag, project, base = self._committed
        self._committed = None
        if not self._done or self._done[-1] is not drag or self._project is not project:
            return False
        self._done.pop()
        self._drag, self._drag_base = drag, base
        return True

    def cancel(self) -> None:
        """End the drag as if it had never begun. Does nothing between drags."""
        drag, base = self._drag, self._drag_base
        if drag is None or base is None:
            return
        self._timer.stop()
        self._drag = None
        self._drag_base = None
        self._project = drag.project
        self.changed.emit(self._project)
        self._take(base)

    def flush(self) -> None:
        """Analyse the newest project now, if that has not been done."""
        self._timer.stop()
        if self._analysed_project is self._project:
            return
        self._drop_dead_selection()
        self.changed.emit(self._project)
        self._analysed_project = self._project
        self._take(self._analyse(self._project, near=self._analysis))

    def apply(self, label: str, project: Project) -> None:
        """Take `project` as one step called `label`; no step when it equals the newest one."""
        self.commit()
        project = settled(project)
        if project == self._project:
            return
        self._push(Step(label, self._project))
        self._project = project
        self.flush()

    def attempt(self, label: str, edit: Callable[[Project], Project]) -> bool:
        """Take what `edit` makes of the newest project as one step; False and a notice when it can't be."""
        self.commit()
        try:
            self.apply(label, edit(self._project))
        except HingewrightError as error:
            self.refuse(str(error))
            return False
        self._outlive()
        return True

    # Back and forth --------------------------------------------------------------------------------------------------

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return bool(self._done)

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to take again."""
        return bool(self._undone)

    @property
    def undo_label(self) -> str:
        """What undo would take back, or ""."""
        return self._done[-1].label if self._done else ""

    @property
    def redo_label(self) -> str:
        """What redo would do again, or ""."""
        return self._undone[-1].label if self._undone else ""

    def undo(self) -> None:
        """Take the last step back; during a drag, give the drag up instead."""
        if self._drag is not None:
            self.cancel()
        else:
            self._swap(self._done, self._undone)

    def redo(self) -> None:
        """Do again what undo took back last."""
        self.commit()
        self._swap(self._undone, self._done)

    # The pose, the selection -----------------------------------------------------------------------------------------

    def set_opening(self, deg: float) -> None:
        """Show the pose at this opening, degrees from shut; beyond what is reached, the last pose."""
        self._show(self._analysis.pose(deg), deg)

    def set_arc(self, arc: float) -> None:
        """Show the pose at this place along the branch (0 at shut): the way to move a panel that slides."""
        self._show(self._analysis.along(arc), None)

    def set_pose(self, pose: Pose) -> None:
        """Show a pose of the newest analysis."""
        self._show(pose, None)

    def select(self, selection: Selection | None) -> None:
        """Select something alone, or nothing with None."""
        self.select_all(() if selection is None else (selection,))

    def select_all(self, selections: Iterable[Selection]) -> None:
        """Select several things, the last of them first of all; no other. What the project doesn't hold is left out: a
        list that is brought up to date later may still name what has just gone.
        """
        chosen = tuple(each for each in dict.fromkeys(selections) if exists(self._project, each))
        if chosen != self._selections:
            self._selections = chosen
            self.selected.emit(self.selection)

    def select_also(self, selection: Selection) -> None:
        """Select one thing more, or, if it is selected, no longer."""
        others = tuple(each for each in self._selections if each != selection)
        self.select_all(others if len(others) < len(self._selections) else (*others, selection))

    # Files -----------------------------------------------------------------------------------------------------------

    def new(self, project: Project | None = None) -> None:
        """Begin another project (an empty one with None), without a file. What was open is let go; ask first."""
        self._set_afresh(project or blank_project(self._preferences.units), None)
        self._tell_all()

    def open(self, path: Path | str) -> bool:
        """Open a project file. False, a sentence by `noticed` and the open work untouched when it can't be used."""
        from app.files import load

        try:
            project = load(Path(path))
        except HingewrightError as error:
            self.noticed.emit(str(error))
            return False
        self._set_afresh(project, Path(path))
        self._tell_all()
        return True

    def save(self, path: Path | str | None = None) -> bool:
        """Save to `path`, or to the file it came from; what the file held becomes a backup. False and a notice when
        that fails; the work stays.
        """
        from app.files.backups import save_with_backup

        self.commit()
        target = Path(path) if path is not None else self._path
        if target is None:
            message = "save() without a path for a project that has none"
            raise RuntimeError(message)
        self.saving.emit()
        try:
            missing_backup = save_with_backup(self._project, target)
        except HingewrightError as error:
            self.noticed.emit(str(error))
            return False
        self._path = target
        self._saved = self._project
        self.file_changed.emit()
        if missing_backup:
            self.noticed.emit(missing_backup)
        return True

    def reload(self) -> bool:
        """Take what the file holds now as one step, which counts as saved. False and a notice when it can't be used."""
        from app.files import load

        if self._path is None:
            return False
        try:
            project = load(self._path)
        except HingewrightError as error:
            self.noticed.emit(str(error))
            return False
        self.apply(f"Reload {self._path.name}", project)
        self._saved = self._project
        self.file_changed.emit()
        return True

    def disown_file(self) -> None:
        """Know that the file holds this work no more: all of it counts as not saved."""
        self._saved = None
        self.file_changed.emit()

    def leave_file(self) -> None:
        """Go on without a file, as work that has never been saved; the file stays as it is."""
        self._path = None
        self.disown_file()

    # Inside ----------------------------------------------------------------------------------------------------------

    def _set_afresh(self, project: Project, path: Path | None) -> None:
        """Forget all that belonged to the last project. The analysis comes first: if it fails, nothing is forgotten."""
        analysis = self._analyse(project)
        self._timer.stop()
        self._project = self._saved = self._analysed_project = project
        self._path = path
        self._done.clear()
        self._undone.clear()
        self._drag = self._drag_base = self._committed = None
        self._selections = ()
        self._wish_deg = self._wish_arc = 0.0
        self._analysis = analysis
        self._pose = self._wished_pose()

    def _tell_all(self) -> None:
        self.changed.emit(self._project)
        self._tell_analysed()
        self.posed.emit(self._pose)
        self.selected.emit(None)  # after the analysis: who draws the selection has the last one's readings until then
        self.file_changed.emit()

    def _push(self, step: Step) -> None:
        self._done.append(step)
        self._undone.clear()
        self._outlive()

    def _swap(self, source: list[Step], target: list[Step]) -> None:
        """Move one step from one stack to the other and show the project that it leads to."""
        if not source:
            return
        step = source.pop()
        target.append(Step(step.label, self._project))
        self._project = step.project
        self.flush()

    def _take(self, analysis: Analysis) -> None:
        """Make `analysis` the newest; the pose is found again before anyone is told, so both fit together."""
        self._analysis = analysis
        self._analysed_project = self._project
        self._pose = self._wished_pose()
        self._tell_analysed()
        self.posed.emit(self._pose)

    def _tell_analysed(self) -> None:
        """Tell of the newest analysis; during a drag followers wait until the board is painted."""
        self.analysed.emit(self._analysis)
        if not self.is_dragging:
            self._tell_followers()
            return
        since = self._since.elapsed() if self._since.isValid() else FOLLOW_MS
        self._lets_paint = True
        self._following.start(max(FOLLOW_MS - since, 0))

    def _on_following(self) -> None:
        """A timer comes before the paint that is due in the same turn."""
        if self._lets_paint:
            self._lets_paint = False
            self._following.start(0)
        else:
            self._tell_followers()

    def _tell_followers(self) -> None:
        self._following.stop()
        self._lets_paint = False  # whatever was waited for
        self._since.start()
        self.followed.emit(self._analysis)

    def _wished_pose(self) -> Pose:
        if self._analysis.state == "slides":
            return self._analysis.along(self._wish_arc)
        return self._analysis.pose(self._wish_deg)

    def _show(self, pose: Pose, wish_deg: float | None) -> None:
        self._pose = pose
        self._wish_deg = pose.deg if wish_deg is None else wish_deg
        self._wish_arc = pose.arc
        self.posed.emit(pose)

    def _drop_dead_selection(self) -> None:
        self.select_all(each for each in self._selections if exists(self._project, each))


def exists(project: Project, selection: Selection) -> bool:
    """Whether a project still holds what is selected."""
    if selection.kind == "zone":
        known = selection.id in project.zone_names
        return known and (selection.part is None or 0 <= selection.part < len(project.zone(selection.id).points))
    parts: dict[str, tuple[object, ...]] = {
        "pivot": project.pivots,
        "link": project.links,
        "outline": project.outlines,
        "mark": project.marks,
        "measure": project.measures,
    }
    if selection.kind in ("mass", "handle", "device"):
        return has_load(project, selection.kind, selection.id, selection.part)
    found = next((p for p in parts.get(selection.kind, ()) if getattr(p, "id", None) == selection.id), None)
    if found is None or selection.part is None:
        return found is not None
    if selection.kind == "link":
        return selection.part < len(grips(project, selection.id))
    return 0 <= selection.part < len(getattr(found, "points", ()))


def blank_project(units: str = "mm") -> Project:
    """A project with nothing drawn, in these units: the vehicle's body as the fixed link, and the panel."""
    from kinematics.project import Link, Project, Travel

    return Project(
        title="Untitled hinge",
        display_units="in" if units == "in" else "mm",
        links=(Link(id="body", kind="fixed"), Link(id="panel", kind="panel")),
        travel=Travel(opens="anticlockwise", wanted_deg=75.0),
    )


def _default_analyser() -> Analyser:
    """The real one, imported late: it loads scipy and shapely."""
    from kinematics import analyse

    return analyse
