"""A designer's choice as a few short parameters of the address; what is as it was at first is left out.

Items are separated by semicolons, what belongs to one by tildes, so that most of it stands in an address as it is.
"""

from collections.abc import Callable, Mapping
from typing import Any

from apps.web.designer.asked import Asked
from apps.web.designer.pick import Pick, known
from apps.web.designer.state import KEPT, MOST_ASKED, MOST_PICKS, MOST_POINTS, MOST_VARIED, VIEWS, DesignerState
from apps.web.designer.varied import Varied
from geometry.errors import MechvizError
from geometry.setup.many import varied_keys
from mechviz.study.parameter import SIZE
from mechviz.study.piece import HEATS, WEARS
from mechviz.study.plan import KINDS

ITEM, PART = ";", "~"


def coded(choice: Mapping[str, Any]) -> dict[str, str | None]:
    """Return what is kept in the address, by name; None for what is as it was at first."""
    first = DesignerState().kept
    return {name: None if choice[name] == first[name] else WRITE[name](choice[name]) for name in KEPT}


def decoded(kept: Callable[[str], str | None]) -> dict[str, Any]:
    """Return the choice that was kept, as far as it can be read: anything may stand in an address."""
    found: dict[str, Any] = {}
    for name in KEPT:
        text = kept(name)
        if text is None:
            continue
        try:
            value = READ[name](text)
        except (ValueError, MechvizError):
            continue
        if value is not None:
            found[name] = value
    return found


def _clean(text: str) -> str:
    """Typed text without what separates items: neither belongs in a figure."""
    return text.replace(ITEM, ",").replace(PART, "-")


def _varied_text(items: list[Varied]) -> str:
    return ITEM.join(PART.join([v.key, *map(_clean, (v.low, v.high, v.tolerance))]).rstrip(PART) for v in items)


def _varied(text: str) -> list[Varied]:
    found: dict[str, Varied] = {}
    for item in _items(text):
        key, *fields = item.split(PART)
        if key == SIZE or key in varied_keys():
            found.setdefault(key, Varied(key, *fields[:3]))
    return list(found.values())[:MOST_VARIED]


def _asked_text(items: list[Asked]) -> str:
    return ITEM.join(
        PART.join([o.name, _short(o.wear), _short(o.heat), _clean(o.least), _clean(o.most)]).rstrip(PART) for o in items
    )


def _short(condition: str) -> str:
    return "" if condition == "found" else condition


def _asked(text: str) -> list[Asked]:
    found: dict[str, Asked] = {}
    for item in _items(text):
        name, wear, heat, least, most, *_ = [*item.split(PART), "", "", "", ""]
        wear, heat = wear or "found", heat or "found"
        if wear in WEARS and heat in HEATS:
            outcome = Asked(name, wear, heat, least, most)
            found.setdefault(outcome.key, outcome)
    return list(found.values())[:MOST_ASKED]


def _pick_text(pick: Pick) -> str:
    return PART.join(
        f"{key}={_clean(value) if isinstance(value, str) else f'{value:.7g}'}" for key, value in pick.values
    )


def _pick(text: str) -> Pick:
    pairs = (part.partition("=") for part in text.split(PART) if part)
    return known(Pick.of({key: value if key == SIZE else _finite(value) for key, _, value in pairs}))


def _picks_text(picks: list[Pick]) -> str:
    return ITEM.join(map(_pick_text, picks))


def _flag_text(flag: bool) -> str:
    return "1" if flag else "0"


def _filters_text(filters: dict[str, tuple[float, float]]) -> str:
    return ITEM.join(f"{key}{PART}{low:.7g}{PART}{high:.7g}" for key, (low, high) in filters.items())


def _filters(text: str) -> dict[str, tuple[float, float]]:
    found: dict[str, tuple[float, float]] = {}
    for item in _items(text):
        key, low, high, *_ = [*item.split(PART), "", ""]
        if _finite(low) < _finite(high):
            found[key[:120]] = _finite(low), _finite(high)
    return found


def _items(text: str) -> list[str]:
    return [item for item in text.split(ITEM) if item][:50]


def _finite(text: str) -> float:
    value = float(text)
    if not abs(value) < 1e15:
        raise ValueError(text)
    return value


def _one_of(known_words: Any) -> Callable[[str], str | None]:
    return lambda text: text if text in known_words else None


def _whole(least: int, most: int) -> Callable[[str], int | None]:
    return lambda text: int(text) if least <= int(text) <= most else None


def _two(text: str) -> tuple[str, str]:
    first, second, *_ = [*text.split(PART), "", ""]
    return first[:120], second[:120]


WRITE: dict[str, Callable[[Any], str]] = dict.fromkeys(KEPT, str) | {
    "varied": _varied_text,
    "asked": _asked_text,
    "best": PART.join,
    "filters": _filters_text,
    "point": _pick_text,
    "picks": _picks_text,
    "ran": _flag_text,
}
READ: dict[str, Callable[[str], Any]] = {
    "varied": _varied,
    "asked": _asked,
    "kind": _one_of(KINDS),
    "points": _whole(2, MOST_POINTS),
    "seed": _whole(0, 2**31 - 1),
    "across": lambda text: text[:120],
    "up": lambda text: text[:120],
    "of": lambda text: text[:120],
    "best": _two,
    "filters": _filters,
    "point": _pick,
    "picks": lambda text: [pick for item in _items(text) if (pick := _pick(item)).values][:MOST_PICKS],
    "view": _one_of(VIEWS),
    "ran": lambda text: text == "1",
}
