"""What a designer's choice asks of a setup: a study, or what is wrong with each field."""

from dataclasses import dataclass, field

from apps.web.designer.pick import Pick
from apps.web.designer.state import DesignerState
from apps.web.designer.varied import Varied, Wrong, present, ranged, said, toleranced
from geometry.errors import MechvizError
from geometry.setup import Setup
from mechviz.study import Listed, Outcome, Parameter, Plan, Study, size_parameter
from mechviz.study.parameter import SIZE


@dataclass(frozen=True)
class Question:
    """A study, None where something is wrong: by field of a dimension (its key and the field's name), and in all."""

    study: Study | None
    wrong: dict[tuple[str, str], str] = field(default_factory=dict[tuple[str, str], str])
    faults: tuple[str, ...] = ()

    @property
    def can_run(self) -> bool:
        """Whether everything that was typed can be used, tolerances too; a map needs the ranges alone."""
        return self.study is not None and not self.wrong

    @property
    def size(self) -> int:
        """How many points it has."""
        return self.study.plan.size(self.study.parameters) if self.study else 0


def question(state: DesignerState, setup: Setup) -> Question:
    """Return what is asked of the ranges of the dimensions."""
    found: list[Parameter] = []
    wrong: dict[tuple[str, str], str] = {}
    for varied in state.varied:
        parameter, faults = ranged(varied, setup)
        wrong |= _placed(varied, faults)
        found += [parameter] if parameter else []
    wrong |= tolerance_faults(state, setup)
    faults = [] if state.varied else ["Vary at least one dimension: choose one under “Vary”."]
    faults += [] if state.asked else ["Ask for at least one outcome: choose one under “Ask for”."]
    outcomes, limits = outcomes_of(state, setup)
    wrong |= limits
    if faults or any(name != "tolerance" for _, name in wrong):
        return Question(None, wrong, tuple(faults))
    try:
        plan = Plan(state.kind, state.points, state.seed)
        return Question(Study(setup, tuple(found), tuple(outcomes), plan, setup.title), wrong)
    except MechvizError as error:
        return Question(None, wrong | _of_study(error, state, setup), _unplaced(error, state, setup))


def outcomes_of(state: DesignerState, setup: Setup) -> tuple[list[Outcome], dict[tuple[str, str], str]]:
    """Return what is asked for with limits of one's own, and what is wrong with these, by key and field."""
    found, wrong = list[Outcome](), dict[tuple[str, str], str]()
    for asked in state.asked:
        outcome, faults = asked.read(setup.system)
        found.append(outcome)
        wrong |= {(asked.key, fault.field): fault.words for fault in faults}
    return found, wrong


def tolerance_question(state: DesignerState, setup: Setup, point: Pick) -> Study | None:
    """Return the study of brakes as they are made about a point; None where no dimension has a tolerance."""
    found: list[Parameter] = []
    for varied in state.varied:
        if varied.sized:
            found.append(size_parameter((str(point.by_key.get(SIZE, setup.brake.chamber.size)),)))
            continue
        parameter, _ = toleranced(varied, setup, float(point.by_key.get(varied.key, present(setup, varied.key))))
        found += [parameter] if parameter else []
    if all(isinstance(p.spread, Listed) for p in found) or not state.asked:
        return None
    return Study(
        setup, tuple(found), tuple(outcomes_of(state, setup)[0]), Plan("monte-carlo", 2, state.seed), setup.title
    )


def tolerance_faults(state: DesignerState, setup: Setup) -> dict[tuple[str, str], str]:
    """Return what is wrong with the tolerances, by key and field."""
    found: dict[tuple[str, str], str] = {}
    for varied in state.varied:
        found |= _placed(varied, toleranced(varied, setup, present(setup, varied.key) if not varied.sized else 0.0)[1])
    return found


def _placed(varied: Varied, faults: list[Wrong]) -> dict[tuple[str, str], str]:
    return {(varied.key, one.field): one.words for one in faults}


def _of_study(error: MechvizError, state: DesignerState, setup: Setup) -> dict[tuple[str, str], str]:
    """What is wrong with a dimension as such: it stands at its first field."""
    words = {fault.where: said(MechvizError(fault), setup.system) for fault in error.faults}
    return {(key, "low"): words[key] for key in state.keys if key in words}


def _unplaced(error: MechvizError, state: DesignerState, setup: Setup) -> tuple[str, ...]:
    return tuple(fault.text(setup.system) for fault in error.faults if fault.where not in state.keys)


def middle(state: DesignerState, setup: Setup) -> Pick:
    """Return the point that stands there: what was picked, else the brake as it is, within the ranges."""
    now = state.point.by_key
    found: dict[str, float | str] = {}
    for varied in state.varied:
        parameter, _ = ranged(varied, setup)
        if parameter is None:  # a range that cannot be read moves no point
            found |= {varied.key: now[varied.key]} if varied.key in now else {}
            continue
        if parameter.words:
            own = setup.brake.chamber.size
            wanted = str(now.get(varied.key, own))
            found[varied.key] = wanted if wanted in parameter.words else parameter.words[0]
        else:
            low, high = parameter.spread.ends
            wanted = float(now.get(varied.key, present(setup, varied.key)))
            found[varied.key] = min(max(wanted, low), high)
    return Pick.of(found)
