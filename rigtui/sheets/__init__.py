"""Sheets as files: plain text, Markdown, HTML and PDF of what `rigtui.paper` describes."""
