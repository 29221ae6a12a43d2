"""Whatever is typed into a job: it is shown, judged as far as it goes, printed, saved and read back."""

from collections.abc import Mapping

from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.setup import builtin_names
from mechviz.checks.row import RESULTS
from mechviz.job import fields as f
from mechviz.job.axle import axle_findings
from mechviz.job.file import job_text, read_job_text
from mechviz.job.fit import fit_of
from mechviz.job.headline import headline
from mechviz.job.look import look
from mechviz.job.model import Job
from mechviz.job.sheet import sheet_of

ODD = (
    "",
    " ",
    "abc",
    "0",
    "-1 in",
    "1e9 mm",
    "1/0",
    "1 3/4",
    '2 1/8"',
    "44.5 mm",
    "90 deg",
    "95 psi",
    "hot",
    "☃",
    "1" * 60,
)


def texts(one: f.Field) -> st.SearchStrategy[str]:
    """What a hand may leave in a field: a choice, an example, near it, or nonsense."""
    near = st.builds(
        lambda figure, unit: f"{figure:.3f} {unit}",
        st.floats((one.least or 0.0) / 25.4 * 0.9, (one.most or 10.0) / 25.4 * 1.1),
        st.sampled_from(["in", one.unit("inch") or "in"]),
    )
    known = [value for value, _ in one.choices] or list(one.example) or ["1"]
    return st.one_of(st.sampled_from(known), st.sampled_from(ODD), near if not one.choices else st.sampled_from(known))


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    job = Job(base=draw(st.sampled_from(builtin_names())), system=draw(st.sampled_from(["inch", "metric"])))
    places: tuple[f.Place, ...] = ("axle", *f.SIDES)
    for place in places:
        for phase in f.PHASES:
            for one in f.asked(place):
                if draw(st.booleans()):
                    job = job.typed(place, phase, one.key, draw(texts(one)), "now")
    return job


def results(job: Job) -> Mapping[tuple[f.Side, f.Phase], str]:
    return {(side, phase): headline(look(job, side, phase)).result for side in f.SIDES for phase in f.PHASES}


@settings(max_examples=25, deadline=None)
@given(jobs())
def test_whatever_is_typed_is_judged_as_far_as_it_goes(job: Job) -> None:
    assert set(results(job).values()) <= set(RESULTS)
    for phase in f.PHASES:
        axle_findings(job, phase)
        for side in f.SIDES:
            seen = look(job, side, phase)
            assert set(seen.errors) <= set(job.wheel(side, phase))
            assert seen.setup is not None or seen.understood.general
            fit_of(seen)
    assert sheet_of(job, why=False).wheels
    assert read_job_text(job_text(job)) == job


@settings(max_examples=15, deadline=None)
@given(jobs())
def test_switching_the_units_changes_no_verdict(job: Job) -> None:
    other = job.in_units("metric" if job.system == "inch" else "inch")
    stated = dict.fromkeys(f.PHASES, "1/32 in")
    before, after = job, other
    for phase, text in stated.items():
        before = before.typed("axle", phase, "measured.resolution", text)
        after = after.typed("axle", phase, "measured.resolution", text)
    then, now = results(before), results(after)
    understood = [at for at in then if not look(before, *at).errors]
    assert {at: then[at] for at in understood} == {at: now[at] for at in understood}
