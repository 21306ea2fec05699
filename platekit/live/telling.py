"""In which order a run shows what it has: what one waits for most comes first.

The rig, then its findings, then its sheets; whether it goes together takes longest and comes last.
What is known to be as it was is shown at once, and is not shown twice.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from platekit.errors import NestingError
from platekit.export.page.content import content
from platekit.export.page.page import Page
from platekit.export.plain_json import Json
from platekit.job.drawing_up import DrawnUp
from platekit.job.options import Options
from platekit.job.paging import drawn_page
from platekit.job.progress import Progress
from platekit.job.recipe import Recipe
from platekit.live.memory import Memory
from platekit.live.seen import (
    DRAWN,
    LAID,
    PROVED,
    WEIGHED,
    seen_again,
    with_sheets,
    with_weights,
)


@dataclass(kw_only=True)
class Telling:
    """One run, as it shows what it has.

    Attributes:
        recipe: The recipe.
        job: What the job is given.
        memory: What is known from earlier runs.
        show: Is given how deep it goes, and what is seen.
        progress: Hears what goes on.
    """

    recipe: Recipe
    job: Options
    memory: Memory
    show: Callable[[str, dict[str, Json]], None]
    progress: Progress
    _bare: Page | None = None
    _drawn: dict[str, Json] | None = None
    _unlaid: NestingError | None = field(default=None)

    def early(self, drawn: DrawnUp) -> None:
        """Take what is drawn up, and later the same weighed, before it is proved."""
        if self._bare is None:
            self._bare = self._page(self._with_known_proof(drawn))
            # What is on view already needs no showing: whoever turned a load waits for margins.
            if not self.memory.is_seen(drawn.given):
                self._tell(DRAWN, self._with_known_sheets(self._bare, drawn))
                self.memory.see(drawn.given)
        elif self.memory.known_proof(drawn.given) is None:
            self._weighed(with_weights(self._bare, drawn), drawn)

    def whole(self, drawn: DrawnUp) -> None:
        """Take what is drawn up, weighed and proved.

        Raises:
            NestingError: Stock and parts cannot come together.
        """
        page = self._page(drawn)
        if self.memory.known_layout(drawn.cut, self.job) is None and self._unlaid is None:
            self._tell(WEIGHED, page)
        self._tell(PROVED, self._with_sheets(page, drawn))
        if self._unlaid is not None:
            raise self._unlaid

    def _weighed(self, page: Page, drawn: DrawnUp) -> None:
        known = self._with_known_sheets(page, drawn)
        self._tell(WEIGHED if known is page else LAID, known)
        if known is page:
            laid = self._with_sheets(page, drawn)
            if laid is not page:
                self._tell(LAID, laid)

    def _with_known_proof(self, drawn: DrawnUp) -> DrawnUp:
        """Return it with the steps that are known to hold: they need not come and go."""
        known = self.memory.known_proof(drawn.given)
        return drawn if known is None else replace(drawn, proof=known)

    def _with_known_sheets(self, page: Page, drawn: DrawnUp) -> Page:
        known = self.memory.known_layout(drawn.cut, self.job)
        return page if known is None else with_sheets(page, drawn, known)

    def _with_sheets(self, page: Page, drawn: DrawnUp) -> Page:
        """Return a page with sheets; without where it cannot be laid on any, to be told later."""
        if self._unlaid is not None:
            return page
        try:
            laid = self.memory.lay(drawn.cut, self.job, progress=self.progress)
        except NestingError as err:
            self._unlaid = err
            return page
        return with_sheets(page, drawn, laid)

    def _page(self, drawn: DrawnUp) -> Page:
        return drawn_page(
            self.recipe, self.job, drawn, scene=self.memory.scene(drawn.given, drawn.proof)
        )

    def _tell(self, depth: str, page: Page) -> None:
        # Between the first picture and the proof the rig stays as it is.
        before = None if depth == PROVED else self._drawn
        said = content(page) if before is None else seen_again(before, page)
        if depth == DRAWN:
            self._drawn = said
        self.show(depth, said)
