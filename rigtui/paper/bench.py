"""What the wiring sheet says of the bench: layout, leads with boxes for tests, cuts, labels."""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.bench.cuts import Cut
from rigtui.bench.leads import Lead, jack_words, leads_of
from rigtui.bench.plugs import plug_sizes
from rigtui.bench.typical import PLUG_NAMES
from rigtui.bench.words import NO_LENGTH, known_leads, mm, no_room, plan_of
from rigtui.bench.work import SOLDERING, SPARES, STEPS, minutes_for, plugs_to_buy
from rigtui.model import Rig
from rigtui.model.layout import Contact
from rigtui.model.text import number_text
from rigtui.paper.content import BOX, CROWDED, Block, Column, Para, Part, Table, trimmed
from rigtui.paper.layout_picture import layout_picture

LEADS = (
    Column("no."), Column("out of"), Column("into"), Column("mm"), Column("plug out of"),
    Column("plug into"), Column("tip", "boxes"), Column("sleeve", "boxes"),
    Column("tip to sleeve", "boxes"), Column("ohms"),
)  # fmt: skip
CUTS = (Column("cut", "boxes"), Column("from"), Column("lead"), Column("mm"), Column("cut at mm"))
WORK = (Column("done", "boxes"), Column("step"), Column("on every lead before the next step"))
LABELS_A_ROW = 4


def bench_parts(rig: Rig) -> tuple[Part, ...]:
    """Return the parts about the bench; none if the file has no bench data."""
    if not (rig.places or rig.patch_leads or rig.reels or rig.plugs):
        return ()
    leads = leads_of(rig)
    if not leads:
        return ()
    picture = layout_picture(rig)
    plan = (Part((picture,), "The board from above"),) if picture is not None else ()
    return (*plan, _leads(rig, leads), _cuts(rig), _work(rig, leads), _labels(rig, leads))


def _leads(rig: Rig, leads: tuple[Lead, ...]) -> Part:
    rows = tuple(
        (
            str(lead.number), jack_words(rig, lead.start), jack_words(rig, lead.end),
            "?" if lead.length_mm is None else number_text(lead.length_mm),
            *(plug.shape + (CROWDED if plug.trouble else "") for plug in lead.plugs), *_tests(lead),
        )
        for lead in leads
    )  # fmt: skip
    blocks: list[Block] = [trimmed(Table("Patch leads", LEADS, rows))]
    for lead in leads:
        for plug, jack in zip(lead.plugs, (lead.start, lead.end)):
            if plug.trouble:
                told = no_room(rig, jack.box, [jack.name], plug)
                blocks.append(Para(f"! Lead {lead.number}: {told}.", "strong"))
    if any(lead.length_mm is None for lead in leads):
        blocks.append(Para(f"? means that the length is not known: {NO_LENGTH}."))
    blocks.append(
        Para("Tests: tip to tip closed, sleeve to sleeve closed, tip to sleeve open.", "small")
    )
    return Part(tuple(blocks), "Patch leads and their tests")


def _tests(lead: Lead) -> tuple[str, str, str, str]:
    """What is recorded, or a box to tick."""
    row = lead.record
    if row is None:
        return BOX, BOX, BOX, ""
    ohms = "" if row.ohms is None else number_text(row.ohms)
    return (_tick(row.tip, "closed"), _tick(row.sleeve, "closed"), _tick(row.across, "open"), ohms)


def _tick(contact: Contact | None, right: Contact) -> str:
    return BOX if contact is None else "ok" if contact == right else f"{contact.upper()}!"


def _cuts(rig: Rig) -> Part:
    plan = plan_of(rig)
    blocks: list[Block] = []
    rows = tuple(row for cut in plan.cuts for row in _rows_of(rig, cut))
    if rows:
        blocks.append(Table("Cutting list", CUTS, rows))
        proof = "the least possible" if plan.proved else f"at least {mm(plan.bound_mm)}"
        blocks.append(Para(f"Waste {mm(plan.waste_mm)}, {proof}."))
    if plan.missing:
        short = sum(length for _, length in plan.missing)
        named = ", ".join(f"{number} ({mm(length)})" for number, length in plan.missing)
        blocks.append(Para(f"You have no cable for: {named}; {mm(short)} in all.", "strong"))
    if not blocks:
        blocks.append(Para(f"No lead has a length yet: {NO_LENGTH}."))
    return Part(tuple(blocks), "Cutting list")


def _rows_of(rig: Rig, cut: Cut) -> Iterator[tuple[str, ...]]:
    """A row for each lead with the mark on the cable at which it ends, and one for the rest."""
    at = rig.bench.trim_mm
    name = f"{cut.stock}, {mm(cut.length_mm)}"
    if at:
        yield BOX, name, "trim", number_text(at), number_text(at)
        name = ""
    for number, length in cut.pieces:
        at += length
        yield BOX, name, f"lead {number}", number_text(length), number_text(round(at, 1))
        at += rig.bench.kerf_mm
        name = ""
    kept = "keep the rest" if cut.kept else "rest, waste" if cut.rest_mm else "nothing left"
    yield "", name, kept, number_text(round(cut.rest_mm, 1)), ""


def _work(rig: Rig, leads: tuple[Lead, ...]) -> Part:
    sizes = plug_sizes(rig)
    have = {row.shape: row.have for row in rig.plugs}
    plugs = tuple(
        (BOX, str(number), PLUG_NAMES[shape], str(have.get(shape, 0)),
         number_text(sizes[shape].strip))
        for shape, number in plugs_to_buy(rig, leads).items()
    )  # fmt: skip
    columns = (Column("got", "boxes"), Column("to buy"), Column("plug"), Column("at hand"),
               Column("strip mm"))  # fmt: skip
    steps = tuple((BOX, str(at), step) for at, step in enumerate(STEPS, 1))
    minutes = minutes_for(rig, known_leads(rig))
    return Part(
        (
            Table(f"Plugs, with {SPARES} spare of each", columns, plugs),
            Table("The work in order", WORK, steps),
            Para(f"{minutes:.0f} minutes at your pace."),
            Para(SOLDERING, "caution"),
        ),
        "Plugs and the work",
    )  # fmt: skip


def _labels(rig: Rig, leads: tuple[Lead, ...]) -> Part:
    """Labels for both ends of each lead, to cut out."""
    texts = [
        f"{lead.number} {jack_words(rig, jack)}"
        for lead in leads
        for jack in (lead.start, lead.end)
    ]
    texts += [""] * (-len(texts) % LABELS_A_ROW)
    rows = tuple(tuple(texts[at : at + LABELS_A_ROW]) for at in range(0, len(texts), LABELS_A_ROW))
    heads = ("one end", "other end") * (LABELS_A_ROW // 2)
    table = Table("Labels", tuple(Column(head) for head in heads), rows)
    note = Para(
        "Cut out the labels. Each shows the lead's number and the jack for that end.", "small"
    )
    return Part((note, table), "Labels for both ends")
