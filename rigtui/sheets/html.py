"""A sheet as one HTML file that needs nothing else, prints well, and reads well aloud.

Colours keep a contrast of 7 or more with their ground (WCAG 2.x, level AAA); nothing is told by
colour alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from rigtui.model.text import visible
from rigtui.sheets.content import Block, Heading, Lines, Para, Part, Sheet, Table

INK, PAPER, SOFT, SHADE = "#000000", "#ffffff", "#444444", "#e6e6e6"

STYLE = f"""
:root {{ color-scheme: light; }}
body {{ background: {PAPER}; color: {INK}; font: 12pt/1.35 sans-serif; margin: 1.5em auto;
  max-width: 60em; padding: 0 1em; }}
h1 {{ font-size: 1.8em; margin: 0; }}
h2 {{ font-size: 1.4em; margin: 1.2em 0 .3em; border-bottom: 2px solid {INK}; }}
h3 {{ font-size: 1.25em; margin: 1em 0 .2em; }}
h4 {{ font-size: 1.05em; margin: .8em 0 .2em; }}
table {{ border-collapse: collapse; width: 100%; margin: .4em 0 1em; }}
caption {{ position: absolute; width: 1px; height: 1px; overflow: hidden;
  clip-path: inset(50%); white-space: nowrap; }}
th, td {{ border: 1px solid {INK}; padding: .25em .45em; text-align: left; vertical-align: top; }}
thead th {{ background: {SHADE}; }}
tr.strong > * {{ font-weight: bold; background: {SHADE}; }}
table.big td, table.big th {{ font-size: 1.3em; }}
.small, .revision {{ color: {SOFT}; font-size: .9em; }}
.strong {{ font-weight: bold; }}
.caution {{ border: 2px solid {INK}; padding: .5em .7em; }}
.write {{ border-bottom: 1px solid {INK}; height: 2em; }}
@page {{ margin: 12mm; }}
@media print {{
  body {{ margin: 0; max-width: none; padding: 0; }}
  section {{ break-inside: avoid; }}
  section.page {{ break-before: page; }}
  tr {{ break-inside: avoid; }}
  thead {{ display: table-header-group; }}
  h2, h3, h4 {{ break-after: avoid; }}
}}
"""


def html(sheet: Sheet) -> str:
    """Return a sheet as a whole HTML page."""
    body = "\n".join(line for part in sheet.parts for line in _part(part))
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{_text(sheet.title)}</title>
<style>{STYLE}</style>
</head>
<body>
<header>
<h1>{_text(sheet.title)}</h1>
<p>{_text(sheet.subtitle)}</p>
<p class="revision">Revision {sheet.revision}, made on {sheet.day:%d %B %Y}</p>
</header>
<main>
{body}
</main>
</body>
</html>
"""


def _text(text: str) -> str:
    return escape(visible(text, keep="\n"))


def _part(part: Part) -> Iterator[str]:
    yield '<section class="page">' if part.new_page else "<section>"
    if part.title:
        yield f"<h2>{_text(part.title)}</h2>"
    level = 3 if part.title else 2
    for block in part.blocks:
        yield from _block(block, level)
    yield "</section>"


def _block(block: Block, level: int) -> Iterator[str]:
    match block:
        case Heading(text=text):
            yield f"<h{level}>{_text(text)}</h{level}>"
        case Para(text=text, look=look):
            css = f' class="{look}"' if look else ""
            yield f"<p{css}>{_text(text)}</p>"
        case Lines(count=count):
            yield from ['<div class="write"></div>'] * count
        case Table():
            yield from _table(block)


def _table(table: Table) -> Iterator[str]:
    yield '<table class="big">' if table.big else "<table>"
    yield f"<caption>{_text(table.caption)}</caption>"
    yield "<colgroup>"
    whole = sum(table.widths)
    yield "".join(f'<col style="width:{width / whole:.1%}">' for width in table.widths)
    yield "</colgroup>"
    names = [name or f"column {at}" for at, name in enumerate(table.head, 1)]
    if any(table.head):
        cells = "".join(
            f'<th scope="col">{_text(name)}</th>'
            if shown
            else f'<th scope="col" aria-label="{_text(name)}"></th>'
            for name, shown in zip(names, table.head)
        )
        yield f"<thead><tr>{cells}</tr></thead>"
    yield "<tbody>"
    for at, row in enumerate(table.rows):
        css = ' class="strong"' if at in table.strong else ""
        first, *rest = row
        cells = f'<th scope="row">{_text(first)}</th>'
        cells += "".join(f"<td>{_text(cell)}</td>" for cell in rest)
        yield f"<tr{css}>{cells}</tr>"
    yield "</tbody></table>"
