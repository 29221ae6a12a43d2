"""What can be wrong with a step's words whatever the brake is: unknown names, keys that do not go together."""

from collections.abc import Iterable, Iterator

from geometry.air import SCENARIOS
from geometry.defects import DEFECTS
from geometry.errors import Fault
from geometry.setup import builtin_names
from mechviz.lessons.faults import fault, nearest
from mechviz.lessons.keys import SETTINGS, MoveKeys
from mechviz.lessons.model import Step
from mechviz.lessons.parts import LABELS, PARTS, label_called, part_called
from mechviz.page.air import SHOWN, WITHOUT_SPRING

RANDOM = "random"
"""Instead of a defect's name: the page chooses one, and does not tell which."""
MOVES_WITH = {"wear": ("page", "life"), "time": ("page", "air"), "apart": ("view", "solid")}
"""What moves only where the page or the view is of a kind."""


def step_faults(step: Step) -> list[Fault]:
    """Return every fault of a step's header that shows without a brake."""
    return [*_unknown(step), *_mixed(step), *_said(step), *_moving(step)]


def _unknown(step: Step) -> Iterator[Fault]:
    keys = step.keys
    for words in keys.light:
        if part_called(words) is None:
            yield fault(step.spot("light"), "light", "is no part that can be lit", nearest(words, PARTS, 30), words)
    for words in keys.name or ():
        if label_called(words) is None:
            fix = "write it under light: a part that is lit is named beside the picture"
            fix = fix if part_called(words) else nearest(words, LABELS, 20)
            yield fault(step.spot("name"), "name", "is no name that the picture has", fix, words)
    defects = [one.name for one in DEFECTS]
    yield from _listed(step, "brake", keys.brake, builtin_names(), "is no built-in setup")
    yield from _listed(step, "fault", keys.fault, [*defects, RANDOM], "is no defect that is known here")
    shown = [name for name in SCENARIOS if name in (*SHOWN, *WITHOUT_SPRING)]
    scenario = keys.air.scenario if keys.air else None
    yield from _listed(step, "air.scenario", scenario, shown, "is no scenario of the page")


def _listed(step: Step, key: str, given: str | None, known: Iterable[str], problem: str) -> Iterator[Fault]:
    names = list(known)
    if given is not None and given not in names:
        yield fault(step.spot(key), key, problem, nearest(given, names, 30), given)


def _mixed(step: Step) -> Iterator[Fault]:
    """Keys that do not go together, instead of leaving one of them out without a word."""
    keys = step.keys
    wanted = (("life", "page", "life"), ("air", "page", "air"), ("fault", "page", "faults"), ("solid", "view", "solid"))
    for key, of, needed in wanted:
        if getattr(keys, key) is not None and getattr(keys, of) != needed:
            fix = f'write {of} = "{needed}", or leave it out'
            yield fault(step.spot(key), key, f'needs {of} = "{needed}"', fix)
    if keys.page == "air" and keys.air is None:
        fix = 'write air = { scenario = "story" }'
        yield fault(step.spot("page"), "page", "is of the air, and no scenario is named", fix, "air")
    plots = ("none", "force", "pressure") if keys.page == "air" else ("none", "stroke", "angle", "force")
    if keys.plot not in plots:
        fix = f"write one of {', '.join(plots)}"
        yield fault(step.spot("plot"), "plot", f"is no plot of the page of {keys.page}", fix, keys.plot)
    if keys.at is not None and keys.page in ("life", "air"):
        yield fault(step.spot("at"), "at", f"means nothing on the page of {keys.page}", "leave it out", keys.at)
    if keys.page != "plain":
        for name in SETTINGS:
            if getattr(keys, name) is not None:
                problem = f"cannot be set on the page of {keys.page}, which sets it itself"
                yield fault(step.spot(name), name, problem, 'leave it out, or write page = "plain"')


def _said(step: Step) -> Iterator[Fault]:
    """Who pushes, and when a caution is told."""
    keys = step.keys
    if keys.by == "hand" and (keys.page != "plain" or keys.move is not None or keys.at == "applied"):
        problem, fix = "pulls the arm as far as the linings and no further", 'write at = "contact" and no move'
        yield fault(step.spot("by"), "by", problem, fix, keys.by)
    if keys.caution != "first" and not {"question", "caution"} <= step.body.keys():
        problem, fix = "is of a step with a question and a caution", "leave it out"
        yield fault(step.spot("caution"), "caution", problem, fix, keys.caution)


def _moving(step: Step) -> Iterator[Fault]:
    keys = step.keys
    if keys.move is None:
        return
    what = keys.move.what
    if what in MOVES_WITH:
        of, needed = MOVES_WITH[what]
        if getattr(keys, of) != needed:
            problem = f'moves only with {of} = "{needed}"'
            yield fault(step.spot("move.what"), "move.what", problem, f'write {of} = "{needed}"', what)
    else:
        yield from _unmoved(step, keys.move)
    if keys.move.adjuster == "follows" and what != "lining":
        problem = "follows only a lining that wears"
        yield fault(step.spot("move.adjuster"), "move.adjuster", problem, "leave it out", "follows")
    if keys.at is not None and what == "brake":
        yield fault(step.spot("at"), "at", "is said by the move already", "leave it out", keys.at)


def _unmoved(step: Step, move: MoveKeys) -> Iterator[Fault]:
    fixes = {"life": 'move "wear"', "air": 'move "time"', "faults": 'move "brake"'}
    page = step.keys.page
    if page in fixes and not (page == "faults" and move.what == "brake"):
        problem = f"does not move on the page of {page}"
        yield fault(step.spot("move.what"), "move.what", problem, fixes[page], move.what)
