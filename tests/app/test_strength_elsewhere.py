"""A check of strength where other checks are told: put right, and what a pin does to the worst check."""

from __future__ import annotations

from dataclasses import replace

import kinematics
from app.influence_words import influence_sentence
from app.mend_words import fight_sentence, refusal
from kinematics.influence import Influence
from kinematics.mending import Fight, Mended
from tests.app.test_strength_words import check
from tests.kinematics.test_straining import PINS, of_six_bar
