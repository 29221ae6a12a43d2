"""The cautions that belong beside a check: short, each once, only those that this brake calls for."""

from collections.abc import Sequence

from mechviz.checks.row import CheckRow

HEADING = "/!\\ Caution"

CHOCKS = "Chock the wheels before anyone goes under: with the spring brakes released nothing else holds the vehicle."
SPRING = (
    "A spring brake holds 1500 to 2000 lbf (7 to 9 kN). Never open or strike its housing; cage it only with its own "
    "tool."
)
COMPOUND = (
    "Never compound: release the parking brake before a heavy service application. Spring and air together overload "
    "arm, cam and drum."
)
DUST = "Brake dust: no dry brushing, no compressed air. Old linings may hold asbestos."
AUTOMATIC = (
    "Do not turn an automatic adjuster by hand to bring its stroke in: that hides the fault and has killed people. "
    "Find the cause."
)
ESTIMATE = (
    "These answers are estimates from measurements. Local codes, the maker's instructions and licensed practice decide."
)


def cautions(rows: Sequence[CheckRow], automatic: bool) -> list[str]:
    """Return the cautions for a check; the one about the adjuster first where its stroke is what went wrong."""
    stroke = any(row.result in ("fail", "close") and "stroke" in row.check for row in rows)
    adjuster = [AUTOMATIC] if automatic else []
    first, later = (adjuster, []) if stroke else ([], adjuster)
    return [*first, CHOCKS, SPRING, DUST, *later, ESTIMATE]
