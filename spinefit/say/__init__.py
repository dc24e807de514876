"""How is the answer said to people and machines?

All wording and all writers. `build.build_report` gathers the stages' results into a
`model.Report`; each writer (terminal, as_json, checklist, junit) is a module loaded where it is
used. A report computes nothing.
"""
