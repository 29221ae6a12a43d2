"""The desks: what each is called, whom it is for, and where it stands."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Desk:
    """One desk. ``slug`` is its place on the server, ``job`` what its user comes for, ``verb`` what a link says."""

    slug: str
    name: str
    job: str
    verb: str


DESKS = (
    Desk(
        "instructor",
        "Instructor",
        "Show a class the hidden mechanism: lessons to step through, questions, quizzes, a random fault to find.",
        "Teach",
    ),
    Desk(
        "mechanic",
        "Mechanic",
        "Turn tape measurements into a verdict: both wheels of an axle, likely causes, pushrod length, a job sheet.",
        "Measure",
    ),
    Desk(
        "designer",
        "Designer",
        "Try dimensions against outcomes: maps, trade-offs, tolerances, from new to worn and cold to hot.",
        "Study",
    ),
)


def desk(slug: str) -> Desk:
    """Return the desk of that name."""
    return next(one for one in DESKS if one.slug == slug)
