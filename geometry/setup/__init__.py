"""The setup file: TOML in, a `Setup` of plain floats out, or every fault in it in plain words."""

from geometry.setup.builtin import builtin_names, builtin_text
from geometry.setup.model import AsFound, Measured, Setup, Test
from geometry.setup.read import SetupFileError, read_setup, read_setup_text

__all__ = [
    "AsFound",
    "Measured",
    "Setup",
    "SetupFileError",
    "Test",
    "builtin_names",
    "builtin_text",
    "read_setup",
    "read_setup_text",
]
