"""The plan as one JSON object, with the keys that other programs rely on."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from rigtui.plan.ask.result import Status
from rigtui.plan.verdict.compare import outside_of, song_rows
from rigtui.plan.verdict.mapping import mapped_anew
from rigtui.plan.verdict.other_setlists import other_setlists
from rigtui.plan.verdict.unstored import moves_without, unstored
from rigtui.plan.verdict.worth import presses_saved, work_of, worth_of
from rigtui.plan.words.what_to_do import what_to_do

if TYPE_CHECKING:
    from rigtui.cli.plan.outcome import Outcome
    from rigtui.model.rig import Rig
    from rigtui.plan.ask.result import Plan


def json_text(outcome: Outcome) -> str:
    """Write a plan as one line of JSON, in ASCII so that no terminal acts on what it holds."""
    made = outcome.plan
    details = dict(made.details)
    whole = {
        "rig": outcome.rig.name,
        "format": outcome.rig.format,
        "kind": made.kind,
        "setlists": [setlist.id for setlist in outcome.evening.setlists],
        "without": outcome.night.missing,
        "status": made.status.value,
        "proved": made.proved or (made.kind == "curve" and made.status is Status.OPTIMAL),
        "interrupted": outcome.interrupted,
        "goal": made.goal.first,
        "value": made.value,
        "moves_before": made.moves_before,
        "moves_after": made.moves_after,
        "lower_bound": made.lower_bound,
        "worst_change_before": made.before.worst_change,
        "worst_change": made.worst_change,
        "on_the_beat_worst_before": made.before.on_the_beat_worst,
        "on_the_beat_worst": None if made.after is None else made.after.on_the_beat_worst,
        "set_up_moves_before": made.before.set_up_moves,
        "set_up_moves": None if made.after is None else made.after.set_up_moves,
        "set_up_moves_after": None if made.after is None else made.after.set_up_moves,
        "moves_in_all_before": made.before.in_all,
        "moves_in_all_after": None if made.after is None else made.after.in_all,
        **_figures(made),
        "better": outcome.appraisal.better,
        "in_short": None if made.rig is None else what_to_do(outcome.appraisal),
        "worth": _worth(outcome),
        "smaller": _smaller(outcome),
        "caveats": outcome.caveats,
        "findings": _findings(outcome),
        "unheld": _unstored(outcome),
        "others": _others(outcome),
        "objective": dict(made.objective),
        "parts": [{**asdict(part), "proved": part.proved} for part in made.parts],
        **_layout(made.rig),
        "songs": _songs(outcome, details.pop("songs", ())),
        "mapped": _mapped(outcome),
        "steps": made.steps,
        "notes": made.notes,
        "infeasible": None if made.conflict is None else asdict(made.conflict),
        "explain": None if outcome.explained is None else dict(outcome.explained.details),
        "curves": details.pop("curves", None),
        "details": details,
        "written": outcome.written,
    }
    return json.dumps(whole, ensure_ascii=True, allow_nan=False) + "\n"


def _worth(outcome: Outcome) -> dict[str, Any] | None:
    """Whether the plan is worth its work, and both sides of that; null where there is no plan."""
    known = outcome.appraisal
    if known.plan.rig is None:
        return None
    return {
        "verdict": worth_of(known).value,
        "presses_saved": presses_saved(known),
        **asdict(work_of(known.now, known.plan.rig)),
    }


def _smaller(outcome: Outcome) -> dict[str, Any] | None:
    """What would do as well with far less to learn; null where nothing would."""
    if outcome.smaller is None:
        return None
    point = outcome.smaller.point
    return {
        "what": outcome.smaller.text,
        "sections": point.sections,
        "unplayable": point.counted.unplayable,
        "extra_presses": point.counted.extra_presses,
        "moves": point.counted.moves,
    }


def _figures(made: Plan) -> dict[str, float | None]:
    """What comes before moves when plans are compared, now and as planned."""
    names = ("unplayable", "effort", "extra_presses", "crowded", "bank_steps")
    told: dict[str, float | None] = {}
    for name in names:
        told[f"{name}_before"] = getattr(made.before, name)
        told[f"{name}_after"] = None if made.after is None else getattr(made.after, name)
    return told


def _layout(rig: Rig | None) -> dict[str, Any]:
    """Loops, pedals outside and presets as planned; null where there is no plan."""
    if rig is None:
        return dict.fromkeys(("loops", "outside", "always_on", "presets"))
    outside, left_on = outside_of(rig)
    return {
        "loops": [
            {"number": loop.number, "side": loop.side, "pedals": loop.pedals} for loop in rig.loops
        ],
        "outside": outside,
        "always_on": left_on,
        "presets": [
            {
                "id": preset.id,
                "name": preset.label,
                "loops": preset.loops,
                "memory": preset.memory,
                "copies": preset.copies,
                "channel": preset.channel,
            }
            for preset in rig.presets
        ],
    }


def _songs(outcome: Outcome, more: Any) -> list[dict[str, Any]]:
    """Moves of each song of the evening, and for a route its walk."""
    if outcome.plan.rig is None:
        return []
    known = {song["id"]: song for song in more}
    return [
        {
            **known.get(row.song, {}),
            "id": row.song,
            "times": row.times,
            "moves_before": row.now,
            "moves_after": row.then,
            "extra_presses_before": row.before.extra_presses,
            "extra_presses_after": row.after.extra_presses,
            "unplayable_before": row.before.unplayable,
            "unplayable_after": row.after.unplayable,
        }
        for row in song_rows(outcome.rig, outcome.plan.rig, outcome.evening)
    ]


def _findings(outcome: Outcome) -> dict[str, Any] | None:
    """What the plan does to the findings, waived ones apart; null where there is no plan."""
    findings = outcome.findings
    if findings is None:
        return None
    return {
        "before": {severity.name: severity.before for severity in findings.severities},
        "after": {severity.name: severity.after for severity in findings.severities},
        "rules": [
            {"rule": row.name, "before": row.before, "after": row.after} for row in findings.rules
        ],
    }


def _unstored(outcome: Outcome) -> dict[str, Any] | None:
    """What today's figure leans on and no memory holds; null where all is held."""
    gaps = unstored(outcome.rig, outcome.evening)
    if gaps is None:
        return None
    songs, moves = moves_without(outcome.rig, outcome.evening, gaps)
    return {**asdict(gaps), "songs_without": songs, "moves_without": moves}


def _others(outcome: Outcome) -> list[dict[str, Any]]:
    """The setlists that the plan was not made for; setlist is "" for songs that none plays."""
    then = outcome.plan.rig
    if then is None:
        return []
    return [asdict(row) for row in other_setlists(outcome.rig, then, outcome.evening)]


def _mapped(outcome: Outcome) -> list[dict[str, Any]]:
    """The sections of all songs that are played otherwise, as they are and as planned."""
    then = outcome.plan.rig
    if then is None:
        return []
    return [
        {
            "song": change.song,
            "section": section.section,
            "name": section.name,
            "before": asdict(section.now),
            "after": asdict(section.then),
        }
        for change in mapped_anew(outcome.rig, then)
        for section in change.sections
    ]
