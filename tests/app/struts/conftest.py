"""Units in small: what the sheet shows of them is tested here, not what they find."""

from __future__ import annotations

import pytest

from kinematics.struts import unit


@pytest.fixture(autouse=True)
def _small_units(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, small in {"FIRST": 2500, "DRAWN": 2500, "SEEDS": 6, "COPIES": 16}.items():
        monkeypatch.setattr(unit, name, small)
