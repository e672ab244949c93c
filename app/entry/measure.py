"""What is told of a selected measure: its name, what it measures, and its figure at the pose shown."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.entry.form import Form
from app.lettering import breakable
from app.measure_words import measure_words, reading_words
from kinematics import edits

if TYPE_CHECKING:
    from app.document import Document
    from kinematics.project import Project


class MeasureForm(Form):
    """A measure's name and figure."""

    def __init__(self, document: Document, measure_id: str) -> None:
        super().__init__(document)
        self._id = measure_id
        self.rename("measure", measure_id, edits.rename_measure)
        self.what = self.told("")
        self.figure = self.heading("")
        self.on_refresh(self._tell)
        document.posed.connect(self._tell_figure)
        self.button(
            "Remove measure",
            "Take this measure off the board (Del). What it measures stays as it is.",
            lambda: document.attempt(
                f"Remove measure {self._id}", lambda project: edits.remove_measure(project, self._id)
            ),
        )
        self.end()

    @staticmethod
    def shape(project: Project, measure_id: str) -> object:
        """Say when other rows are needed: never, for one measure."""
        return project.measure(measure_id).kind

    def _tell(self, project: Project) -> None:
        words = measure_words(project.measure(self._id))
        self.what.setText(breakable(f"{words[:1].upper()}{words[1:]}."))
        self._tell_figure()

    def _tell_figure(self, _: object = None) -> None:
        """Say the figure as it is at the pose shown; while the analysis is behind the project, as it was."""
        from kinematics.measuring import Readings

        analysis = self.document.analysis
        measure = next((each for each in analysis.project.measures if each.id == self._id), None)
        if measure is not None:
            reading = Readings(analysis).read(self.document.pose, measure)
            self.figure.setText(reading_words(measure, reading, self.units))
