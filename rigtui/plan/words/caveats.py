"""What to know of a plan before it is accepted, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigtui.model.places import taken_apart
from rigtui.model.rig import Rig
from rigtui.model.text import count, first_few, listed, visible
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import OF_GOAL
from rigtui.plan.ask.result import Plan
from rigtui.plan.verdict.appraisal import Appraisal
from rigtui.plan.verdict.compare import SongRow
from rigtui.plan.verdict.other_setlists import OtherSetlist
from rigtui.plan.verdict.unstored import Unstored, moves_without

_MOST_NAMED = 4


def caveats(known: Appraisal) -> tuple[str, ...]:
    """Say what to know before a plan is accepted, what weighs most first."""
    plan = known.plan
    before, after = plan.before, plan.after
    today = _today(known)
    if plan.rig is None or after is None:
        return (today,) if today else ()
    said = [
        _lost(plan.rig, known.others),
        _not_better(known),
        today,
        _then(known),
        _worst(before, after),
        _songs(known.songs),
        _others(known.others),
    ]
    return tuple(text for text in said if text is not None)


def brief_caveats(known: Appraisal) -> tuple[str, ...]:
    """The same without what the four lines in brief and the list of songs say already."""
    plan, before, after = known.plan, known.plan.before, known.plan.after
    if plan.rig is None or after is None:
        return caveats(known)
    said = [
        _lost(plan.rig, known.others),
        None if _plays_more(known) else _not_better(known),
        _worst(before, after),
        _others(known.others),
    ]
    return tuple(text for text in said if text is not None)


def _not_better(known: Appraisal) -> str | None:
    plan, before, after = known.plan, known.plan.before, known.plan.after
    if after is None or (plan.rig == known.now and after == before):
        return None
    if plan.goal.key(after) < plan.goal.key(before):
        if _plays_more(known):
            return _more_than_unplayable(plan, before, after)
        return _more_between(before, after)
    if after.moves > before.moves:
        said = (
            f"No better than today: {count(after.moves - before.moves, 'move')} more inside songs"
        )
    elif after.moves == before.moves:
        said = "No better than today: as many moves inside songs"
    else:
        said = (
            f"No better than today: {OF_GOAL[plan.goal.first]} {plan.goal.value(before):g} → "
            f"{plan.goal.value(after):g}"
        )
    gains = list(_gains(plan, before, after))
    return (
        f"{said}; what it brings: {', '.join(gains)}"
        if gains
        else f"{said}, and nothing else gets less"
    )


def _plays_more(known: Appraisal) -> bool:
    """Whether a plan takes more than today's rig, as that cannot be played."""
    plan = known.plan
    return (
        known.makes_playable
        and plan.after is not None
        and plan.goal.value(plan.after) > plan.goal.value(plan.before)
    )


def _more_than_unplayable(plan: Plan, before: Figures, after: Figures) -> str:
    """Say that a plan takes more than today's rig, as that cannot be played."""
    return (
        f"{OF_GOAL[plan.goal.first].capitalize()} {plan.goal.value(before):g} → "
        f"{plan.goal.value(after):g}: more than today, but today's figure counts "
        f"{count(before.unplayable, 'section')} that you can't play"
    )


def _more_between(before: Figures, after: Figures) -> str | None:
    """Say that what a plan saves inside songs is paid for between them."""
    if after.in_all <= before.in_all or after.moves > before.moves:
        return None
    return (
        f"More moves in all: {count(before.moves - after.moves, 'move')} fewer inside songs, "
        f"{after.set_up_moves - before.set_up_moves} more between, "
        f"{after.in_all - before.in_all} more in all"
    )


def _gains(plan: Plan, before: Figures, after: Figures) -> Iterator[str]:
    """What gets less where the moves inside songs do not."""
    pairs = [
        ("the worst change", before.worst_change, after.worst_change),
        ("moves between songs", before.set_up_moves, after.set_up_moves),
        (
            "switches that the foot passes",
            plan.details.get("travel_switches_before", 0),
            plan.details.get("travel_switches", 0),
        ),
    ]
    for what, was, will in pairs:
        if will < was:
            yield f"{what} {was} → {will}"


def _worst(before: Figures, after: Figures) -> str | None:
    parts = [
        f"{what} {was} → {will}"
        for what, was, will in (
            ("the worst single change", before.worst_change, after.worst_change),
            ("the most presses on one beat", before.on_the_beat_worst, after.on_the_beat_worst),
        )
        if will > was
    ]
    return f"What gets harder: {', '.join(parts)}" if parts else None


def _songs(rows: Sequence[SongRow]) -> str | None:
    worse = [row for row in rows if row.then > row.now]
    if not worse:
        return None
    most = max(worse, key=lambda row: row.then - row.now)
    return visible(
        f"{len(worse)} of {count(len(rows), 'song')} "
        f"{'needs' if len(worse) == 1 else 'need'} more moves than today, {most.title} the most "
        f"({most.now} → {most.then})"
    )


# What no memory holds


def _today(known: Appraisal) -> str | None:
    """Say what cannot be played today, and what the songs that can be played need."""
    gaps, now, then = known.unstored_now, known.now, known.plan.rig
    if gaps is None:
        return None
    rest, kept = moves_without(now, known.evening, gaps)
    said = (
        f"{_counted(gaps)} can't be played today: {_named(now, gaps)}. "
        f"{known.plan.before.moves} counts them anyway"
    )
    if not rest:
        return f"{said}; no song can be played whole"
    need = "song that can be played needs" if rest == 1 else f"{rest} songs that can be played need"
    said += f"; the {need} {count(kept, 'move')} today"
    if then is not None:
        _, planned = moves_without(then, known.evening, gaps)
        said += f", {planned} as planned"
    return said


def _then(known: Appraisal) -> str | None:
    """Say what no memory holds with the plan either."""
    gaps, then = known.unstored_then, known.plan.rig
    if gaps is None or then is None:
        return None
    return f"{_counted(gaps)} can't be played with the plan: {_named(then, gaps)}"


def _named(rig: Rig, gaps: Unstored) -> str:
    """Say "Two isn't stored" or "Two, Three and 4 more aren't stored"."""
    labels = [visible(preset.label) for preset in rig.presets if preset.id in gaps.presets]
    return f"{first_few(labels, _MOST_NAMED)} {'isn' if len(labels) == 1 else 'aren'}'t stored"


def _counted(gaps: Unstored) -> str:
    return f"{count(len(gaps.sections), 'section')} of {count(len(gaps.songs), 'song')}"


# Other setlists


def _lost(then: Rig, rows: Sequence[OtherSetlist]) -> str | None:
    """Say what no foot can recall any more outside the evening; None where nothing is lost."""
    labels = {preset.id: preset.label for preset in then.presets}
    said = []
    for row in rows:
        if not row.lost:
            continue
        songs = {taken_apart(place).row for place in row.lost}
        presets = [visible(labels[preset]) for preset in row.presets]
        more = f" and {len(presets) - _MOST_NAMED} more" if len(presets) > _MOST_NAMED else ""
        said.append(
            f"in {visible(row.label)} you can no longer recall "
            f"{count(len(row.lost), 'section')} of {count(len(songs), 'song')}: no memory is left "
            f"for {listed(presets[:_MOST_NAMED])}{more}"
        )
    return f"Worse for what you did not plan for: {'; '.join(said)}" if said else None


def _others(rows: Sequence[OtherSetlist]) -> str | None:
    """Say what becomes of the moves of the other setlists; None where all stays as it is."""
    said = []
    for row in rows:
        if row.moves_before == row.moves_after and not row.newly_recalled:
            continue
        text = f"{visible(row.label)} {row.moves_before} → {row.moves_after}"
        notes = (
            [f"{count(row.newly_recalled, 'section')} more can be recalled"]
            if row.newly_recalled
            else []
        )
        notes += ["counted as if all could be recalled"] if row.lost else []
        said.append(text + (f" ({', '.join(notes)})" if notes else ""))
    return f"Moves inside songs of what you did not plan for: {'; '.join(said)}" if said else None
