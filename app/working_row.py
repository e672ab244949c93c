"""What is said while figures are worked out beside the window: that they are, and a button to stop or begin it.

During a drag nothing is said: a row that comes and goes would shift what stands beneath it under the hand.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.drawers.lift_box import paragraph, say
from app.entry.form import push_button
from app.layout_job import FAILED, NOTHING, RESTS, STOPPED

if TYPE_CHECKING:
    from app.layout_job import LayoutJob

STOP, AGAIN = "Stop", "Work it out"
STOP_TIP = "Leave it; the layout stays as it is."
OLD = "What is shown faint is of the layout before."


class WorkingRow(QWidget):
    """The sentence and the button; hidden where all is up to date."""

    def __init__(self, job: LayoutJob) -> None:
        super().__init__()
        self._job = job
        self.words = paragraph()
        self.button = push_button(STOP, STOP_TIP, self._press)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.words, 1)
        row.addWidget(self.button)
        self.renew()

    def renew(self) -> None:
        """Say what there is to say now."""
        job = self._job
        words = [job.why if job.state == FAILED else job.words.get(job.state, "")]
        if words[0] and job.last is not None:
            words.append(OLD)
        say(self.words, [" ".join(words).strip()])
        text, tip = (AGAIN, job.asks) if job.state in (STOPPED, FAILED) else (STOP, STOP_TIP)
        self.button.setText(text)
        self.button.setAccessibleName(text)
        self.button.setToolTip(tip)
        self.setVisible(job.state not in (NOTHING, RESTS))

    def _press(self) -> None:
        if self._job.state in (STOPPED, FAILED):
            self._job.go_on()
        else:
            self._job.stop()
