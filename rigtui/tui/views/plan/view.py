"""The plan: what may change, the planner at work beside the screen, now and then side by side.

Nothing changes until the player accepts; then everything does, as one step of undo.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Static

from rigtui.model.errors import EditError
from rigtui.model.text import count
from rigtui.plan.ask.question import Question
from rigtui.tui.text import plain
from rigtui.tui.views.base import PlaceRequested, SetlistChosen
from rigtui.tui.views.paned import PanedView
from rigtui.tui.views.plan.head import StageOfPlan, head_lines
from rigtui.tui.views.plan.lists import (
    RELAXATION,
    PlacedRows,
    conflict_listing,
    option_listing,
    song_listing,
    todo_listing,
)
from rigtui.tui.views.plan.options import (
    OptionRow,
    changed_since,
    cleared,
    in_memory,
    kept_apart,
    option_rows,
    stepped,
)
from rigtui.tui.views.plan.outcome import board_listing, curve_listing, walk_listing
from rigtui.tui.views.plan.runs import PlanRuns
from rigtui.tui.views.plan.worth import PlanWorth
from rigtui.tui.widgets.panes import PaneBar

if TYPE_CHECKING:
    from rigtui.advice.giving_up.told import ToldPoint
    from rigtui.model.rig import Rig
    from rigtui.plan.ask.result import Plan

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
            height: auto; min-height: 3; max-height: 9; padding: 0 1; background: $surface;
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
        Binding("a", "apart", "Keep apart", show=False, id="plan.apart"),
        Binding("x,delete", "clear", "Clear the option", show=False, id="plan.clear"),
        Binding("tab", "pane(1)", "Next list", id="plan.next"),
        Binding("shift+tab", "pane(-1)", "List before", show=False, id="plan.before"),
    ]

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self.question = Question()
        self.runs = PlanRuns(self, self._draw_head, self._ended, self._draw_todo)
        self.worth = PlanWorth(self, self._weighed)
        self._clock: Timer | None = None
        self._rows: list[OptionRow] = []
        self._listings: dict[str, PlacedRows] = {}
        self._can: tuple[bool, bool, bool] = (False, False, False)
        self._opened: object = None
        """The document for which it has started by itself."""

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
        """Leave no planner behind."""
        self.runs.kill()

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
        self._draw()

    def _begin_anew(self) -> None:
        """Another file is open: forget what was planned for the one before."""
        self.runs.kill()
        self.question = Question()
        self.runs = PlanRuns(self, self._draw_head, self._ended, self._draw_todo)
        self.worth.forget()

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
        self._show("outcome", self._outcome(), "p plans: now and then will stand here.")
        self._draw_todo()
        self._show("songs", self._songs(), "Moves of each song will stand here.")
        self._draw_titles()
        self._draw_head()
        self._enable()

    def _show(self, name: str, listing: PlacedRows | None, nothing: str) -> None:
        grid = self._grid(name)
        listing = listing or PlacedRows([], [])
        self._listings[name] = listing
        grid.empty_text = nothing
        grid.show(listing.columns, listing.rows)
        if not listing.columns:
            grid.refresh()

    def _outcome(self) -> PlacedRows | None:
        plan, rig, width = self.runs.plan, self.runs.rig, self._width("outcome")
        if plan is None or rig is None:
            return None if self.rig is None else board_listing(self.rig, self.rig, width)
        if plan.conflict is not None:
            return conflict_listing(plan, rig, width)
        if plan.kind == "curve":
            return curve_listing(plan, width)
        if plan.kind == "route":
            return walk_listing(plan, rig, width)
        if plan.rig is None:
            return None
        return board_listing(rig, plan.rig, width, self._sentence(), accepted=self._accepted)

    def _sentence(self) -> str:
        """What to do, where the head has no room for it."""
        from rigtui.plan.words.what_to_do import what_to_do

        known = self.worth.known
        if known is None or known.plan.rig is None or self._roomy or self._accepted:
            return ""
        return what_to_do(known)

    @property
    def _roomy(self) -> bool:
        return self.full_height >= TALL

    def _draw_todo(self) -> None:
        plan = self.runs.plan
        rig, width, sentences = self.runs.rig, self._width("todo"), self.worth.sentences
        todo = None
        if plan is not None and rig is not None:
            todo = todo_listing(
                plan, rig, sentences, self.runs.why, width, self.worth.known,
                accepted=self._accepted,
            )  # fmt: skip
        self._show("todo", todo, "What to re-plug and re-program will stand here.")

    def _songs(self) -> PlacedRows | None:
        from rigtui.plan.ask.evening import evening_of

        plan, rig, asked = self.runs.plan, self.runs.rig, self.runs.asked
        width = self._width("songs")
        if plan is None or rig is None or asked is None:
            return self._songs_as_they_are(width)
        if plan.rig is None:
            return None
        evening = evening_of(rig, asked.setlists)
        return song_listing(rig, plan.rig, evening, width, accepted=self._accepted)

    def _songs_as_they_are(self, width: int) -> PlacedRows | None:
        """The songs before there is any plan."""
        from rigtui.plan.ask.evening import evening_of
        from rigtui.plan.ask.result import PlanError

        if self.rig is None:
            return None
        try:
            evening = evening_of(self.rig, self.question.fitting(self.rig).setlists)
        except PlanError:  # there is no song yet
            return None
        return song_listing(self.rig, self.rig, evening, width)

    def _draw_titles(self) -> None:
        kind = self.runs.plan.kind if self.runs.plan is not None else ""
        outcome = {"route": "Walk", "curve": "Curve"}.get(kind, "Now and then")
        titles = ("Options", outcome, "To do and why", "Songs")
        self.query_one(PaneBar).titles = titles
        for at, (name, title) in enumerate(zip(self.PANES, titles)):
            mark = ">" if at == self._pane else " "
            label = self.query_one(f"#pane-{name} .pane--title", Static)
            label.update(plain(f"{mark} {title}"))

    def _draw_head(self) -> None:
        width = self.size.width or self.app.size.width
        shown = head_lines(self.stage, width - 2, roomy=self._roomy)
        lines = [plain(line.text).stylize(line.look) for line in shown]
        self.query_one("#plan-head", Static).update(Content("\n").join(lines))

    def _weighed(self) -> None:
        """The findings of the plan are counted."""
        self._draw_head()
        self._draw_todo()

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
        option, rig = self.option, self.rig
        if rig is None:
            return
        if option is None:
            self._go_to_place()
            return
        if option.steps or option.key == "apart":
            self._change(stepped(self.question, option))
        else:
            self._ask(option, rig)

    def _ask(self, option: OptionRow, rig: Rig) -> None:
        from rigtui.tui.views.plan.forms import (
            evening_pick,
            kind_pick,
            limit_pick,
            memory_pick,
            number_form,
        )

        if option.key == "memory":
            pick = memory_pick(self.question, option, rig)
            self.app.push_screen(pick, lambda answer: self._pinned(option, answer))
        elif option.name == "kind":
            self.app.push_screen(kind_pick(self.question), self._kind_chosen)
        elif option.name == "setlist":
            self.app.push_screen(evening_pick(self.question, rig), self._evening_chosen)
        elif option.name == "seconds":
            self.app.push_screen(limit_pick(self.question), self._limit_chosen)
        else:
            self.app.push_screen(number_form(self.question, option, rig, self._change))

    def _pinned(self, option: OptionRow, answer: str | None) -> None:
        if answer is not None:
            self._change(in_memory(self.question, option.name, int(answer) or None))

    def _kind_chosen(self, answer: str | None) -> None:
        if answer is not None:
            self._change(replace(self.question, kind=answer))

    def _evening_chosen(self, answer: str | None) -> None:
        if answer is not None:
            self._change(replace(self.question, setlists=(answer,) if answer else ()))
            if answer:
                self.post_message(SetlistChosen(answer))

    def _limit_chosen(self, answer: str | None) -> None:
        if answer is not None:
            seconds = None if answer == str(None) else float(answer)
            self._change(replace(self.question, seconds=seconds))

    def _change(self, question: Question) -> None:
        self.question = question
        self._draw_options()
        self._draw_head()

    def action_clear(self) -> None:
        """Take back what the row under the cursor asks for."""
        if self.option is not None:
            self._change(cleared(self.question, self.option))

    def action_apart(self) -> None:
        """Choose a pedal that the one under the cursor may not share a loop with."""
        from rigtui.tui.views.plan.forms import apart_pick

        option, rig = self.option, self.rig
        if option is None or option.key != "pedal" or rig is None:
            return

        def chosen(answer: str | None) -> None:
            if answer is not None:
                self._change(kept_apart(self.question, option.name, answer))

        self.app.push_screen(apart_pick(rig, option.name), chosen)

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
        self._draw_head()  # who stops a planner sees at once that it has stopped
        self.call_after_refresh(self._show_plan)

    def _show_plan(self) -> None:
        runs = self.runs
        if runs.running:
            return
        if runs.plan is not None and runs.rig is not None and runs.asked is not None:
            self.worth.weigh(runs.plan, runs.rig, runs.asked)
        self._draw_plan()
        if not self.display:
            self.notify("The planner is done: key 5 shows what it found.", markup=False)

    def action_stop(self) -> None:
        """Stop the planner and keep the best so far; a second time, give it up."""
        self.runs.stop()
        self._draw_head()

    def action_accept(self) -> None:
        """Make the rig what the plan says, as one step of undo."""
        plan, rig = self.runs.plan, self.runs.rig
        if plan is None or plan.rig is None or rig is None:
            return
        new = plan.rig
        if not self.runs.fits(self.rig):
            self._offer_again(accepted=new == self.rig)
            return
        self.worth.finish()
        if self._changed_since() or self.worth.doubts:
            self._ask_to_accept(plan, rig, new)
        else:
            self._accept(plan, rig, new)

    def _ask_to_accept(self, plan: Plan, rig: Rig, new: Rig) -> None:
        """Say what speaks against the plan, and accept it only after a yes."""
        from rigtui.tui.views.plan.forms import accept_question

        def answered(answer: str | None) -> None:
            if answer == "p":
                self.action_run()
            elif answer == "y":
                self._accept(plan, rig, new)

        self.app.push_screen(accept_question(self.worth, self._changed_since()), answered)

    def _accept(self, plan: Plan, rig: Rig, new: Rig) -> None:
        def edit(now: Rig) -> Rig:
            if now is not rig and now != rig:
                raise EditError("the rig has changed since this plan was made: plan again")
            return new

        self.request(f"plan {plan.kind}", edit)

    # What to give up

    def action_give_up(self) -> None:
        """Look at what giving up sounds buys, with the options as they are; perhaps do it."""
        from rigtui.tui.views.plan.give_up import GiveUp

        rig = self.rig
        if rig is None:
            return

        def answered(answer: ToldPoint | str | None) -> None:
            if isinstance(answer, str):
                self._gave_up(answer)
            elif answer is not None:
                self._take_point(rig, answer)

        self.app.push_screen(GiveUp(rig, self.question.fitting(rig)), answered)

    def _take_point(self, rig: Rig, point: ToldPoint) -> None:
        from rigtui.advice.wire import only_to

        sections = count(point.sections, "section")
        self.request(
            f"play {sections} with another sound",
            only_to(rig, point.rig),
            f"Done: {sections} with another sound; t, then b gives the sounds back",
        )

    def _gave_up(self, answer: str) -> None:
        """Give sounds back, or go to a place."""
        from rigtui.model.edits.wanted import give_back
        from rigtui.tui.views.plan.give_up import BACK

        if answer != BACK:
            self.post_message(PlaceRequested(answer))
        elif self.rig is not None:
            self._give_back(self.rig, give_back(self.rig))

    def _give_back(self, rig: Rig, then: Rig) -> None:
        from rigtui.advice.wire import only_to
        from rigtui.model.playable import lost_sections

        if then == rig:
            self.say("Every section is played with the sound that it wants, as far as there is one")
            return
        lost = lost_sections(then) - lost_sections(rig)
        more = f"; {count(lost, 'more section')} can't be played, as memories stay" * (lost > 0)
        done = f"Done: sections have the sound they want again{more}"
        self.request("give sounds back", only_to(rig, then), done)

    def _offer_again(self, *, accepted: bool) -> None:
        from rigtui.tui.views.plan.forms import again_question

        if accepted:
            self.notify("The plan is accepted already; u takes it back.", markup=False)
            return

        def answered(answer: str | None) -> None:
            if answer == "p":
                self.action_run()

        self.app.push_screen(again_question(), answered)

    # Keys that make sense

    def _enable(self) -> None:
        option, runs = self.option, self.runs
        new = runs.plan.rig if runs.plan is not None else None
        can = (
            runs.running,
            new is not None and new != runs.rig and not runs.running,
            option is not None and option.key == "pedal",
        )
        if can != self._can:
            self._can = can
            self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Grey out what makes no sense now."""
        place = {"stop": 0, "accept": 1, "apart": 2}.get(action)
        return True if place is None or self._can[place] else None
