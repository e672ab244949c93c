"""The notice: one sentence across the top of the board that says what went wrong or what to do; never a box that blocks
the work.

*News* tell what was done, in a plain colour, and go away by themselves. A *sentence* tells of a fault: it goes away
once it was read and the work goes on, or at once where an attempt works after the one it told of. A *question* has
buttons that answer it, and waits as long as it takes: a sentence may cover it for a while, Esc puts it away unanswered
until the next start.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, Qt, QTimer
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QLabel, QPushButton, QToolButton, QWidget

from app.fields import named
from app.lettering import opened

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QKeyEvent

LEAST_WIDTH, BESIDE_WIDTH = 360, 560  # pixels: of the bar, and of one with buttons beside the sentence
READING_MS = 5000  # a sentence stays at least so long
NEWS_MS = 8000  # news stay so long


@dataclass(frozen=True, slots=True)
class Choice:
    """An answer: the words of its button, the tip that says what comes of it, and what is done."""

    words: str
    tip: str
    act: Callable[[], object]


@dataclass(frozen=True, slots=True)
class Question:
    """Something to choose. `key`: what it is about; a newer question on the same takes its place.

    away : what putting it away says and does; without one it is asked again at the next start.
    """

    key: str
    sentence: str
    choices: tuple[Choice, ...]
    away: Choice | None = None


class Notice(QFrame):
    """Shows the last sentence until it is dismissed, another comes, or the work goes on once it was read; beneath it
    the oldest question.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self._left = self._right = 0
        self._since = QElapsedTimer()
        self._sentence = ""
        self._is_news = False
        self._leave = QTimer(self)
        self._leave.setSingleShot(True)
        self._leave.timeout.connect(self._end_news)
        self._questions: list[Question] = []
        self._shown: Question | None = None
        self.setAccessibleName("Notice")
        self._label = QLabel()
        self._label.setWordWrap(True)
        self._label.setTextFormat(Qt.TextFormat.PlainText)
        self._label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._button = QToolButton()
        self._button.setText("Dismiss")
        self._button.clicked.connect(self.dismiss)
        self._answers: list[QPushButton] = []
        self._buttons = QHBoxLayout()
        self._buttons.addStretch(1)
        self._buttons.addWidget(self._button)
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._parts.setContentsMargins(12, 8, 8, 8)
        self._parts.addWidget(self._label, 1)
        self._parts.addLayout(self._buttons)
        self._parts.setAlignment(self._buttons, Qt.AlignmentFlag.AlignTop)
        self._show()

    @property
    def sentence(self) -> str:
        """What is shown now; "" when the bar is away."""
        return self._label.text() if not self.isHidden() else ""

    @property
    def question(self) -> Question | None:
        """The question that is shown now."""
        return self._shown

    @property
    def answers(self) -> list[QPushButton]:
        """The buttons of the question that is shown now."""
        return self._answers

    def show_sentence(self, sentence: str) -> None:
        """Show a sentence of a fault, which begins with a capital here, or put the last one away with ""."""
        self._put(opened(sentence))

    def _put(self, sentence: str) -> None:
        self._leave.stop()
        self._sentence, self._is_news = sentence, False
        if sentence:
            self._since.start()
        self._show()

    def show_news(self, sentence: str) -> None:
        """Show what was done; it goes by itself after a while."""
        self._put(sentence)  # as it came: it may begin with the name of a file
        self._is_news = bool(sentence)
        self._colour()
        if sentence:
            self._leave.start(NEWS_MS)

    def _end_news(self) -> None:
        if self._is_news:
            self.show_sentence("")

    def ask(self, question: Question, *, first: bool = False) -> None:
        """Ask a question once those before it are answered; one on the same subject is taken back.

        first : before all others, as what the builder has just asked for.
        """
        others = [each for each in self._questions if each.key != question.key]
        self._questions = [question, *others] if first else [*others, question]
        self._show()

    def take_back(self, key: str) -> None:
        """Ask a question no more: it has answered itself, or speaks of what is open no longer."""
        self._questions = [each for each in self._questions if each.key != key]
        self._show()

    def dismiss(self) -> None:
        """Put away what is shown: a sentence, or a question without an answer."""
        shown = self._shown
        if self._sentence:
            self._sentence = ""
        else:
            self._questions = [each for each in self._questions if each is not shown]
        self._show()
        if shown is not None and shown.away is not None:
            shown.away.act()

    def pass_on(self) -> None:
        """Let the sentence go as the work goes on, once there was time to read."""
        if self._sentence and self._since.hasExpired(READING_MS):
            self.show_sentence("")

    def outlive(self, sentence: str) -> None:
        """Put a sentence away that holds no longer, if it is the one that is shown."""
        if self._sentence and not self._is_news and self._sentence == opened(sentence):
            self.show_sentence("")

    def fit(self, left: int | None = None, right: int | None = None) -> None:
        """Take the parent's width but for so many pixels at the left and at the right (None: as before), and the height
        that the sentence needs. Where too little is left it goes over all; where it is narrow the buttons go beneath.
        """
        self._left = self._left if left is None else left
        self._right = self._right if right is None else right
        parent = self.parentWidget()
        if parent is None or self.isHidden():
            return
        from_left = self._left if parent.width() - self._left - self._right >= LEAST_WIDTH else 0
        width = parent.width() - from_left - self._right
        beneath = bool(self._answers) and width < BESIDE_WIDTH
        direction = QBoxLayout.Direction.TopToBottom if beneath else QBoxLayout.Direction.LeftToRight
        self._parts.setDirection(direction)
        self.setGeometry(from_left, 0, width, self.heightForWidth(width))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc puts away what is shown."""
        if event.key() == Qt.Key.Key_Escape:
            self.dismiss()
        else:
            super().keyPressEvent(event)

    # Inside ----------------------------------------------------------------------------------------------------------

    def _show(self) -> None:
        """Bring the bar up to date with what there is to tell or to ask."""
        question = self._questions[0] if self._questions and not self._sentence else None
        text = question.sentence if question is not None else self._sentence
        if question is not self._shown:
            self._shown = question
            self._put_answers(question)
        self._colour()
        self._name_button(question)
        is_news = text != self.sentence
        self._label.setText(text)
        self._label.setAccessibleName(text)
        self.setVisible(bool(text))
        if text:
            self.raise_()
            self.fit()
        if text and is_news:
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def _name_button(self, question: Question | None) -> None:
        """Say what putting the notice away does."""
        if question is not None and question.away is not None:
            self._button.setText(question.away.words)
            named(self._button, question.away.words, question.away.tip)
            return
        self._button.setText("Later" if question is not None else "Dismiss")
        tip = "Ask again at the next start." if question is not None else "It changes nothing in the project."
        named(self._button, f"{self._button.text()}: put the notice away", f"Put this notice away. {tip}")

    def _put_answers(self, question: Question | None) -> None:
        for button in self._answers:
            self._buttons.removeWidget(button)
            button.hide()  # it may be the one that was just pressed
            button.deleteLater()
        self._answers = []
        for place, choice in enumerate(question.choices if question is not None else (), 1):
            button = QPushButton(choice.words)
            named(button, choice.words, choice.tip)
            button.clicked.connect(lambda _=False, choice=choice: self._answer(choice))
            self._buttons.insertWidget(place, button)
            self._answers.append(button)
        ring = (self._button, *self._answers, self._button) if self._answers else ()
        for before, after in pairwise(ring):  # leaves the answers where the button stood, and it behind them
            QWidget.setTabOrder(before, after)

    def _colour(self) -> None:
        """Take the colours of a question, of news, or of a fault."""
        asks, news = self._shown is not None, self._shown is None and self._is_news
        if (self.property("asks"), self.property("news")) == (asks, news):
            return
        self.setProperty("asks", asks)
        self.setProperty("news", news)
        for widget in (self, self._label, self._button):
            self.style().unpolish(widget)
            self.style().polish(widget)

    def _answer(self, choice: Choice) -> None:
        self._questions = [each for each in self._questions if each is not self._shown]
        self._show()
        choice.act()
