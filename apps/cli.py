"""The command line: ``mechviz`` and its commands."""

import sys
from collections.abc import Sequence

from cyclopts import App, Parameter

from apps.commands import (
    air,
    animate,
    check,
    demo,
    diagnose,
    draw,
    faults,
    fit,
    heat,
    jobsheet,
    lesson,
    life,
    serve,
    setups,
    show,
    solve,
    study,
)
from apps.failures import guarded
from apps.help import HelpText

HELP = """See inside an S-cam drum air brake: solve its mechanism, and judge whether it is in adjustment."""

EPILOGUE = """Examples:
  mechviz demo
  mechviz check drive-16.5x7
  mechviz solve drive-16.5x7 --stroke "1 3/4 in"
  mechviz setups drive-16.5x7 > quarry.toml
  mechviz diagnose quarry.toml
  mechviz fit quarry.toml
  mechviz draw drive-16.5x7 -o drive.png
  mechviz animate drive-16.5x7 -o drive.html
  mechviz serve
  mechviz lesson

Every command has a --help of its own."""


def _version() -> str:
    from importlib.metadata import version

    return version("mechviz")


app = App(
    name="mechviz",
    help=HELP,
    help_epilogue=EPILOGUE,
    version=_version,
    help_format="plaintext",
    help_formatter=HelpText(),
    default_parameter=Parameter(negative=()),
    suppress_keyboard_interrupt=False,
)
app.command(check.check, help_epilogue=check.EPILOGUE)
app.command(solve.solve, help_epilogue=solve.EPILOGUE)
app.command(life.life, help_epilogue=life.EPILOGUE)
app.command(fit.fit, help_epilogue=fit.EPILOGUE)
app.command(faults.faults, help_epilogue=faults.EPILOGUE)
app.command(heat.heat, help_epilogue=heat.EPILOGUE)
app.command(jobsheet.jobsheet, help_epilogue=jobsheet.EPILOGUE)
app.command(air.air, help_epilogue=air.EPILOGUE)
app.command(diagnose.diagnose, help_epilogue=diagnose.EPILOGUE)
app.command(study.study, help_epilogue=study.EPILOGUE, usage="mechviz study [FILE] [OPTIONS]")
app.command(draw.draw, help_epilogue=draw.EPILOGUE)
app.command(animate.animate, help_epilogue=animate.EPILOGUE)
app.command(serve.serve, help_epilogue=serve.EPILOGUE, usage="mechviz serve [SETUP] [OPTIONS]")
app.command(lesson.lesson, help_epilogue=lesson.EPILOGUE, usage="mechviz lesson [LESSON] [OPTIONS]")
app.command(show.show, help_epilogue=show.EPILOGUE)
app.command(setups.setups, help_epilogue=setups.EPILOGUE, usage="mechviz setups [NAME]")
app.command(demo.demo, help_epilogue=demo.EPILOGUE)


def main(tokens: Sequence[str] | None = None) -> int:
    """Run a command line (that of the process if none is given) and return its exit code."""
    line = sys.argv[1:] if tokens is None else list(tokens)
    return guarded(lambda: app(line, exit_on_error=False, print_error=False, result_action="return_value"))


if __name__ == "__main__":
    raise SystemExit(main())
