"""A clash with a figure of the base is said of the key that the file itself wrote: nobody looks for the other one."""

from collections.abc import Iterator
from dataclasses import replace

from geometry.edge import edge
from geometry.errors import Fault
from geometry.quantity import System, rounded, text
from geometry.setup.assemble import assemble
from geometry.setup.keys import kind_of
from geometry.setup.merge import FITTED, STANDS_FOR, merged
from geometry.setup.sheet import Sheet, Values


def blamed(fault: Fault, own: Sheet, base: Values, system: System) -> Fault:
    """Return the fault, said of a key of the file where that key is what brought it about.

    That is the case where the fault goes when the file's key is left out. A fault of a figure that the file itself
    writes, or that a reading of the file stands for, stays there unless it is another key alone that brings it about.
    What would be possible is found between the base's figure, which fits, and the file's.
    """
    whose = _whose(fault.where, own)
    guilty = list(_guilty(fault, own, base)) if base else []
    if whose in own.typed and (whose in guilty or not guilty):
        return replace(fault, where=whose)
    return _said_of(guilty[0], fault, own, base, system) if guilty else fault


def _whose(where: str, own: Sheet) -> str:
    """The key that a figure was taken from: a length is solved with as it was measured, whatever else is written."""
    of = STANDS_FOR.get(where, where)
    return of if of in own.typed and (where in FITTED or where not in own.typed) else where


def _guilty(fault: Fault, own: Sheet, base: Values) -> Iterator[str]:
    """The file's keys, in the order they were written, without which there is no such fault."""
    for key in own.values:
        if not own.is_broken(key) and not _occurs(fault, _without(own, key), base):
            yield key


def _occurs(fault: Fault, own: Sheet, base: Values) -> bool:
    _, faults, beyond = assemble(merged(own, base), own)
    return any(fault.where == found.where for found in faults + beyond)


def _without(own: Sheet, key: str) -> Sheet:
    values, typed = dict(own.values), dict(own.typed)
    values.pop(key)
    typed.pop(key, None)
    return replace(own, values=values, typed=typed)


def _said_of(key: str, fault: Fault, own: Sheet, base: Values, system: System) -> Fault:
    typed = _whose(fault.where, own) in own.typed
    theirs = _whose(fault.where, own) if typed else f"the base's {fault.where}"
    if isinstance(fault.given, float):
        theirs += f" = {text(fault.given, fault.kind, system)}"
    least, most = _possible(key, fault, own, base, system)
    leave = "" if _meant(key, base) in base else "leave it out, or "
    fix = f"read it and {theirs} again" if typed else f"{leave}write this brake's own {fault.where}"
    return Fault(
        key,
        f"clashes with {theirs}: {fault.said(system)}",
        fix,
        own.values[key] if isinstance(own.values[key], float) else str(own.values[key]),
        kind_of(key) or "number",
        least,
        most,
    )


def _possible(key: str, fault: Fault, own: Sheet, base: Values, system: System) -> tuple[float | None, float | None]:
    """The figure nearest to the file's at which the fault goes, as a least or a greatest one; None where unknown.

    It brings about no other fault either: what would be refused again is no help.
    """
    bad, good = own.values[key], merged(_without(own, key), base).get(_meant(key, base))
    kind = kind_of(key)
    if not isinstance(bad, float) or not isinstance(good, float) or kind is None:
        return None, None

    others = {found.where for found in assemble(merged(_without(own, key), base), own)[1]}

    def occurs(value: float) -> bool:
        _, faults, beyond = assemble(merged(replace(own, values=own.values | {key: value}), base), own)
        return any(f.where == fault.where for f in faults + beyond) or any(f.where not in others for f in faults)

    last = edge(lambda value: not occurs(value), good, bad, ENOUGH)
    shown = rounded(last, kind, system, up=bad < good)
    if occurs(shown):  # a bound that must not be met
        shown = rounded(last + CLEAR * (good - bad), kind, system, up=bad < good)
    return (shown, None) if bad < good else (None, shown)


ENOUGH = 26
"""Halvings: to a hundred-millionth of the way, far below what is shown."""

CLEAR = 1e-4
"""Share of the way back to the good figure by which a bound that must not be met is left."""


def _meant(key: str, base: Values) -> str:
    """The key that a reading of the file stands in for, or the key itself."""
    return key if key in base else key.replace("measured.", "linkage.")
