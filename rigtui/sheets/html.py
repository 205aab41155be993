"""A sheet as one HTML file that needs nothing else, prints well, and reads well aloud.

Colours keep a contrast of 7 or more with their ground (WCAG 2.2, level AAA); nothing is told by
colour alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.paper.content import (
    BOX,
    Block,
    Heading,
    Lines,
    Para,
    Part,
    Picture,
    Sheet,
    Table,
    pieces,
)
from rigtui.sheets.sizes import CAP_HEIGHT, Paper, Type, type_for
from rigtui.sheets.svg import marked_up, svg
from rigtui.sheets.words import made_on

INK, GROUND, SOFT, SHADE = "#000000", "#ffffff", "#444444", "#e6e6e6"
PAGE_SIZES: dict[Paper, str] = {"a4": "A4", "letter": "letter"}
TICK_BOX = "☐"


def html(sheet: Sheet, paper: Paper = "a4", distance_m: float | None = None) -> str:
    """Return a sheet as a whole HTML page.

    Args:
        sheet: What stands on it.
        paper: What it will be printed on.
        distance_m: Reading distance in metres; None for what is usual for such a sheet.
    """
    type_ = type_for(sheet, distance_m)
    body = "\n".join(line for part in sheet.parts for line in _part(part))
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{marked_up(sheet.title) or "Sheet"}</title>
<style>{_style(sheet, PAGE_SIZES[paper], type_)}</style>
</head>
<body>
<header>
<h1>{marked_up(sheet.title)}</h1>
<p>{marked_up(sheet.subtitle)}</p>
</header>
<main>
{body}
</main>
<footer>
<p class="small">{made_on(sheet)}; {type_.statement}</p>
</footer>
</body>
</html>
"""


def _style(sheet: Sheet, page_size: str, type_: Type) -> str:
    # Whatever font the reader has, its capitals come out as high as the sheet states.
    return f"""
:root {{ color-scheme: light; font-size-adjust: cap-height {CAP_HEIGHT:.3f}; }}
body {{ background: {GROUND}; color: {INK}; font: {type_.body:.1f}pt/1.3 "DejaVu Sans", Verdana,
  sans-serif; margin: 1.5em auto; max-width: 64em; padding: 0 1em; overflow-wrap: anywhere; }}
h1 {{ font-size: 1.8em; margin: 0; }}
h2 {{ font-size: 1.4em; margin: 1.2em 0 .3em; border-bottom: 2px solid {INK}; }}
h3 {{ font-size: 1.2em; margin: 1em 0 .2em; }}
p {{ margin: .3em 0; white-space: pre-line; }}
table {{ border-collapse: collapse; width: 100%; margin: .4em 0 1em; overflow-wrap: normal; }}
caption {{ position: absolute; width: 1px; height: 1px; overflow: hidden;
  clip-path: inset(50%); white-space: nowrap; }}
th, td {{ border: 1px solid {INK}; padding: .2em .4em; text-align: left; vertical-align: top; }}
th {{ font-weight: normal; }}
thead th {{ background: {SHADE}; }}
.strong, .strong > *, .strong > tr > * {{ font-weight: bold; }}
tr.strong > *, tbody.strong > tr > * {{ background: {SHADE}; }}
.pieces strong {{ border: 1px solid {INK}; padding: 0 .15em; }}
.boxes {{ white-space: nowrap; }}
.far h3, .far tbody .big {{ font-size: {type_.big:.1f}pt; line-height: 1.15; }}
.far h3 {{ font-weight: bold; margin: .4em 0 0; }}
.far p, .far td, .far th {{ font-size: {type_.under:.1f}pt; }}
.far table {{ border-top: 1px solid {INK}; }}
.far th, .far td {{ border: 0; padding: 1pt 4pt; vertical-align: baseline; }}
.far thead th {{ font-size: 9pt; line-height: 1.15; }}
.far tbody {{ border-top: 1px solid {INK}; }}
.far .under td {{ padding-top: 0; }}
.press {{ font-weight: bold; }}
p.small {{ color: {SOFT}; font-size: {min(type_.body, 9):.1f}pt; }}
.caution {{ border: 2px solid {INK}; padding: .5em .7em; }}
.write {{ border-bottom: 1px solid {INK}; height: 2.2em; }}
@page {{ size: {page_size}; margin: 12mm 10mm 16mm;
  @bottom-left {{ content: "{made_on(sheet)}"; font: 8pt sans-serif; }}
  @bottom-right {{ content: "page " counter(page) " of " counter(pages); font: 8pt sans-serif; }}
}}
@media print {{
  body {{ margin: 0; max-width: none; padding: 0; }}
  .part {{ break-inside: avoid; }}
  .page {{ break-before: page; }}
  tr, .far tbody {{ break-inside: avoid; }}
  thead {{ display: table-header-group; }}
  h2, h3 {{ break-after: avoid; }}
}}
"""


def _part(part: Part) -> Iterator[str]:
    names = [name for name, on in (("page", part.new_page), ("far", part.big)) if on]
    # A section is something with a heading; what has none is a plain division.
    tag = "section" if part.title or any(isinstance(b, Heading) for b in part.blocks) else "div"
    yield f'<{tag} class="{" ".join(["part", *names])}">'
    if part.title:
        yield f"<h2>{marked_up(part.title)}</h2>"
    for block in part.blocks:
        yield from _block(block, part.big)
    yield f"</{tag}>"


def _block(block: Block, big: bool) -> Iterator[str]:
    match block:
        case Heading(text=text):
            yield f"<h3>{marked_up(text)}</h3>"
        case Para(text=text, look=look):
            css = f' class="{look}"' if look else ""
            yield f"<p{css}>{marked_up(text)}</p>"
        case Lines(count=count):
            yield from ['<div class="write"></div>'] * count
        case Picture(drawing=drawing, lines=lines):
            yield f"<figure>{svg(drawing, lines)}</figure>"
        case Table():
            yield from _table(block, big)


def _table(table: Table, big: bool) -> Iterator[str]:
    beside = [at for at, column in enumerate(table.columns) if column.look != "under"]
    yield "<table>"
    yield f"<caption>{marked_up(table.caption)}</caption>"
    heads = "".join(f'<th scope="col">{marked_up(table.columns[at].head)}</th>' for at in beside)
    yield f"<thead><tr>{heads}</tr></thead>"
    if not big:
        yield "<tbody>"
    for at, row in enumerate(table.rows):
        strong = ' class="strong"' if at in table.strong else ""
        cells = "".join(_cell(table, row, column, column == beside[0]) for column in beside)
        if not big:
            yield f"<tr{strong}>{cells}</tr>"
        else:
            yield f"<tbody{strong}>"
            yield f"<tr>{cells}</tr>"
        for under in range(len(table.columns)):
            if under not in beside and row[under]:
                said = f"{table.columns[under].head}: {row[under]}"
                yield f'<tr class="under"><td colspan="{len(beside)}">{marked_up(said)}</td></tr>'
        if big:
            yield "</tbody>"
    yield "</tbody></table>" if not big else "</table>"


def _cell(table: Table, row: tuple[str, ...], at: int, first: bool) -> str:
    column = table.columns[at]
    css: list[str] = [column.look] if column.look in ("big", "boxes", "pieces") else []
    css += ["press"] if column.head == "press" and not row[at].startswith("(") else []
    names = f' class="{" ".join(css)}"' if css else ""
    text = marked_up(row[at])
    if column.look == "pieces":
        text = " ".join(
            f"<strong>{marked_up(piece)}</strong>" if crowded else marked_up(piece)
            for piece, crowded in pieces(row[at])
        )
    if column.look == "boxes":
        text = text.replace(BOX, TICK_BOX)
    return f'<th scope="row"{names}>{text}</th>' if first else f"<td{names}>{text}</td>"
