"""Times as people say them: seconds, or minutes and seconds where there are many."""

from mechviz.report.written import fixed

LONG = 100.0
"""s: from here on minutes are said."""


def clock(seconds: float) -> str:
    """Write a time.

    >>> clock(0.95), clock(12.0), clock(344.4), clock(600.0)
    ('0.95 s', '12.00 s', '5 min 44 s', '10 min')
    """
    if seconds < LONG:
        return f"{fixed(seconds, 2)} s"
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"


def span(seconds: float) -> str:
    """Write a length of time as it was meant: whole minutes as minutes.

    >>> span(120.0), span(90.0), span(2.5)
    ('2 min', '90 s', '2.5 s')
    """
    if seconds >= 60 and seconds % 60 == 0:
        return f"{seconds / 60:g} min"
    return f"{seconds:g} s"
