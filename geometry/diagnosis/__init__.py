"""What is wrong with a brake, from whatever was measured: causes by probability, and which reading would tell most.

The method is Bayes' rule over the model. Each cause (nothing wrong, or one of `geometry.defects`) predicts the
readings, with everything that is not known about the brake averaged out (`predict`); the readings taken weigh the
causes (`posterior`); what the causes still disagree about says what to measure next (`next_reading`), and what they
can never disagree about says which of them cannot be told apart (`apart`). What the most probable cause leaves
`unexplained` shows a second one.
"""

from geometry.diagnosis.apart import groups_of, telling_apart
from geometry.diagnosis.next_reading import Worth, worths
from geometry.diagnosis.posterior import Belief, believed
from geometry.diagnosis.predict import Predictions, predict
from geometry.diagnosis.priors import NOTHING
from geometry.diagnosis.readings import READINGS, Reading, Readings, readings_of
from geometry.diagnosis.sober import sobered
from geometry.diagnosis.unexplained import LeftOver, left_over, marks_left_over, speaks_for

__all__ = [
    "NOTHING",
    "READINGS",
    "Belief",
    "LeftOver",
    "Predictions",
    "Reading",
    "Readings",
    "Worth",
    "believed",
    "groups_of",
    "left_over",
    "marks_left_over",
    "predict",
    "readings_of",
    "sobered",
    "speaks_for",
    "telling_apart",
    "worths",
]
