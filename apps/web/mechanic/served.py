"""What the server hands out for the mechanic's desk: where to put the tape, and the printed sheet of a job."""

import gzip

from tornado.web import HTTPError, RequestHandler

from apps.web.brakes import Brakes
from apps.web.mechanic.store import JobStore
from apps.web.mechanic.thinking import sheet_pdf
from geometry.setup import builtin_names
from mechviz.export.pages import PAGES, PageName
from mechviz.job.pictures import names, picture_of

KEPT = "public, max-age=3600"


class TapePicture(RequestHandler):
    """A picture of where to put the tape."""

    def get(self, theme: str, name: str) -> None:
        """Hand out the picture on the brake that the address names, or say that there is none."""
        base = self.get_query_argument("base", builtin_names()[0])
        if name not in names() or base not in builtin_names():
            raise HTTPError(404)
        svg = picture_of(name, base, "dark" if theme == "dark" else "light")
        self.set_header("Content-Type", "image/svg+xml; charset=utf-8")
        self.set_header("Content-Encoding", "gzip")
        self.set_header("Cache-Control", KEPT)
        self.set_header("X-Content-Type-Options", "nosniff")
        self.finish(gzip.compress(svg.encode(), 6, mtime=0))


class JobSheetPdf(RequestHandler):
    """A job's sheet, worked out in another process."""

    def initialize(self, brakes: Brakes, store: JobStore) -> None:
        """Take the process and the folder that all of them share."""
        self.brakes, self.store = brakes, store

    async def get(self, name: str) -> None:
        """Hand out the sheet of a job that is kept, on the paper that the address names."""
        text = self.store.text(name)
        page = self.get_query_argument("page", "a4")
        if text is None or page not in PAGES:
            raise HTTPError(404)
        paper: PageName = "letter" if page == "letter" else "a4"
        pdf = await self.brakes.work(sheet_pdf, text, paper)
        self.set_header("Content-Type", "application/pdf")
        self.set_header("Content-Disposition", f'inline; filename="job-sheet-{name}.pdf"')
        self.set_header("Cache-Control", "no-store")
        self.set_header("X-Content-Type-Options", "nosniff")
        self.finish(pdf)
