"""The views, in the order of the job: adding one adds a row here, and nothing else in the app."""

from __future__ import annotations

import importlib
from typing import NamedTuple, cast

from textual.binding import Binding

from rigtui.tui.views.base import View


class ViewFacts(NamedTuple):
    """What the program knows of a view before it is first gone to."""

    key: str
    """The key that goes to it from anywhere."""
    id: str
    title: str
    home: str
    """Its module below `rigtui.tui.views`; loaded when it is first gone to."""
    class_name: str
    tables: tuple[str, ...] = ()
    """Tables of the rig file whose rows it shows; other rows are mended in the file."""

    def view_class(self) -> type[View]:
        """Its class."""
        module = importlib.import_module(f"rigtui.tui.views.{self.home}")
        return cast(type[View], getattr(module, self.class_name))

    def make(self) -> View:
        """Make the view."""
        return self.view_class()(id=self.id)

    @property
    def binding(self) -> Binding:
        """The key that goes to it; the palette and the help find it by its title."""
        return Binding(self.key, f"view('{self.id}')", self.title, show=False, id=f"app.{self.id}")


BOARD_TABLES = ("pedals", "loops", "chain", "amp", "switcher", "player")
BENCH_TABLES = ("bench", "places", "holes", "plugs", "reels", "patch_leads")
VIEWS = (
    ViewFacts("1", "board", "Board", "board.view", "BoardView", BOARD_TABLES),
    ViewFacts("2", "presets", "Presets", "presets.view", "PresetsView", ("presets",)),
    ViewFacts("3", "setlist", "Setlist", "setlist.view", "SetlistView", ("songs", "setlists")),
    ViewFacts("4", "report", "Report", "report.view", "ReportView"),
    ViewFacts("5", "plan", "Plan", "plan.view", "PlanView"),
    ViewFacts("6", "wiring", "Wiring", "wiring.view", "WiringView", BENCH_TABLES),
)
VIEW_OF = {view.id: view for view in VIEWS}
SHOWN_IN = {table: view.id for view in VIEWS for table in view.tables}
"""The view that shows the rows of each table."""
FIRST = "presets"
"""The view that a rig opens in."""
