"""How the docs are built: Markdown, four kinds, warnings as errors (tests/house/test_docs.py)."""

from asfound import __version__

project = "asfound"
author = "the asfound founders"
copyright = "2026, the asfound founders"  # noqa: A001 - Sphinx's own name
release = __version__
extensions = ["myst_parser"]
myst_enable_extensions = ["deflist"]
myst_heading_anchors = 3
exclude_patterns = ["_build"]
html_theme = "alabaster"
html_theme_options = {"description": "Measure, weigh, choose, plan, make, account."}
html_show_sourcelink = False
nitpicky = True
