"""What the builder may want to see on the board or not, by a command of the menu View."""

from __future__ import annotations

from abc import ABC, abstractmethod


class Wanted(ABC):
    """Something that is shown while it is wanted."""

    _is_wanted: bool

    @property
    def is_wanted(self) -> bool:
        """Whether the builder wants to see it."""
        return self._is_wanted

    @is_wanted.setter
    def is_wanted(self, wanted: bool) -> None:
        self._is_wanted = wanted
        self.wanted_changed()

    @abstractmethod
    def wanted_changed(self) -> None:
        """Show it, or take it off the board."""
