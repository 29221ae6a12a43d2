"""The jobs that are kept on this machine, to go on with one of them or begin another."""

from html import escape

from apps.web.mechanic.store import JobStore


def kept_html(store: JobStore, now: str) -> str:
    """Return the list of the jobs kept last, but for the one that is being worked on."""
    rows = "".join(
        f'<li><a href="./mechanic?_job={one.name}">{escape(one.title)}</a> <small>{escape(one.changed)}</small></li>'
        for one in store.recent()
        if one.name != now
    )
    listed = f"<ul>{rows}</ul>" if rows else "<p>No other job is kept here yet.</p>"
    new = '<p><a class="button" href="./mechanic">Begin a new job</a></p>'
    return f"<details><summary>Jobs kept here</summary>{listed}{new}</details>"
