"""A setup as the query of an address, so that a link or a bookmark brings it back.

Every key that the setup states is a parameter, ``?base=drive-16.5x7&condition.lining_thickness=0.4+in``. Text stands as
it is; anything else follows an equals sign as it stands in a file: ``foundation.friction==0.35``. ``setup`` names a
built-in setup whose file comes first, so that only what differs from it has to follow. What a desk keeps there of its
own begins with an underscore, ``_step=3``, which no key of a setup does.
"""

from collections.abc import Mapping
from urllib.parse import parse_qsl, urlencode

from apps.web.setup_text import literal, value_of, values_of, with_value, written
from geometry.setup import builtin_names, builtin_text

LITERAL = "="
OWN = "_"
BUILTIN = "setup"
LONGEST = 6_000
"""Characters of an address; beyond that browsers and servers begin to cut."""


def query_of(text: str, own: Mapping[str, str]) -> str:
    """Return the query of a setup's text and of a desk's ``own`` parameters, with its question mark.

    A setup that is too long for an address (a measured table, say) is left out: a link to it would be cut.
    """
    setup = [(key, _shown(value)) for key, value in _shortest(values_of(text)).items() if key != "schema"]
    query = _joined([*setup, *own.items()])
    return query if len(query) <= LONGEST else _joined(list(own.items()))


def text_of(query: str) -> str | None:
    """Return the text of the setup in a query; None where it has none. A parameter that stands twice holds its last."""
    values = {key: _read(value) for key, value in _pairs(query) if not key.startswith(OWN)}
    if values.get(BUILTIN) not in builtin_names():
        return written(values) if values else None
    text = builtin_text(str(values.pop(BUILTIN)))
    for key, value in values.items():
        text = with_value(text, key, value)
    return text


def own_of(query: str) -> dict[str, str]:
    """Return what a desk kept of its own in a query."""
    return {key: value for key, value in _pairs(query) if key.startswith(OWN)}


def _shortest(values: dict[str, object]) -> dict[str, object]:
    """The values, or a built-in setup and what differs from it, whichever is less."""
    found = values
    for name in builtin_names():
        first = values_of(builtin_text(name))
        if first.keys() <= values.keys():
            over = {key: value for key, value in values.items() if key not in first or first[key] != value}
            found = min(found, {BUILTIN: name} | over, key=len)
    return found


def _pairs(query: str) -> list[tuple[str, str]]:
    return parse_qsl(query.removeprefix("?")[: 2 * LONGEST], keep_blank_values=True)


def _joined(pairs: list[tuple[str, str]]) -> str:
    return "?" + urlencode(pairs, safe="/-.") if pairs else ""


def _shown(value: object) -> str:
    plain = isinstance(value, str) and not value.startswith(LITERAL)
    return value if plain and isinstance(value, str) else LITERAL + literal(value)


def _read(value: str) -> object:
    return value_of(value.removeprefix(LITERAL)) if value.startswith(LITERAL) else value
