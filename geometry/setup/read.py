"""Read a setup: from a file, or built in, with everything that is wrong in it said at once."""

from dataclasses import replace
from functools import cache
from os import PathLike
from pathlib import Path

from geometry.errors import Fault, SetupError
from geometry.quantity import System
from geometry.setup.assemble import assemble
from geometry.setup.blame import blamed
from geometry.setup.builtin import builtin_names, builtin_text, nearest_builtin
from geometry.setup.clash import clashes
from geometry.setup.merge import FITTED, assumed_stroke, merged, rod_that_reaches
from geometry.setup.missing import missing_faults
from geometry.setup.model import Setup
from geometry.setup.parts import DEFAULTS
from geometry.setup.sheet import Sheet, Values, main_system, read_sheet
from geometry.setup.text import read_file, read_toml
from geometry.setup.words import file_fault, not_more_than_can_be_read
from geometry.units import shorten, typed_system


class SetupFileError(SetupError):
    """A setup file that cannot be used; its figures are written in ``system``, the units of the file."""

    def __init__(self, faults: tuple[Fault, ...], system: System) -> None:
        super().__init__(faults)
        self.system: System = system

    def __str__(self) -> str:
        return "\n".join(fault.text(self.system) for fault in self.faults)


def read_setup(path_or_name: str | PathLike[str], judging: bool = False, fitting: bool = False) -> Setup:
    """Return the setup in a file, or the built-in one of that name. Raises `SetupError` with all faults.

    A brake worn or slack beyond what it can do cannot be solved, which is an error; but it can be judged: with
    ``judging`` such findings stand in the setup's ``beyond`` instead. With ``fitting`` a pushrod is looked for, so that
    none is needed: where the file gives none, one that reaches stands in, and the base's is not asked for.
    """
    name = str(path_or_name)
    if name in builtin_names():
        return read_setup_text(builtin_text(name), name, judging, fitting)
    if not name or "\0" in name or not _exists(name):
        fix = f"give the path of a file, or {nearest_builtin(name)}"
        raise SetupError(file_fault("setup", "is neither a file nor a built-in setup", fix, name or '""'))
    return read_setup_text(read_file(Path(name)), name, judging, fitting)


def _exists(name: str) -> bool:
    try:
        return Path(name).exists()
    except OSError:  # a name longer than names can be
        return False


def read_setup_text(text: str, source: str, judging: bool = False, fitting: bool = False) -> Setup:
    """Return the setup that a TOML text describes; ``source`` says where it is from. Raises `SetupError`."""
    own = read_sheet(read_toml(text))
    base, base_system = _base(own)
    system = main_system(own.typed, base_system)
    values = merged(own, base)
    if judging:
        values = assumed_stroke(values) | values
    if fitting:
        values |= rod_that_reaches(own, values)
    clashing = clashes(own, values)
    faults = [*own.faults, *clashing]
    own.broken |= {fault.where for fault in clashing}
    if not own.is_broken("base"):
        faults += missing_faults(own, values)
    assembly, found, beyond = assemble(values, own)
    beyond = [blamed(fault, own, base, system) for fault in beyond]
    faults += [blamed(fault, own, base, system) for fault in found] + ([] if judging else beyond)
    if faults:
        raise SetupFileError(_said(faults, own), system)
    return Setup(
        title=values.get("title", Path(source).name.removesuffix(".toml")),
        base=own.values.get("base"),
        source=source,
        brake=assembly.brake,
        clevis=assembly.clevis,
        arm_holes=assembly.arm_holes,
        parking=assembly.parking,
        as_found=assembly.as_found,
        test=assembly.test,
        measured=assembly.measured,
        nominal={key: own.values[key] for key in FITTED if key in own.values},
        marked_limit=values.get("chamber.marked_limit"),
        lining_attachment=values.get("foundation.lining_attachment"),
        lining_pads=values.get("foundation.lining_pads"),
        stated=frozenset(own.typed),
        beyond=tuple(beyond),
        system=system,
        values=DEFAULTS | values,
    )


def _base(own: Sheet) -> tuple[Values, System]:
    """The values and the system of the base that a file names; none for a name that there is not, which is a fault."""
    name = own.values.get("base")
    if name is None:
        return {}, "inch"
    if name not in builtin_names():
        own.broken.add("base")
        own.faults.append(file_fault("base", "is no built-in setup", nearest_builtin(name), name))
        return {}, "inch"
    return builtin_values(name)


@cache
def builtin_values(name: str) -> tuple[Values, System]:
    """Return the values of a built-in setup, over those of its own base, and its unit system."""
    own = read_sheet(read_toml(builtin_text(name)))
    base, system = _base(own)
    return merged(own, base), main_system(own.typed, system)


def _said(faults: list[Fault], own: Sheet) -> tuple[Fault, ...]:
    """The faults as they are reported: with what was typed."""
    return not_more_than_can_be_read([_as_typed(fault, own) for fault in faults])


def _as_typed(fault: Fault, own: Sheet) -> Fault:
    typed = own.typed.get(fault.where)
    if not isinstance(typed, str):
        return fault
    kind = fault.kind
    system = typed_system(typed, kind) if kind in ("temperature", "length") else None
    return replace(fault, given=shorten(typed), system=system)
