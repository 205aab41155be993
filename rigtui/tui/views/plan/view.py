"""The plan: what may change, the planner at work beside the screen, now and planned side by side.

Nothing changes until the player accepts; then everything does, as one step of undo.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Static

from rigtui.model.lookup import lookup
from rigtui.plan.ask.question import Question
from rigtui.tui.text import plain
from rigtui.tui.views.base import PlaceRequested, SetlistChosen
from rigtui.tui.views.paned import PanedView
from rigtui.tui.views.plan.accepting import Accepting
from rigtui.tui.views.plan.giving_up import GivingUp
from rigtui.tui.views.plan.head import StageOfPlan, head_lines
from rigtui.tui.views.plan.lists import RELAXATION, PlacedRows, option_listing
from rigtui.tui.views.plan.options import OptionRow, changed_since, cleared, option_rows, stepped
from rigtui.tui.views.plan.runs import PlanRuns
from rigtui.tui.views.plan.shown import outcome_shown, songs_shown, todo_shown
from rigtui.tui.views.plan.smaller import SmallerSearch
from rigtui.tui.views.plan.worth import PlanWorth
from rigtui.tui.views.proposing import propose
from rigtui.tui.widgets.panes import PaneBar, PaneTitle

if TYPE_CHECKING:
    from rigtui.model.rig import Rig

WIDE, TALL = 110, 28
"""Cells and lines from which on all four lists have room beside each other."""
LEFT = 50
"""Cells of the left lists where there is room for two beside each other."""
_TICK_SECONDS = 0.25


class PlanView(PanedView):
    """Options, the planner's answer, what to do, and the songs."""

    title = "Plan"
    starts_by_itself: ClassVar[bool] = True
    """Whether it plans as soon as it is opened for the first time."""
    PANES = ("options", "outcome", "todo", "songs")
    GRID_ID = "plan-{}"
    DEFAULT_CSS = """
    PlanView {
        & > #plan-head {
            height: auto; min-height: 3; max-height: 11; padding: 0 1; background: $surface;
        }
        & > #plan-panes { height: 1fr; layout: vertical; }
        & .pane { height: 1fr; display: none; }
        & .pane.-here { display: block; }
        & .pane--title { height: 1; display: none; text-style: bold; color: $foreground; }
        &.-wide > PaneBar { display: none; }
        &.-wide > #plan-panes {
            layout: grid; grid-size: 2 2; grid-columns: 50 1fr; grid-rows: 3fr 2fr;
            grid-gutter: 0 1;
        }
        &.-wide .pane { display: block; height: 100%; }
        &.-wide .pane--title { display: block; }
    }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "change", "Change", id="plan.change"),
        Binding("p", "run", "Start", id="plan.run"),
        Binding("c", "stop", "Stop", id="plan.stop"),
        Binding("y", "accept", "Accept", id="plan.accept"),
        Binding("t", "give_up", "Give up", id="plan.give-up"),
        Binding("o", "smaller", "Touch fewer sections", show=False, id="plan.smaller"),
        Binding("w", "without", "Play without a pedal", show=False, id="plan.without"),
        Binding("a", "apart", "Keep apart", show=False, id="plan.apart"),
        Binding("x,delete", "clear", "Clear the option", show=False, id="plan.clear"),
        Binding("tab", "pane(1)", "Next list", id="plan.next"),
        Binding("shift+tab", "pane(-1)", "List before", show=False, id="plan.before"),
    ]

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self.question = Question()
        self.runs = PlanRuns(
            self,
            self._unless_quitting(self._draw_head),
            self._unless_quitting(self._show_so_far),
            self._unless_quitting(self._ended),
            self._unless_quitting(self._draw_todo),
        )
        self.worth = PlanWorth(self, self._unless_quitting(self._weighed))
        self._smaller = SmallerSearch(self, self._unless_quitting(self._found_smaller))
        self._giving_up = GivingUp(self)
        self._accepting = Accepting(
            self, self.runs, self.worth, self._changed_since, self.action_run
        )
        self._clock: Timer | None = None
        self._rows: list[OptionRow] = []
        self._listings: dict[str, PlacedRows] = {}
        self._can = dict.fromkeys(("stop", "accept", "apart", "smaller"), False)
        """Which keys make sense now, of those that do not always."""
        self._after_edit = False
        """Whether to plan as soon as an edit that was asked for is made."""
        self._opened: object = None
        """The document for which it has started by itself."""

    def _unless_quitting(self, act: Callable[[], None]) -> Callable[[], None]:
        """What a worker may still call while the program quits and the lists are gone."""

        def told() -> None:
            if self.is_attached and self.app.is_running:
                act()

        return told

    def compose(self) -> ComposeResult:
        """How it stands, titles, the lists."""
        yield Static("", id="plan-head", markup=False)
        yield PaneBar()
        with Container(id="plan-panes"):
            yield from self.compose_panes()

    def on_mount(self) -> None:
        """Have a clock for while the planner is at work."""
        self._clock = self.set_interval(_TICK_SECONDS, self._draw_head, pause=True)

    def on_unmount(self) -> None:
        """Leave no planner and no adviser behind."""
        self.runs.kill()
        self._smaller.forget()

    # The lists

    def pane_changed(self) -> None:
        """Mark the list that takes the keys, and grey out what makes no sense in it."""
        self._draw_titles()
        self._enable()

    @property
    def option(self) -> OptionRow | None:
        """The option under the cursor, while the options take the keys."""
        at = self._grid("options").cursor_row
        if self.pane != "options" or at >= len(self._rows):
            return None
        row = self._rows[at]
        return row if row.key else None

    # Showing

    def show_rig(self, rig: Rig) -> None:
        """Show what can be asked about a rig; a plan for another one stays, and is marked.

        Opened for the first time, it starts by itself with the options as they are.
        """
        super().show_rig(rig)
        document = getattr(self.app, "document", None)
        if document is not self._opened:
            if self._opened is not None:
                self._begin_anew()
            self._opened = document
            if self.starts_by_itself and rig.songs and rig.switcher is not None:
                self.call_after_refresh(self.action_run)
        elif self._after_edit:
            self.call_after_refresh(self.action_run)
        self._after_edit = False
        self._draw()

    def _begin_anew(self) -> None:
        """Another file is open: forget what was planned for the one before."""
        self.question = Question()
        self.runs.forget()
        self.worth.forget()
        self._smaller.forget()

    def on_resize(self) -> None:
        """Use the room that there is."""
        self.set_class(self.size.width >= WIDE and self.full_height >= TALL, "-wide")
        self.call_after_refresh(self._draw)

    def _draw(self) -> None:
        if self.rig is not None:
            self._draw_options()
            self._draw_plan()

    def _width(self, name: str) -> int:
        """Cells that a list has; told from the layout, which may not be done yet."""
        width = self.size.width or self.app.size.width
        if not self.has_class("-wide"):
            return width
        return LEFT if name in ("options", "todo") else width - LEFT - 1

    def _draw_options(self) -> None:
        assert self.rig is not None
        self._rows = option_rows(self.question, self.rig)
        shown = option_listing(self._rows, self._width("options"))
        self._grid("options").show(shown.columns, shown.rows)
        self._enable()

    def _draw_plan(self) -> None:
        width, accepted = self._width("outcome"), self._accepted
        outcome = outcome_shown(self.runs, self.rig, width, accepted=accepted)
        self._show("outcome", outcome, "Press p: the board now and as planned comes here.")
        self._draw_todo()
        width = self._width("songs")
        songs = songs_shown(self.runs, self.rig, self.question, width, accepted=accepted)
        self._show("songs", songs, "The presses of each song come here.")
        self._draw_titles()
        self._draw_head()
        self._enable()

    def _draw_todo(self) -> None:
        width = self._width("todo")
        head = (self.size.width or self.app.size.width) - 2
        todo = todo_shown(self.runs, self.worth, width, head, accepted=self._accepted)
        self._show("todo", todo, "What to re-plug and to program comes here.")

    def _show(self, name: str, listing: PlacedRows | None, nothing: str) -> None:
        grid = self._grid(name)
        listing = listing or PlacedRows([], [])
        self._listings[name] = listing
        grid.empty_text = nothing
        grid.show(listing.columns, listing.rows)
        if not listing.columns:
            grid.refresh()

    def _draw_titles(self) -> None:
        kind = self.runs.plan.kind if self.runs.plan is not None else ""
        outcome = {"route": "Walk", "curve": "Curve"}.get(kind, "Now and planned")
        titles = ("Options", outcome, "To do and why", "Songs")
        self.query_one(PaneBar).titles = tuple(map(PaneTitle, titles))
        for at, (name, title) in enumerate(zip(self.PANES, titles)):
            mark = ">" if at == self._pane else " "
            label = self.query_one(f"#pane-{name} .pane--title", Static)
            label.update(plain(f"{mark} {title}"))

    def _draw_head(self) -> None:
        width = self.size.width or self.app.size.width
        shown = head_lines(self.stage, width - 2, roomy=self.full_height >= TALL)
        lines = [plain(line.text).stylize(line.look) for line in shown]
        self.query_one("#plan-head", Static).update(Content("\n").join(lines))

    def _weighed(self) -> None:
        """The findings of the plan are counted."""
        self._draw_head()
        self._draw_todo()

    def _found_smaller(self) -> None:
        """There is something that does as well as the plan, with far less to learn."""
        self._draw_head()
        self._enable()

    @property
    def stage(self) -> StageOfPlan:
        """How it stands, for the head."""
        runs = self.runs
        new = runs.plan.rig if runs.plan is not None else None
        return StageOfPlan(
            plan=runs.plan,
            fault=runs.fault,
            progress=runs.progress,
            running=runs.running,
            stopping=runs.stopping,
            seconds=runs.seconds,
            interrupted=runs.interrupted,
            same=new is not None and new == runs.rig,
            accepted=self._accepted,
            stale=runs.plan is not None and not runs.fits(self.rig),
            caveats=self.worth.first_caveats,
            changed_since=self._changed_since(),
            asks=bool(self.worth.doubts),
            evening=self._evening(),
            known=self.worth.known,
            falling=runs.falling,
            smaller=self._smaller.way.brief if self._smaller.way is not None else "",
        )

    @property
    def _accepted(self) -> bool:
        """Whether the rig is as planned."""
        new = self.runs.plan.rig if self.runs.plan is not None else None
        return new is not None and new == self.rig

    def _evening(self) -> str:
        """Whom the plan is for, where that could be something else."""
        rig, asked = self.runs.rig, self.runs.asked
        if rig is None or asked is None or len(rig.setlists) < 2:
            return ""
        names = [setlist.label for setlist in rig.setlists if setlist.id in asked.setlists]
        return ", ".join(names) or f"All {len(rig.setlists)} setlists"

    def _changed_since(self) -> list[str]:
        """What is asked for otherwise now than when the plan was made."""
        rig, asked = self.runs.rig, self.runs.asked
        if rig is None or asked is None:
            return []
        return changed_since(asked, self.question.fitting(rig))

    # Options

    def action_change(self) -> None:
        """Change the option under the cursor, or go to the place that a row is about."""
        from rigtui.tui.views.plan.forms import ask_for

        option, rig = self.option, self.rig
        if rig is None:
            return
        if option is None:
            self._go_to_place()
            return
        if option.steps or option.key == "apart":
            self._change(stepped(self.question, option))
        else:
            ask_for(self.app, option, self.question, rig, self._change)

    def _change(self, question: Question) -> None:
        if question.setlists and question.setlists != self.question.setlists:
            self.post_message(SetlistChosen(question.setlists[0]))
        self.question = question
        self._draw_options()
        self._draw_head()

    def action_clear(self) -> None:
        """Take back what the row under the cursor asks for."""
        if self.option is not None:
            self._change(cleared(self.question, self.option))

    def action_apart(self) -> None:
        """Choose a pedal that the one under the cursor may not share a loop with."""
        from rigtui.tui.views.plan.forms import ask_apart

        option, rig = self.option, self.rig
        if option is not None and option.key == "pedal" and rig is not None:
            ask_apart(self.app, option, self.question, rig, self._change)

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor does what enter does."""
        self.action_change()

    def on_grid_cursor_moved(self) -> None:
        """What can be done depends on the row."""
        self._enable()

    def _go_to_place(self) -> None:
        listing = self._listings.get(self.pane)
        at = self.grid.cursor_row
        if listing is None or at >= len(listing.places) or not listing.places[at]:
            return
        place = listing.places[at]
        if place.startswith(RELAXATION):
            self._relax(int(place.removeprefix(RELAXATION)))
        else:
            self.post_message(PlaceRequested(place))

    def _relax(self, nth: int) -> None:
        """Take a change that makes a plan possible into the options."""
        assert self.runs.plan is not None
        assert self.runs.plan.conflict is not None
        way = self.runs.plan.conflict.relaxations[nth]
        if not way.changes:
            self.notify(f"That is for you to change: {way.text}.", markup=False)
            return
        self._change(self.question.changed(way.changes))
        self._go_to_pane(self.PANES.index("options"))
        self.notify(f"Added to your options: {way.text}. Press p to plan again.", markup=False)

    # The planner

    def start(self, kind: str) -> None:
        """Plan one kind of thing, with the options as they are otherwise."""
        self._change(replace(self.question, kind=kind))
        self.action_run()

    def action_run(self) -> None:
        """Plan, with the options as they are now; one that is running is given up."""
        if self.rig is None:
            return
        self.runs.start(self.rig, self.question.fitting(self.rig))
        if not self.has_class("-wide") and self.pane == "options":
            self._go_to_pane(self.PANES.index("outcome"))
        if self._clock is not None:
            self._clock.resume()
        self._draw_head()
        self._enable()

    def _ended(self) -> None:
        if self._clock is not None:
            self._clock.pause()
        for name in self.PANES[1:]:
            self._grid(name).move_to(0)
        self.worth.forget()
        self._smaller.forget()
        self._draw_head()  # who stops a planner sees at once that it has stopped
        self.call_after_refresh(self._show_plan)

    def _show_so_far(self) -> None:
        """There is something to look at while the planner goes on."""
        self.worth.forget()
        self._smaller.forget()
        self._draw_plan()

    def _show_plan(self) -> None:
        runs = self.runs
        if runs.running:
            return
        if runs.plan is not None and runs.rig is not None and runs.asked is not None:
            known = self.worth.weigh(runs.plan, runs.rig, runs.asked)
            self._smaller.look(known, runs.asked)
        self._draw_plan()
        if not self.display:
            self.notify("The planner is done: key 5 shows what it found.", markup=False)

    def action_stop(self) -> None:
        """Stop the planner and keep the best so far; a second time, give it up."""
        self.runs.stop()
        self._draw_head()

    # What may be done

    def action_accept(self) -> None:
        """Make the rig what the plan says, as one step of undo."""
        self._accepting.accept()

    def action_give_up(self) -> None:
        """Look at what giving up sounds buys, with the options as they are; perhaps do it."""
        if self.rig is not None:
            self._giving_up.choose(self.rig, self.question.fitting(self.rig))

    def action_without(self) -> None:
        """Ask which pedal is out tonight, say what that costs, take it out and plan again."""
        from rigtui.model.edits import delete_pedal
        from rigtui.tui.views.plan.forms import pedal_pick

        rig = self.rig
        if rig is None or not rig.pedals:
            self.say("There is no pedal to do without")
            return

        def chosen(pedal: str | None) -> None:
            if pedal is not None:
                label = f"play without {lookup(rig).label(pedal)}"
                edit = partial(delete_pedal, pedal_id=pedal)
                propose(self, label, edit, lambda edit: do(label, edit), "do it and plan again")

        def do(label: str, edit: Callable[[Rig], Rig]) -> None:
            self._after_edit = True
            self.request(label, edit)

        self.app.push_screen(pedal_pick(rig), chosen)

    def action_smaller(self) -> None:
        """Look at what does as well as the plan with far less to learn; perhaps do it."""
        if self._smaller.way is not None and self.runs.rig is not None:
            self._giving_up.preview(self.runs.rig, self._smaller.way)

    # Keys that make sense

    def _enable(self) -> None:
        option, runs = self.option, self.runs
        new = runs.plan.rig if runs.plan is not None else None
        can = {
            "stop": runs.running,
            "accept": new is not None and new != runs.rig and not runs.running,
            "apart": option is not None and option.key == "pedal",
            "smaller": self._smaller.way is not None and runs.fits(self.rig),
        }
        if can != self._can:
            self._can = can
            self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Grey out what makes no sense now."""
        return True if self._can.get(action, True) else None
