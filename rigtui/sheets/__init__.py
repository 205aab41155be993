"""Paper for the floor: sheets described once, written as text, Markdown, HTML and PDF."""
