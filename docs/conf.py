"""How the manual is built: Markdown pages, one theme, every broken link an error."""

project = "simengine"
author = "the simengine contributors"
copyright = "the simengine contributors"
extensions = ["myst_parser"]
myst_enable_extensions = ["colon_fence", "deflist", "dollarmath"]
myst_heading_anchors = 4
myst_dmath_allow_labels = True
exclude_patterns = ["scripts", "_build"]
html_theme = "furo"
html_title = "simengine manual"
html_show_sphinx = False
html_copy_source = False
# Links to files of the repository that are not pages of the manual are checked by a test.
suppress_warnings = ["myst.xref_missing_file"]
